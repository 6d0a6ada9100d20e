package headless

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// marksPlan has four marks round NN 250 750: at 60° and 1,000 m, behind it at 240°, and
// two at one position at 24° and 500 m. Their positions are whole metres, worked by hand.
func marksPlan(t *testing.T, day plan.Date) *plan.Plan {
	t.Helper()
	p := plan.New(day).SetTitle("Round the stell")
	for _, m := range []struct {
		name string
		e, n float64
	}{{"Pillar", 225_866, 775_500}, {"Stell", 224_134, 774_500}, {"Cairn", 225_203, 775_457}, {"Kist", 225_203, 775_457}} {
		p = p.AddMark(plan.Mark{ID: p.NextID(plan.OfMark), Name: m.name, Position: plan.Position{
			Grid: geodesy.Grid{E: m.e, N: m.n}, Code: geodesy.EPSG(27700), Origin: plan.Typed, Text: "typed",
		}})
	}
	return p
}

const stand = "E 225000 N 775000"

func identifying(t *testing.T, file string, more ...string) outcome {
	t.Helper()
	return run(t, "", append([]string{"identify", "--plan", file}, more...)...)
}

// marksOf lists the marks of an answer by name.
func marksOf(answer map[string]any) map[string]map[string]any {
	out := map[string]map[string]any{}
	for _, m := range answer["marks"].([]any) {
		out[m.(map[string]any)["mark"].(string)] = m.(map[string]any)
	}
	return out
}

// TestIdentifyJSON: from the reference the pillar lies on the ray, its bearing atan2(866,
// 500) and its distance 1,000 m; the others cannot be it.
func TestIdentifyJSON(t *testing.T) {
	t.Parallel()
	file := savePlan(t, marksPlan(t, outing))
	got := identifying(t, file, "--from", stand, "--bearing", "060 grid", "--json")
	wantCode(t, got, 0)
	o := got.object(t)
	if o["north"] != "grid" || o["bearing_deg"] != 60.0 || o["tolerance_deg"] != 5.0 || o["stopped"] != false || o["from_ref"] == "" {
		t.Errorf("got %v", o)
	}
	first := o["marks"].([]any)[0].(map[string]any)
	if first["mark"] != "Pillar" || first["verdict"] != "likely" {
		t.Errorf("first stands %v", first)
	}
	wantNear(t, "bearing", first["bearing_deg"].(float64), math.Atan2(866, 500)*180/math.Pi, 1e-6)
	wantNear(t, "off", first["off_deg"].(float64), math.Atan2(866, 500)*180/math.Pi-60, 1e-6)
	wantNear(t, "distance", first["distance_m"].(float64), math.Hypot(866, 500), 0.5)
	marks := marksOf(o)
	for _, name := range []string{"Stell", "Cairn", "Kist"} {
		if marks[name]["verdict"] != "cannot" {
			t.Errorf("%s: %v", name, marks[name])
		}
	}
	wantNear(t, "the cairn's off", marks["Cairn"]["off_deg"].(float64), math.Atan2(203, 457)*180/math.Pi-60, 1e-6)
	if together := fmt.Sprint(marks["Cairn"]["together"]); together != "[Kist]" {
		t.Errorf("at the cairn's position: %s", together)
	}
	sum := o["none_chance"].(float64)
	for _, m := range marks {
		sum += m["chance"].(float64)
	}
	wantNear(t, "sum of the chances", sum, 1, 1e-9)
}

// TestIdentifyNorths: the same line said from each north finds the same mark, and the
// bearings come back from the north that was asked.
func TestIdentifyNorths(t *testing.T) {
	t.Parallel()
	file := savePlan(t, marksPlan(t, outing))
	read := sight(t, "27700", stand, "E 225866 N 775500", "--json").object(t)
	for north, key := range map[string]string{"grid": "grid_bearing_deg", "mag": "magnetic_bearing_deg", "true": "true_bearing_deg"} {
		said := read[key].(float64)
		o := identifying(t, file, "--from", stand, "--bearing", fmt.Sprintf("%.6f %s", said, north), "--json").object(t)
		pillar := marksOf(o)["Pillar"]
		if pillar["verdict"] != "likely" || o["north"] != north {
			t.Errorf("%s: %v", north, pillar)
		}
		wantNear(t, north+" off", pillar["off_deg"].(float64), 0, 1e-4)
		wantNear(t, north+" bearing", pillar["bearing_deg"].(float64), said, 1e-4)
	}
	o := identifying(t, file, "--from", stand, "--bearing", "1600 mil grid", "--json").object(t)
	if o["bearing_deg"] != 90.0 {
		t.Errorf("1600 mil: got %v°", o["bearing_deg"])
	}
	full := identifying(t, file, "--from", stand, "--bearing", "360 grid", "--json").object(t)
	if full["bearing_deg"] != 0.0 {
		t.Errorf("360: got %v°", full["bearing_deg"])
	}
}

