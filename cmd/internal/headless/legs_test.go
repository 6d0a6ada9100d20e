package headless

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/light"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/mapio/planfile"
)

// routePlan is an invented route over the squares of a published route card
// (outdoorleaderonline.org, table 3.1).
func routePlan(t *testing.T, date plan.Date) *plan.Plan {
	t.Helper()
	system, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	p := plan.New(date).SetTitle("Over Corrie Vane")
	var ends []plan.End
	for _, m := range [][2]string{{"Ford", "NN 220 772"}, {"Wether Cairn", "NN 213 758"}, {"Stell", "NN 195 740"}} {
		ref, err := geodesy.ParseRef(m[1], geodesy.RefContext{System: system})
		if err != nil {
			t.Fatal(err)
		}
		mark := plan.Mark{ID: p.NextID(plan.OfMark), Name: m[0], Position: plan.TypedAs(m[1], ref)}
		p = p.AddMark(mark)
		ends = append(ends, plan.AtMark(mark))
	}
	for i := range 2 {
		p = p.AddLeg(plan.Leg{ID: p.NextID(plan.OfLeg), From: ends[i], To: ends[i+1], Name: []string{"to the cairn", "down"}[i], Note: "mind the crag"})
	}
	return p
}

func savePlan(t *testing.T, p *plan.Plan) string {
	t.Helper()
	return savedIn(t, t.TempDir(), p)
}

