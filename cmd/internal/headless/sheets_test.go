package headless

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// panelPlan is a plan of two panels, the first checked and the second upside
// down, with a leg from one to the other and one to a typed position. By hand:
// Cairn is at E 54 500, N 798 500, Ford at E 57 000, N 803 000.
func panelPlan(t *testing.T) *plan.Plan {
	t.Helper()
	at := func(col, row, e, n float64) calib.ControlPoint {
		return calib.ControlPoint{At: calib.PicturePt{Col: col, Row: row}, Ref: geodesy.Grid{E: e, N: n}}
	}
	south := plan.Sheet{
		ID: "sheet-1", Picture: "maps/south.png", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700),
		Points: []calib.ControlPoint{at(200, 200, 51_000, 799_000), at(1800, 1800, 59_000, 791_000), at(200, 1800, 51_000, 791_000)},
	}
	south = received(t, received(t, south, 1052, 374), 1500, 1100)
	north := plan.Sheet{
		ID: "sheet-2", Picture: "maps/north.png", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700),
		Points: []calib.ControlPoint{at(250, 250, 58_000, 801_000), at(1750, 1750, 52_000, 807_000), at(250, 1750, 58_000, 807_000)},
	}
	p := plan.New(outing).SetTitle("Panels").SetSheet(south).SetSheet(north)
	for i, m := range []struct {
		name     string
		sheet    plan.Sheet
		col, row float64
	}{{"Cairn", south, 900, 300}, {"Ford", north, 500, 750}} {
		c, err := m.sheet.Calibration()
		if err != nil {
			t.Fatal(err)
		}
		p = p.AddMark(plan.Mark{ID: p.NextID(plan.OfMark), Name: m.name, Position: plan.PickedAt(m.sheet, c, calib.PicturePt{Col: m.col, Row: m.row}, 0.5)})
		if i == 1 {
			p = p.AddLeg(plan.Leg{ID: p.NextID(plan.OfLeg), From: plan.AtMark(p.Marks[0]), To: plan.AtMark(p.Marks[1])})
		}
	}
	typed := plan.Position{Grid: geodesy.Grid{E: 55_000, N: 798_000}, Code: geodesy.EPSG(27700), Origin: plan.Typed, Text: "55000 798000"}
	return p.AddLeg(plan.Leg{ID: p.NextID(plan.OfLeg), From: plan.AtMark(p.Marks[0]), To: plan.AtPosition(typed)})
}

func TestLegsOfSeveralSheets(t *testing.T) {
	t.Parallel()
	name := savePlan(t, panelPlan(t)) // its pictures are not there, and need not be
	got := run(t, "", "legs", name, "--json")
	wantCode(t, got, exitDone)
	var legs []map[string]any
	if err := json.Unmarshal([]byte(got.out), &legs); err != nil || len(legs) != 2 {
		t.Fatalf("got %v: %s", err, got.out)
	}
	if legs[0]["from_sheet"] != "south.png" || legs[0]["to_sheet"] != "north.png" || legs[1]["from_sheet"] != "south.png" || legs[1]["to_sheet"] != nil {
		t.Errorf("sheets %v to %v, %v to %v", legs[0]["from_sheet"], legs[0]["to_sheet"], legs[1]["from_sheet"], legs[1]["to_sheet"])
	}
	if deg, want := legs[0]["grid_bearing_deg"].(float64), math.Atan2(2500, 4500)*180/math.Pi; math.Abs(deg-want) > 1e-6 {
		t.Errorf("bearing %v, want %.7f", deg, want)
	}
	table := run(t, "", "legs", name)
	wantCode(t, table, exitDone)
	for _, want := range []string{"sheet 1: south.png, checked to ± ", "sheet 2: north.png, unchecked", "caution: leg 1: north.png: The sheet is unchecked"} {
		if !strings.Contains(table.out, want) {
			t.Errorf("the table lacks %q:\n%s", want, table.out)
		}
	}
	if strings.Contains(table.out, "south.png: ") {
		t.Errorf("the checked sheet is cautioned:\n%s", table.out)
	}
	if demo := run(t, "", "legs", "demo"); strings.Contains(demo.out, "sheet 1:") {
		t.Errorf("one sheet is listed:\n%s", demo.out)
	}
}

func TestExportOfSeveralSheets(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "x.gpx")
	got := run(t, "", "export", savePlan(t, panelPlan(t)), "--gpx", out)
	wantCode(t, got, exitDone)
	if !strings.Contains(got.out, "2 legs in 2 routes, 2 marks") {
		t.Errorf("said %q", got.out)
	}
	raw, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	if text := string(raw); !strings.Contains(text, "north.png: The sheet is unchecked") || strings.Contains(text, "south.png: ") {
		t.Errorf("the file says:\n%s", text)
	}
}

// A file that puts two sheets of one plan on two grids is refused in words.
func TestSheetsOnTwoGrids(t *testing.T) {
	t.Parallel()
	name := savePlan(t, panelPlan(t))
	raw, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	first := strings.Index(string(raw), `"epsg": 27700`)
	mixed := string(raw[:first]) + `"epsg": 32629` + string(raw[first+len(`"epsg": 27700`):])
	if err := os.WriteFile(name, []byte(mixed), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := run(t, "", "legs", name); got.code != exitFailed || !strings.Contains(got.err, "must be on the same grid") {
		t.Errorf("got %d %q", got.code, got.err)
	}
}