// TestIdentifyFromAMark: the mark itself has no bearing, and says so; the rest is judged.
func TestIdentifyFromAMark(t *testing.T) {
	t.Parallel()
	file := savePlan(t, marksPlan(t, outing))
	o := identifying(t, file, "--from", "STELL", "--bearing", "060 grid", "--json").object(t)
	marks := marksOf(o)
	own := marks["Stell"]
	for _, key := range []string{"bearing_deg", "off_deg", "off_deg_sigma", "distance_m", "distance_m_sigma", "chance"} {
		if v, there := own[key]; v != nil || !there {
			t.Errorf("the mark itself has %s %v", key, v)
		}
	}
	if own["verdict"] != "none" || marks["Pillar"]["verdict"] != "likely" {
		t.Errorf("got %v and %v", own["verdict"], marks["Pillar"]["verdict"])
	}
	one := marksPlan(t, outing)
	for _, m := range one.Marks[1:] {
		one = one.Remove(m.ID)
	}
	alone := identifying(t, savePlan(t, one), "--from", "Pillar", "--bearing", "060 grid", "--json").object(t)
	if marks := marksOf(alone); len(marks) != 1 || marks["Pillar"]["verdict"] != "none" || alone["none_chance"] != 1.0 {
		t.Errorf("a plan with that mark alone: %v", alone)
	}
}

// TestIdentifyFromANameWithoutAccents: a mark is meant by its name as most keyboards have it.
func TestIdentifyFromANameWithoutAccents(t *testing.T) {
	t.Parallel()
	p := marksPlan(t, outing)
	p = p.AddMark(plan.Mark{ID: p.NextID(plan.OfMark), Name: "Ròp", Position: p.Marks[0].Position})
	file := savePlan(t, p)
	var refs []any
	for _, name := range []string{"Ròp", "rop"} {
		got := identifying(t, file, "--from", name, "--bearing", "240 grid", "--json")
		wantCode(t, got, 0)
		refs = append(refs, got.object(t)["from_ref"])
	}
	if refs[0] != refs[1] || refs[0] == "" {
		t.Errorf("from %v and %v, want the same mark", refs[0], refs[1])
	}
	wantCode(t, identifying(t, file, "--from", "Rap", "--bearing", "240 grid"), 1)
}

func TestIdentifyTable(t *testing.T) {
	t.Parallel()
	got := identifying(t, savePlan(t, marksPlan(t, outing)), "--from", stand, "--bearing", "060 grid")
	wantCode(t, got, 0)
	const want = `from E 225000 N 775000, NN 2500 7500, on 060° grid, ± 5°
Of these only Pillar fits. A feature that has no mark may fit too.

mark           chance  verdict    distance  where it is
Pillar         98 %    likely     1000 m    bears 060° grid, on your bearing: it fits
Cairn          < 1 %   ruled out  500 m     bears 024° grid, 36° left of your bearing: much too near north to be the feature you see
Kist           < 1 %   ruled out  500 m     bears 024° grid, 36° left of your bearing: much too near north to be the feature you see
Stell          < 1 %   ruled out  1000 m    bears 240° grid, exactly behind you: it cannot be the feature you see
none of these  2 %
` + planningAid + "\n"
	if got.out != want || got.err != "" {
		t.Errorf("got\n%s%s\nwant\n%s", got.out, got.err, want)
	}
}

