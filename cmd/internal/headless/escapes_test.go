package headless

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/mapio/gpx"
)

// escapePlan is a plan with a leg from a cairn to a col, and from the cairn an escape of 400 m
// south on the compass and 700 m along a path to a road.
func escapePlan() *plan.Plan {
	at := func(e, n float64) plan.Position {
		return plan.Position{Grid: geodesy.Grid{E: 400_000 + e, N: 743_000 + n}, Code: geodesy.EPSG(27700), Origin: plan.Typed, Text: "typed"}
	}
	p := plan.New(outing)
	timing := p.Timing
	timing.Start, timing.Zone = plan.ClockTime(9, 0), "Europe/London"
	cairn, col := plan.Mark{ID: "cairn", Name: "Cairn", Position: at(0, 0), InCloud: true}, plan.Mark{ID: "col", Name: "Col", Position: at(1000, 0)}
	p = p.SetTiming(timing).AddMark(cairn).AddMark(col).AddLeg(plan.Leg{ID: "leg-1", From: plan.AtMark(cairn), To: plan.AtMark(col)})
	p = p.AddLine(plan.Line{ID: "path", Kind: plan.PathLine, Name: "Peat road", Points: []plan.Position{at(0, -400), at(300, -400), at(300, -800)}})
	p = p.AddHaven(plan.Haven{ID: "road", Kind: plan.RoadHaven, Name: "Glen road", Points: []plan.Position{at(200, -800), at(600, -800)}, Out: plan.Minutes{Known: true, Min: 45}})
	p = p.AddHazard(plan.Hazard{ID: "burn", Kind: plan.Water, Crosses: plan.Ford, KeepM: 20, Points: []plan.Position{at(-100, -200), at(100, -200)}})
	return p.AddEscape(plan.Escape{ID: "off", Start: plan.AtMark(cairn), Chosen: true, Legs: []plan.EscapeLeg{
		{To: plan.AtPosition(at(0, -400)), Climb: plan.Count(0), Descent: plan.Count(100)},
		{To: plan.AtPosition(at(300, -800)), Along: "path", Climb: plan.Count(20), Descent: plan.Count(40)},
	}})
}

// tickAll ticks every leg of the plan's escapes for what it is now.
func tickAll(t *testing.T, p *plan.Plan) *plan.Plan {
	t.Helper()
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, judged := range escape.Of(r).Escapes {
		e, _ := p.EscapeByID(judged.ID)
		e = e.Clone()
		for i := range e.Legs {
			e.Legs[i].Ticks = plan.Ticks{Contours: true, Crags: true, Water: true, End: true, Of: judged.Legs[i].Of}
		}
		p = p.SetEscape(e)
	}
	return p
}

// The minutes are those that app/escape's TestByHand works out by hand.
func TestEscapesJSON(t *testing.T) {
	t.Parallel()
	got := run(t, "", "escapes", savePlan(t, escapePlan()), "--json")
	wantCode(t, got, 0)
	var o struct {
		SnowLying any `json:"snow_lying"`
		Marks     []struct {
			Name     string
			TurnBack string   `json:"turn_back"`
			OffBy    string   `json:"off_by"`
			Stops    []spoken `json:"turn_back_stops"`
			Event    any      `json:"off_by_event"`
			Escapes  []string
		}
		Escapes []struct {
			Name    string
			Draft   bool
			TimeMin float64 `json:"time_min"`
			Dark    float64 `json:"time_in_the_dark_min"`
			Legs    []struct {
				Along     any
				Near      []struct{ Hazard, Kind string }
				Crossings []struct {
					Kind string
					AtM  float64 `json:"at_m"`
				}
				Bearing any `json:"grid_bearing_deg"`
			}
			Cautions []spoken
		}
	}
	if err := json.Unmarshal([]byte(got.out), &o); err != nil || len(o.Escapes) != 1 || len(o.Escapes[0].Legs) != 2 || len(o.Marks) != 2 {
		t.Fatalf("%v: %s", err, got.out)
	}
	e := o.Escapes[0]
	if math.Abs(e.TimeMin-23.84) > 0.005 || math.Abs(e.Dark-31.744) > 0.005 || e.Name != "E01-1" || !e.Draft || o.SnowLying != nil {
		t.Errorf("%+v", e)
	}
	if s := o.Marks[0].Stops; len(s) != 1 || !strings.HasPrefix(s[0].Text, "DRAFT: 2 legs") || o.Marks[1].Stops == nil || len(o.Marks[1].Stops) != 0 {
		t.Errorf("a turn-back time by a draft has the stops %+v", o.Marks)
	}
	if o.Marks[0].Escapes[0] != "E01-1" || !strings.HasPrefix(o.Marks[0].TurnBack, "2026-11-25T14:1") ||
		!strings.HasPrefix(o.Marks[0].OffBy, "2026-11-25T15:") || o.Marks[0].Event != "sunset" || o.Marks[1].Event != nil {
		t.Errorf("marks %+v", o.Marks)
	}
	if e.Legs[0].Along != nil || e.Legs[0].Bearing == nil || e.Legs[1].Along != "Peat road" || e.Legs[1].Bearing != nil {
		t.Errorf("legs %+v", e.Legs)
	}
	if c := e.Legs[0].Crossings; len(c) != 1 || c[0].Kind != "ford" || math.Abs(c[0].AtM-200.08) > 0.01 || e.Legs[0].Near[0].Hazard != "water burn" {
		t.Errorf("leg 1 meets %+v, near %+v", c, e.Legs[0].Near)
	}
	for _, want := range []string{"stop: E01-1: DRAFT: 2 legs to tick.", "The leg fords water burn, 200 m from its start.", "Snow, cornices and avalanches are not judged."} {
		if !strings.Contains(got.err, want) {
			t.Errorf("the standard error lacks %q: %s", want, got.err)
		}
	}
	table := run(t, "", "escapes", savePlan(t, escapePlan()))
	if !strings.HasPrefix(table.out, "stop: E01-1: DRAFT") || !strings.Contains(table.out, "E01-1   DRAFT    Cairn  Glen road  24 min  32 min") || !regexp.MustCompile(`14:1\d DRAFT, from sunset at 15:\d\d\n`).MatchString(table.out) {
		t.Errorf("table:\n%s", table.out)
	}
	free := run(t, "", "escapes", savePlan(t, tickAll(t, escapePlan())))
	if !strings.Contains(free.out, "E01-1   ticked   Cairn") || strings.Contains(free.out, "DRAFT") || strings.Contains(free.out+free.err, "stop") {
		t.Errorf("ticked, it still stops:\n%s%s", free.out, free.err)
	}
}