// savedIn saves a plan in a folder.
func savedIn(t *testing.T, dir string, p *plan.Plan) string {
	t.Helper()
	var b bytes.Buffer
	if err := planfile.Encode(&b, p); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(dir, "route.legplan")
	if err := os.WriteFile(name, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

var outing = plan.Date{Year: 2026, Month: time.November, Day: 25}

// TestLegsJSON: an array of sight objects with name, from and to, equal to what
// the sight command says of the same references.
func TestLegsJSON(t *testing.T) {
	t.Parallel()
	name := savePlan(t, routePlan(t, outing))
	got := run(t, "", "legs", name, "--json")
	wantCode(t, got, 0)
	var legs []map[string]any
	if err := json.Unmarshal([]byte(got.out), &legs); err != nil || len(legs) != 2 {
		t.Fatalf("got %d legs, %v: %s", len(legs), err, got.out)
	}
	for i, want := range []struct{ name, from, to, fromRef, toRef string }{
		{"to the cairn", "Ford", "Wether Cairn", "NN 220 772", "NN 213 758"},
		{"down", "Wether Cairn", "Stell", "NN 213 758", "NN 195 740"},
	} {
		if legs[i]["name"] != want.name || legs[i]["from"] != want.from || legs[i]["to"] != want.to {
			t.Errorf("leg %d: got %v, %v, %v, want %+v", i+1, legs[i]["name"], legs[i]["from"], legs[i]["to"], want)
		}
		one := sight(t, "27700", want.fromRef, want.toRef, "--json").object(t)
		for _, key := range sightKeys {
			a, aIsNumber := legs[i][key].(float64)
			b, bIsNumber := one[key].(float64)
			if aIsNumber != bIsNumber || math.Abs(a-b) > 1e-9 {
				t.Errorf("leg %d %s: got %v, sight says %v", i+1, key, legs[i][key], one[key])
			}
		}
	}
	// Row 1 of the card: dE −700 m, dN −1400 m.
	wantNear(t, "bearing of leg 1", legs[0]["grid_bearing_deg"].(float64), 206.5650512, 1e-6)
	swapped := run(t, "", "legs", "--json", name)
	if swapped.out != got.out {
		t.Error("flags before the plan: output differs")
	}
}

// TestLegsTable: the printed figures close in the head.
func TestLegsTable(t *testing.T) {
	t.Parallel()
	got := run(t, "", "legs", savePlan(t, routePlan(t, outing)))
	wantCode(t, got, 0)
	const want = `Over Corrie Vane, 25 November 2026

leg  from          to            reference   set   grid            GMA      mag            back grid  back mag  point  distance     time            clock  note
1    Ford          Wether Cairn  NN 213 758  205°  207° grid ± 3°  2° east  205° mag ± 4°  027°       025°      SSW    1570 m ± 90  23 min if flat  -      mind the crag
2    Wether Cairn  Stell         NN 195 740  224°  225° grid ± 2°  1° east  224° mag ± 3°  045°       044°      SW     2550 m ± 90  38 min if flat  -      mind the crag

The ± of a bearing covers the map and the magnetic model; your compass adds ± 4°.
caution: leg 1: The bearing is only known to ± 4°. Walk to a catching feature.
` + planningAid + "\n"
	if got.out != want || !strings.HasPrefix(got.err, "caution: leg 1: The bearing is only known to ± 4°.") {
		t.Errorf("got\n%s%s\nwant\n%s", got.out, got.err, want)
	}
}

// TestLegsWithoutMagnetic: a plan for a day outside the model, or without a
// day, keeps its grid figures, has no magnetic ones and says so everywhere.
func TestLegsWithoutMagnetic(t *testing.T) {
	t.Parallel()
	for name, day := range map[string]plan.Date{"none": {}, "after": {Year: 2031, Month: time.May, Day: 1}} {
		file := savePlan(t, routePlan(t, day))
		asJSON := run(t, "", "legs", file, "--json")
		wantCode(t, asJSON, 0)
		var legs []map[string]any
		if err := json.Unmarshal([]byte(asJSON.out), &legs); err != nil {
			t.Fatal(err)
		}
		for i, l := range legs {
			if l["magnetic_bearing_deg"] != nil || l["declination_deg"] != nil || l["grid_bearing_deg"] == nil {
				t.Errorf("%s, leg %d: got %v, want null magnetic figures and a grid bearing", name, i+1, l)
			}
		}
		table := run(t, "", "legs", file)
		for _, text := range []string{asJSON.err, table.err, table.out} {
			if !strings.Contains(text, "all legs: There is no magnetic bearing") || strings.Contains(text, "206°") {
				t.Errorf("%s: got %q, want it said that there is no magnetic bearing", name, text)
			}
		}
	}
}

// TestLegsThatCannotBeRead: the leg's place holds its error, the others are
// answered, and the exit code tells.
func TestLegsThatCannotBeRead(t *testing.T) {
	t.Parallel()
	p := routePlan(t, outing)
	p = p.AddLeg(plan.Leg{ID: p.NextID(plan.OfLeg), From: p.Legs[0].From, To: p.Legs[0].From})
	file := savePlan(t, p)
	got := run(t, "", "legs", file, "--json")
	wantCode(t, got, 1)
	var legs []map[string]any
	if err := json.Unmarshal([]byte(got.out), &legs); err != nil || len(legs) != 3 {
		t.Fatalf("got %v: %s", err, got.out)
	}
	if legs[2]["error"] == nil || legs[2]["grid_bearing_deg"] != nil || legs[1]["error"] != nil {
		t.Errorf("got %s, want an error at leg 3 alone", got.out)
	}
	table := run(t, "", "legs", file)
	if table.code != 1 || !strings.Contains(table.out, "error: ") || !strings.Contains(table.err, "leg 3, Ford to Ford") {
		t.Errorf("table: got %d %q %q, want the error in its place", table.code, table.out, table.err)
	}
}

func TestPlansThatCannotBeRead(t *testing.T) {
	t.Parallel()
	whole, err := os.ReadFile(savePlan(t, routePlan(t, outing)))
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	for _, c := range []struct {
		name string
		data []byte
		says string
	}{
		{"cut off", whole[:len(whole)/2], "ends"},
		{"not JSON", []byte("legs: 3\n"), "not a plan file"},
		{"empty", nil, ""},
		{"another JSON", []byte(`{"format":"something"}`), "not a plan file"},
		{"newer", bytes.Replace(whole, []byte(`"version": 1`), []byte(`"version": 99`), 1), "99"},
	} {
		file := filepath.Join(folder, strings.ReplaceAll(c.name, " ", "-")+".legplan")
		if err := os.WriteFile(file, c.data, 0o600); err != nil {
			t.Fatal(err)
		}
		for _, args := range [][]string{{"legs", file}, {"legs", file, "--json"}} {
			got := run(t, "", args...)
			if got.code != 1 || got.out != "" || !strings.Contains(got.err, c.says) || !strings.Contains(got.err, file) {
				t.Errorf("%s: %v: got %d %q %q, want code 1, the file's name and %q", c.name, args[0], got.code, got.out, got.err, c.says)
			}
		}
	}
	got := run(t, "", "legs", filepath.Join(folder, "none.legplan"))
	if got.code != 1 || !strings.Contains(got.err, "none.legplan") {
		t.Errorf("missing: got %d %q, want code 1 and its name", got.code, got.err)
	}
}

// A plan that names a picture outside its own folder is read, with a caution; the
// picture is not touched.
func TestLegsCautionAboutAPictureOutsideThePlansFolder(t *testing.T) {
	t.Parallel()
	sheet := func(picture string) *plan.Plan {
		return routePlan(t, outing).SetSheet(plan.Sheet{ID: "sheet-1", Picture: picture, Code: geodesy.EPSG(27700)})
	}
	for picture, warned := range map[string]bool{"maps/ground.png": false, "../ground.png": true, "//host/share/ground.png": true, "https://host/ground.png": true} {
		o := run(t, "", "legs", savePlan(t, sheet(picture)))
		if got := strings.Contains(o.err, "outside the plan's folder"); o.code != 0 || got != warned {
			t.Errorf("%s: exit status %d, cautioned %v, want %v: %s", picture, o.code, got, warned, o.err)
		}
	}
}

// Every text, time and reference of a leg stands in the JSON, found by reflection: a
// field that is added to a row must not be left out here.
func TestLegsJSONHoldsTheWholeRow(t *testing.T) {
	t.Parallel()
	p := routePlan(t, outing)
	l := p.Legs[0]
	l.TickOff, l.Catching, l.Note, l.Climb = "a wall", "the ground rises", "boggy", plan.Count(70)
	timing := p.Timing
	timing.Start, timing.Zone = plan.ClockTime(20, 0), "Europe/London"
	reader, err := leg.NewReader(p.SetLeg(l).SetTiming(timing))
	if err != nil {
		t.Fatal(err)
	}
	row := reader.Legs()[0]
	var out bytes.Buffer
	if err := writeJSON(&out, legObjects(reader, []leg.Row{row})); err != nil {
		t.Fatal(err)
	}
	for _, field := range reflect.VisibleFields(reflect.TypeOf(row)) {
		if len(field.Index) > 1 && reflect.TypeOf(row).FieldByIndex(field.Index[:1]).Type == reflect.TypeFor[leg.Heights]() {
			continue // by the field that holds them
		}
		if met := reflect.TypeFor[leg.Met](); field.Type == met || len(field.Index) > 1 && reflect.TypeOf(row).FieldByIndex(field.Index[:1]).Type == met {
			continue // TestLegsJSONHoldsHazards
		}
		want := ""
		switch x := reflect.ValueOf(row).FieldByIndex(field.Index).Interface().(type) {
		case string:
			want = strconv.Quote(x)
		case time.Duration:
			want = fmt.Sprintf(": %d", int(math.Round(x.Seconds())))
		case leg.Reading:
			want = strconv.Quote(x.ToRef)
		case leg.Heights:
			want = fmt.Sprintf(`"climb_m": %g`, x.Climb.M)
			if x.Climb.M == 0 {
				t.Error("the leg climbs nothing: nothing is compared")
			}
		case time.Time:
			want = strconv.Quote(x.Format(time.RFC3339))
		case light.Phase:
			want = strconv.Quote(x.String())
		case []caution.Caution:
			want = strconv.Quote(string(x[0].Code))
		case bool:
			want = fmt.Sprintf("%q: %t", map[string]string{"OrLater": "or_later"}[field.Name], x)
		case leg.Timed:
			continue // its fields follow
		case plan.ID, plan.End, error, nil:
			continue // within the plan only, or what its labels stand for
		default:
			t.Fatalf("%s is a %T: say here how it is written", field.Name, x)
		}
		if !strings.Contains(out.String(), want) {
			t.Errorf("%s is not in the JSON: %s", field.Name, want)
		}
	}
}

// What a leg of the route meets stands in its JSON as in that of an escape: here the burn
// that the cairn's escape fords, which the leg to the col begins 200 m from.
func TestLegsJSONHoldsHazards(t *testing.T) {
	t.Parallel()
	p := escapePlan()
	p = p.MovePoint("leg-1", int(plan.ToEnd), plan.AtPosition(p.Lines[0].Points[0]))
	west := func(north float64) plan.Position { // the leg of the plan runs east
		pos := p.Marks[0].Position
		pos.Grid.E, pos.Grid.N = pos.Grid.E-200, pos.Grid.N+north-25
		return pos
	}
	rough := plan.Area{ID: "area-1", Ground: pace.Rough, Points: []plan.Position{west(0), west(50), west(50), west(0)}}
	for i, eastM := range []float64{100, 100, 200, 200} {
		rough.Points[i].Grid.E += 200 + eastM
	}
	for name, c := range map[string]struct {
		p    *plan.Plan
		text []string
	}{
		"rough":   {escapePlan().AddArea(rough), []string{`"ground": "rough"`, `"from_m": 100.0`, `"to_m": 200.0`}},
		"beside":  {escapePlan(), []string{`"hazard": "water burn"`, `"distance_m": 200.07`, `"crossings": []`}},
		"a slip":  {escapePlan().AddHazard(plan.Hazard{ID: "crag", Kind: plan.Crag, KeepM: 50, Points: []plan.Position{west(0), west(50)}}), []string{`"code": "slip-meets-hazard"`, "A compass mistake (read off the wrong end) would lead you to crag crag."}},
		"through": {p, []string{`"kind": "ford"`, `"at_m": 200.07`, `"code": "crosses-ford"`}},
	} {
		got := run(t, "", "legs", savePlan(t, c.p), "--json")
		for _, want := range c.text {
			if got.code != 0 || !strings.Contains(got.out, want) {
				t.Errorf("%s: no %s: %s", name, want, got.out)
			}
		}
	}
}

// TestCautionsOnceToOneReader: where results and standard error go into one file, each caution
// stands there once; where they go into two, in both.
func TestCautionsOnceToOneReader(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("this command starts no goroutine of its room")
	}
	file := func() *os.File {
		f, err := os.Create(filepath.Join(t.TempDir(), "said.txt"))
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { f.Close() })
		return f
	}
	name := savePlan(t, routePlan(t, outing))
	told := func(f *os.File) int {
		raw, err := os.ReadFile(f.Name())
		if err != nil {
			t.Fatal(err)
		}
		return strings.Count(string(raw), "caution: leg 1: The bearing is only known to")
	}
	one, out, errw := file(), file(), file()
	Run([]string{"legs", name}, nil, one, one)
	Run([]string{"legs", name}, nil, out, errw)
	if told(one) != 1 || told(out) != 1 || told(errw) != 1 {
		t.Errorf("said %d times in one file, and %d and %d in two", told(one), told(out), told(errw))
	}
}