// TestIdentifyOnAStop: whatever speaks against the position stands on the standard
// error and in the JSON; a stop leaves no mark a verdict or a chance.
func TestIdentifyOnAStop(t *testing.T) {
	t.Parallel()
	stopped := 0
	for _, d := range cautionedPlans(t) {
		file := savePlan(t, d.plan)
		got := identifying(t, file, "--from", "One", "--bearing", "060 grid", "--json")
		wantCode(t, got, 0)
		o := got.object(t)
		stop, anyStop := false, false // a stop on the bearing, a stop at all
		for _, list := range append([]any{o["cautions"]}, marksOf(o)["Two"]["cautions"]) {
			for _, c := range list.([]any) {
				c := c.(map[string]any)
				word := map[any]string{"stop": "stop: ", "note": "caution: "}[c["grade"]]
				if !slices.ContainsFunc(strings.Split(got.err, "\n"), func(line string) bool {
					return strings.HasPrefix(line, word) && strings.HasSuffix(line, c["text"].(string))
				}) {
					t.Errorf("%s: the standard error lacks %q:\n%s", d.name, c["text"], got.err)
				}
				anyStop = anyStop || c["grade"] == "stop"
				stop = stop || c["grade"] == "stop" && fmt.Sprint(c["affects"]) != "[latlon]"
			}
		}
		verdict, chance := marksOf(o)["Two"]["verdict"], marksOf(o)["Two"]["chance"]
		if (verdict == "none") != stop || (chance == nil) != stop || o["stopped"] == true && o["none_chance"] != nil {
			t.Errorf("%s: stop %v, verdict %v, chance %v, none %v", d.name, stop, verdict, chance, o["none_chance"])
		}
		table := identifying(t, file, "--from", "One", "--bearing", "060 grid")
		if strings.HasPrefix(table.out, "stop: ") != anyStop || !strings.Contains(table.out, "no verdict") {
			t.Errorf("%s: any stop %v, and the table is\n%s", d.name, anyStop, table.out)
		}
		if stop {
			stopped++
		}
		for _, code := range d.codes {
			switch code {
			case caution.CoarseShift: // of latitude and longitude alone, which are not in the answer
				continue
			case caution.EntersPlantation: // of a leg that is walked: here one looks along a bearing
				continue
			}
			if !strings.Contains(got.out, `"code": "`+string(code)+`"`) {
				t.Errorf("%s: the JSON lacks %s:\n%s", d.name, code, got.out)
			}
		}
	}
	if stopped < 5 {
		t.Errorf("only %d of the plans have a stop", stopped)
	}
}

// TestIdentifyOffTheSheet: a position that no sheet shows is answered, and said.
func TestIdentifyOffTheSheet(t *testing.T) {
	t.Parallel()
	on := identifying(t, "demo", "--from", "NL 2742 4509", "--bearing", "235 grid", "--json")
	off := identifying(t, "demo", "--from", "NL 9742 4509", "--bearing", "235 grid", "--json")
	wantCode(t, off, 0)
	if on.object(t)["from_sheet"] == nil || off.object(t)["from_sheet"] != nil {
		t.Errorf("got the sheets %v and %v", on.object(t)["from_sheet"], off.object(t)["from_sheet"])
	}
	const said = "NL 9742 4509 is on no sheet of this plan"
	if strings.Contains(on.err, "on no sheet") || !strings.Contains(off.err, said) {
		t.Errorf("on the sheet: %q; off it: %q", on.err, off.err)
	}
}

// TestIdentifyWithoutMarks: nothing to compare is an answer of its own.
func TestIdentifyWithoutMarks(t *testing.T) {
	t.Parallel()
	p := plan.New(outing).SetSheet(plan.Sheet{ID: "sheet-1", Picture: "south.png", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700)})
	o := identifying(t, savePlan(t, p), "--from", stand, "--bearing", "060 grid", "--json").object(t)
	if len(o["marks"].([]any)) != 0 || o["none_chance"] != 1.0 || !strings.Contains(o["text"].(string), "nothing to compare") {
		t.Errorf("got %v", o)
	}
}