// A mark that the route passes again has its turn-back time there too, with the stops of the same
// draft; ticked and passed too late the escape is no draft any more, and a stop.
func TestTurnBackOfAMarkPassedTwice(t *testing.T) {
	t.Parallel()
	p := escapePlan()
	p = p.AddLeg(plan.Leg{ID: "leg-2", From: plan.AtMark(p.Marks[1]), To: plan.AtMark(p.Marks[0])})
	timing := p.Timing
	timing.Latest = plan.ClockTime(10, 30)
	for name, c := range map[string]struct {
		p       *plan.Plan
		stops   int
		verdict string
	}{"a draft": {p, 1, "DRAFT"}, "too late": {tickAll(t, p.SetTiming(timing)), 0, "STOP"}} {
		var o struct {
			Marks []struct {
				TurnBack string   `json:"turn_back"`
				Event    string   `json:"off_by_event"`
				Stops    []spoken `json:"turn_back_stops"`
			}
			Escapes []struct{ Verdict string }
		}
		got := run(t, "", "escapes", savePlan(t, c.p), "--json")
		if err := json.Unmarshal([]byte(got.out), &o); err != nil || len(o.Marks) != 3 || len(o.Escapes) != 1 {
			t.Fatalf("%s: %v: %s", name, err, got.out)
		}
		again := o.Marks[2]
		if again.TurnBack == "" || again.TurnBack != o.Marks[0].TurnBack || len(again.Stops) != c.stops || o.Escapes[0].Verdict != c.verdict {
			t.Errorf("%s: %+v, %+v", name, o.Marks, o.Escapes)
		}
		if name == "too late" && again.Event != "own latest time" {
			t.Errorf("counted from %q", again.Event)
		}
	}
}

// What is not known is null and never 0: of a leg that cannot be read, and whether an escape is
// in the dark that is left nobody knows when.
func TestEscapesUnknown(t *testing.T) {
	t.Parallel()
	p := escapePlan()
	timing := p.Timing
	timing.Start = plan.TimeOfDay{}
	p = p.SetTiming(timing)
	e := p.Escapes[0].Clone()
	e.Legs[0].To = e.Start
	got := run(t, "", "escapes", savePlan(t, p.SetEscape(e)), "--json")
	wantCode(t, got, 1)
	var o struct {
		Steep   any `json:"over_steep_deg"`
		Escapes []map[string]any
	}
	if err := json.Unmarshal([]byte(got.out), &o); err != nil || len(o.Escapes) != 1 {
		t.Fatalf("%v: %s", err, got.out)
	}
	set := run(t, "", "escapes", savePlan(t, p.SetOverSteep(22)), "--json")
	if o.Steep != nil || !strings.Contains(set.out, `"over_steep_deg": 22`) {
		t.Errorf("over-steep is %v, and set to 22: %s", o.Steep, set.out)
	}
	unread := o.Escapes[0]["legs"].([]any)[0].(map[string]any)
	for _, x := range []struct {
		of   map[string]any
		keys string
	}{
		{unread, "length_m time_min time_in_the_dark_min climb_m descent_m bog_m near crossings"},
		{o.Escapes[0], "time_min time_in_the_dark_min in_the_dark climb_m descent_m climbed_again_m off_a_line_m longest_compass_leg_m"},
	} {
		for _, key := range strings.Fields(x.keys) {
			if v, ok := x.of[key]; !ok || v != nil {
				t.Errorf("%s is %v, want null", key, v)
			}
		}
	}
}

