package headless

import (
	"fmt"
	"strings"
	"testing"
)

// slipNames lists the slips of an answer in its order.
func slipNames(answer map[string]any) string {
	var names []any
	for _, s := range answer["slips"].([]any) {
		names = append(names, s.(map[string]any)["slip"])
	}
	return strings.TrimSpace(fmt.Sprintln(names...))
}

// Worked by hand from magnetic = grid − GMA, as the army's handbook has it (FM 3-25.26,
// section 6-6, from memory).
func TestSlipJSON(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		right, said, gma, tolerance string
		rightDeg, off               float64
		north                       string
		want                        string
	}{
		{"057 grid", "237 grid", "12 east", "", 57, 180, "grid", "half-turn"},
		{"057 grid", "303 grid", "12 east", "", 57, -114, "grid", "east-for-west anticlockwise"},
		{"057 grid", "123 grid", "", "", 57, 66, "grid", "north-for-south"},
		{"057 grid", "075 grid", "", "", 57, 18, "grid", "digits-swapped"},
		{"057 grid", "047 grid", "", "", 57, -10, "grid", "tens-misread"},
		{"045 mag", "069 mag", "12 east", "", 45, 24, "mag", "gma-wrong-way"},
		{"045 mag", "033 mag", "12 east", "1", 45, -12, "mag", "gma-twice"},
		{"045 mag", "057 mag", "12 east", "1", 45, 12, "mag", "gma-forgotten"},
		// Asked of the map: 057 grid − 12 is 045 mag.
		{"057 grid", "069 mag", "12 east", "", 45, 24, "mag", "gma-wrong-way"},
		{"057 grid", "057 mag", "17 west", "", 74, -17, "mag", "gma-forgotten"},
		// Asked of the compass: 045 mag + 12 is 057 grid.
		{"045 mag", "033 grid", "12 east", "", 57, -24, "grid", "gma-wrong-way"},
		{"057 grid", "327 grid", "12 east", "", 57, -90, "grid", "lines-along-eastings"},
		{"020 mag", "111 mag", "12 east", "", 20, 91, "mag", "lines-along-eastings"},
		{"045 mag", "237 grid", "12 east", "", 57, 180, "grid", "half-turn"},
		{"057 true", "237 true", "", "", 57, 180, "true", "half-turn"},
		{"057 true", "069 true", "12 east", "1", 57, 12, "true", ""},
		{"057 grid", "100 grid", "12 east", "", 57, 43, "grid", ""},
		{"000 grid", "180 grid", "", "", 0, 180, "grid", "half-turn north-for-south"},
		{"360 grid", "350 grid", "", "", 0, -10, "grid", "tens-misread"},
		{"359 grid", "009 grid", "", "", 359, 10, "grid", "tens-misread"},
		{"1600 mil grid", "1700 grid", "", "", 90, 5.625, "grid", "tens-misread"},
		{"063 gon grid", "036 grid", "", "", 56.7, -24.3, "grid", "digits-swapped"},
	} {
		args := []string{"slip", "--right", c.right, "--said", c.said, "--json"}
		if c.gma != "" {
			args = append(args, "--gma", c.gma)
		}
		if c.tolerance != "" {
			args = append(args, "--tolerance", c.tolerance)
		}
		got := run(t, "", args...)
		wantCode(t, got, 0)
		o := got.object(t)
		if o["right_deg"] != c.rightDeg || o["off_deg"] != c.off || o["north"] != c.north || slipNames(o) != c.want || o["is_right"] != false {
			t.Errorf("%q: got right %v, off %v, %v, %q, %v; want %v, %v, %q, %q", args,
				o["right_deg"], o["off_deg"], o["north"], slipNames(o), o["is_right"], c.rightDeg, c.off, c.north, c.want)
		}
		if got.err != "" {
			t.Errorf("%q: the standard error has %q", args, got.err)
		}
	}
}