// Each question that cannot be answered says why and what to type, and answers nothing.
func TestIdentifyRefuses(t *testing.T) {
	t.Parallel()
	file := savePlan(t, marksPlan(t, outing))
	undated := savePlan(t, marksPlan(t, plan.Date{}))
	empty := savePlan(t, plan.New(outing))
	twice := marksPlan(t, outing)
	twin := twice.Marks[0]
	twin.ID, twin.Position.Grid.E = twice.NextID(plan.OfMark), 226_000
	doubled := savePlan(t, twice.AddMark(twin))
	for _, c := range []struct {
		plan, from, bearing string
		more                []string
		code                int
		want                string
	}{
		{file, stand, "060", nil, 2, "060° from which north? Say grid, mag or true"},
		{file, stand, "400 grid", nil, 2, "from 0 to 360"},
		{file, stand, "-1 grid", nil, 2, "from 0 to 360"},
		{file, stand, "that way", nil, 2, `"that way" is not understood`},
		{file, stand, "060 grid", []string{"--tolerance", "0"}, 2, "a tolerance of 0°"},
		{file, stand, "060 grid", []string{"--tolerance", "91"}, 2, "a tolerance of 91°"},
		{file, stand, "060 grid", []string{"--tolerance", "wide"}, 2, "not a plain number"},
		{file, stand, "060 grid", []string{"Cairn"}, 2, `unexpected argument "Cairn"`},
		{file, "Tower", "060 grid", nil, 1, "no mark has that name"},
		{file, "250 750", "060 grid", nil, 1, "the letters are missing"},
		{undated, stand, "060 mag", nil, 1, "date"},
		{empty, stand, "060 grid", nil, 1, "neither marks nor a sheet"},
		{doubled, "Pillar", "060 grid", nil, 1, `2 marks are called "Pillar"`},
		{"no-such.legplan", stand, "060 grid", nil, 1, "no-such.legplan"},
	} {
		got := identifying(t, c.plan, append([]string{"--from", c.from, "--bearing", c.bearing, "--json"}, c.more...)...)
		wantCode(t, got, c.code)
		if got.out != "" || !strings.Contains(got.err, c.want) {
			t.Errorf("%q from %q %q: got %q and %q, want nothing and %q", c.bearing, c.from, c.more, got.out, got.err, c.want)
		}
	}
	for _, args := range [][]string{nil, {"--plan", file}, {"--plan", file, "--from", stand}} {
		got := run(t, "", append([]string{"identify"}, args...)...)
		wantCode(t, got, 2)
		if !strings.Contains(got.err, "give all three") {
			t.Errorf("%q: %s", args, got.err)
		}
	}
}

// TestIdentifyAtTheWidestTolerance: ± 90° is allowed and never names one mark alone.
func TestIdentifyAtTheWidestTolerance(t *testing.T) {
	t.Parallel()
	o := identifying(t, savePlan(t, marksPlan(t, outing)), "--from", stand, "--bearing", "060 grid", "--tolerance", "90", "--json").object(t)
	likely := 0
	for _, m := range marksOf(o) {
		if m["verdict"] == "likely" {
			likely++
		}
	}
	if likely != 3 || o["none_chance"].(float64) < 0.1 {
		t.Errorf("%d marks are likely, none of them %v", likely, o["none_chance"])
	}
}

// TestIdentifyOverTerrain: from the cairn of the demo a summit hides the pass and not the
// wood, and the outflow is too close to call, as visible says; a plan without terrain says
// neither.
func TestIdentifyOverTerrain(t *testing.T) {
	t.Parallel()
	got := identifying(t, "demo", "--from", "Cairn", "--bearing", "235 grid", "--json")
	wantCode(t, got, 0)
	marks := marksOf(got.object(t))
	for name, want := range map[string]any{"Bealach nan Ròp": true, "Wood corner": false, "Lochan outflow": nil, "Cairn": nil} {
		if now := marks[name]["hidden_by_ground"]; now != want {
			t.Errorf("%s: hidden_by_ground is %v, want %v", name, now, want)
		}
	}
	bare := identifying(t, savePlan(t, marksPlan(t, outing)), "--from", stand, "--bearing", "060 grid", "--json").object(t)
	for name, m := range marksOf(bare) {
		if v, there := m["hidden_by_ground"]; v != nil || !there {
			t.Errorf("without terrain %s has hidden_by_ground %v", name, v)
		}
	}
}