// Escapes go out as routes of their own: a draft says so first in name and description, and
// one that is ticked says neither. An import leaves them out, as routes and as tracks.
func TestEscapesInGPX(t *testing.T) {
	t.Parallel()
	for _, draft := range []bool{true, false} {
		p := escapePlan()
		if !draft {
			p = tickAll(t, p)
		}
		file := filepath.Join(t.TempDir(), "off.gpx")
		got := run(t, "", "export", savePlan(t, p), "--gpx", file, "--track")
		wantCode(t, got, 0)
		if !strings.HasSuffix(got.out, "2 marks, 1 escape\n") || strings.Contains(got.err, "stop: E01-1: DRAFT") != draft {
			t.Errorf("the export says %q, %q", got.out, got.err)
		}
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		d, err := gpx.Read(strings.NewReader(string(raw)))
		if err != nil || len(d.Routes) != 2 || len(d.Tracks) != 2 {
			t.Fatalf("%v: %+v", err, d)
		}
		if d.Routes[0].Escape || d.Tracks[0].Escape || !d.Routes[1].Escape || !d.Tracks[1].Escape {
			t.Error("the route counts as an escape, or the escape as a route")
		}
		r := d.Routes[1]
		if strings.HasPrefix(r.Name, "DRAFT E01-1 ") != draft || !strings.Contains(r.Name, "E01-1 ") || strings.HasPrefix(r.Desc, "STOP: DRAFT") != draft {
			t.Errorf("draft %v: %q, %q", draft, r.Name, r.Desc)
		}
		if len(r.Points) != 4 { // the bend of the path is one
			t.Fatalf("%d points: %+v", len(r.Points), r.Points)
		}
		// The points' own descriptions are read without what this program wrote of stops.
		_, route, _ := strings.Cut(unescaped(string(raw)), "E01-1 ")
		route, _, _ = strings.Cut(route, "</rte>")
		if n := strings.Count(route, "<desc>STOP: DRAFT"); (n == 5) != draft || !draft && n > 0 {
			t.Errorf("draft %v: %d descriptions begin with it: %s", draft, n, route)
		}
		for _, want := range []string{
			"E01-1 leg 1, Cairn to A: 180° grid", "400 m ± 1, 12 min; latest time to leave 14:1", ", counted back from sunset at 15:", "along Peat road, at first east, 700 m, 13 min", "end of E01-1, 24 min in all; Glen road, road; 45 min from there",
			caution.Of(caution.DriftNotJudged).Text(), caution.Of(caution.SnowNotJudged).Text(), "Leg 1: The leg fords water burn",
		} {
			if !strings.Contains(route, want) {
				t.Errorf("draft %v: %q is missing: %s", draft, want, route)
			}
		}
	}
}

// A mark that is reached after its turn-back time stops the escape in the GPX too.
func TestTurnBackPassedInGPX(t *testing.T) {
	t.Parallel()
	p := escapePlan()
	timing := p.Timing
	timing.Start = plan.ClockTime(14, 40)
	file := filepath.Join(t.TempDir(), "late.gpx")
	wantCode(t, run(t, "", "export", savePlan(t, tickAll(t, p.SetTiming(timing))), "--gpx", file), 0)
	raw, err := os.ReadFile(file)
	if err != nil || strings.Count(string(raw), "<desc>STOP: past the turn-back time") != 3 { // of the file, the escape and its start
		t.Errorf("%v: %s", err, raw)
	}
}

// A plan without escapes says so, and needs no terrain.
func TestNoEscapes(t *testing.T) {
	t.Parallel()
	got := run(t, "", "escapes", savePlan(t, routePlan(t, outing)))
	wantCode(t, got, 0)
	if !strings.Contains(got.out, "The plan has no escapes.") {
		t.Errorf("got %q", got.out)
	}
}

// Ticks on the demo's sheet and terrain outlast saving and reading: nothing that they were
// given for is rounded on the way.
func TestTicksOutlastTheFile(t *testing.T) {
	t.Parallel()
	p, _, err := readPlan(demoName)
	if err != nil {
		t.Fatal(err)
	}
	m := p.Marks[len(p.Marks)-1]
	m.InCloud = true
	to := plan.AtMark(p.Marks[0])
	p = p.SetMark(m)
	for _, e := range p.Escapes {
		p = p.Remove(e.ID)
	}
	p = tickAll(t, p.AddEscape(plan.Escape{ID: "off", Start: plan.AtMark(m), Legs: []plan.EscapeLeg{{To: plan.AtPosition(p.Legs[0].To.Position)}, {To: to}}}))
	if len(p.Sheets) == 0 || len(p.Terrain) == 0 {
		t.Fatal("the demo has no sheet or no terrain: nothing is held")
	}
	got := run(t, "", "escapes", savePlan(t, p), "--json")
	if !strings.Contains(got.out, `"draft": false`) || strings.Contains(got.out, `"ticked": false`) {
		t.Errorf("after saving: %d %s", got.code, got.err)
	}
}