func TestSlipOfARightAnswer(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ right, said, tolerance, gmaDeg string }{
		{"057 grid", "058.5 grid", "2", "12"},
		{"057 grid", "045 mag", "0", "12"},
		{"000 grid", "360 grid", "0", "12"},
	} {
		o := run(t, "", "slip", "--right", c.right, "--said", c.said, "--tolerance", c.tolerance, "--gma", "12 east", "--json").object(t)
		if o["is_right"] != true || slipNames(o) != "" || fmt.Sprint(o["gma_deg"]) != c.gmaDeg {
			t.Errorf("%v: got %v, want right and no slips", c, o)
		}
	}
}

// What the tolerance hides is listed, and the slips of a GMA that nobody gave are not.
func TestSlipTooSmall(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ gma, tolerance, want string }{
		{"3 east", "2", "gma-twice gma-forgotten"},
		{"12 east", "5", "tens-misread"},
		{"", "5", "tens-misread"},
		{"", "2", ""},
	} {
		args := []string{"slip", "--right", "123 mag", "--said", "200 mag", "--tolerance", c.tolerance}
		if c.gma != "" {
			args = append(args, "--gma", c.gma)
		}
		o := run(t, "", append(args, "--json")...).object(t)
		if got := strings.TrimSpace(fmt.Sprintln(o["too_small"].([]any)...)); got != c.want {
			t.Errorf("GMA %q, tolerance %s: got %q, want %q", c.gma, c.tolerance, got, c.want)
		}
		if (o["gma_deg"] == nil) != (c.gma == "") {
			t.Errorf("GMA %q: got %v", c.gma, o["gma_deg"])
		}
		if table := run(t, "", args...); strings.Contains(table.out, "\nnote ") != (c.want != "") {
			t.Errorf("GMA %q, tolerance %s: the table is\n%s", c.gma, c.tolerance, table.out)
		}
	}
}

func TestSlipTable(t *testing.T) {
	t.Parallel()
	got := run(t, "", "slip", "--right", "057 grid", "--said", "033 mag", "--gma", "12 east")
	wantCode(t, got, 0)
	const want = `right   057° grid, which is 045° mag
said    033° mag: 12° too far north
GMA     12° east
either  The GMA of 12° east was taken off once too often: 045° mag becomes 033° mag.
        Correct once: by hand, or with a compass that has its declination set.
or      The tens on the housing misread: 045° mag becomes 035° mag.
        Read the printed figures on both sides of the index line, then count the lines between them.
`
	if got.out != want {
		t.Errorf("got\n%s\nwant\n%s", got.out, want)
	}
}

// Each wrong question is refused as wrong usage, says why and what to type, and answers
// nothing.
func TestSlipRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--right", "057 grid"}, `--right "057 grid" --said "237 grid"`},
		{[]string{"--said", "057 grid"}, "--right or --said is missing"},
		{[]string{"--right", "057", "--said", "237 grid"}, "is it 057° grid, 057° mag or 057° true?"},
		{[]string{"--right", "057 grid", "--said", "237"}, `--said "237" does not say which north it is from`},
		{[]string{"--right", "400 grid", "--said", "237 grid"}, "from 0 to 360"},
		{[]string{"--right", "-1 grid", "--said", "237 grid"}, "from 0 to 360"},
		{[]string{"--right", "057 grid", "--said", "backwards"}, `--said: "backwards" is not understood`},
		{[]string{"--right", "057 grid", "--said", "045 mag"}, "give --gma too"},
		{[]string{"--right", "057 grid", "--said", "045 true", "--gma", "12 east"}, "give both from the same one"},
		{[]string{"--right", "057 grid", "--said", "045 grid", "--gma", "12"}, "12 east or 12 west"},
		{[]string{"--right", "057 grid", "--said", "045 grid", "--tolerance", "90"}, "give a smaller one"},
		{[]string{"--right", "057 grid", "--said", "045 grid", "--tolerance", "-1"}, "a number from 0 to 90"},
		{[]string{"--right", "057 grid", "--said", "045 grid", "--tolerance", "wide"}, "not a plain number"},
		{[]string{"057"}, `unexpected argument "057"`},
	} {
		got := run(t, "", append([]string{"slip"}, c.args...)...)
		wantCode(t, got, 2)
		if got.out != "" || !strings.Contains(got.err, c.want) {
			t.Errorf("%q: got %q and %q, want nothing and %q", c.args, got.out, got.err, c.want)
		}
	}
}
