package escape_test

import (
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/pace"
	"legwright/app/plan"
)

// ticked is a plan with every leg of its escape ticked for what it is now.
func ticked(t testing.TB, p *plan.Plan) *plan.Plan {
	t.Helper()
	e := only(t, p)
	return edit(p, func(x *plan.Escape) {
		for i := range x.Legs {
			x.Legs[i].Ticks = plan.Ticks{Contours: true, Crags: true, Water: true, End: true, Of: e.Legs[i].Of}
		}
	})
}

// A leg that follows a straight line has its ticks for that: with the line gone it is a compass
// leg over the same ground.
func TestTicksOfALineThatIsGone(t *testing.T) {
	t.Parallel()
	p := walk()
	l, _ := p.LineByID("path")
	l.Points = path(0, -400, 300, -800)
	p = ticked(t, p.SetLine(l))
	if only(t, p).Draft {
		t.Fatal("all is ticked and it is a draft")
	}
	if e := only(t, p.Remove("path")); !e.Draft {
		t.Errorf("its line is gone and it is no draft: %v", e.Legs[1].Cautions)
	}
}

// Ticks take the draft away, all four of each leg; any change of what they were given for
// brings it back, and a change of anything else does not. Taken back, it counts again.
func TestTicksOutliveNoChange(t *testing.T) {
	t.Parallel()
	sheet := plan.Sheet{ID: "sheet-1", Picture: "isle.png", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700)}
	for _, c := range [][4]float64{{200, 200, 398_000, 746_000}, {1800, 1800, 406_000, 738_000}} {
		sheet = sheet.WithPoint(calib.ControlPoint{At: calib.PicturePt{Col: c[0], Row: c[1]}, Ref: geodesy.Grid{E: c[2], N: c[3]}})
	}
	crag := hazard("crag", plan.Crag, false, path(200, -100, 200, -150))
	p := ticked(t, walk().SetSheet(sheet).AddHazard(crag).SetTerrain([]plan.Terrain{{Path: "a.hgt", SHA256: strings.Repeat("a", 64)}}))
	if e := only(t, p); e.Draft || caution.Has(e.Cautions, caution.EscapeDraft) {
		t.Fatalf("all is ticked and it is a draft: %v", e.Cautions)
	}
	south := func(g pace.Ground, fromE float64) *plan.Plan { // beside the path leg, far from the compass leg
		return p.AddArea(area("b", g, path(fromE, -700, fromE+50, -700, fromE+50, -750)))
	}
	moved := sheet
	moved.Points = append([]calib.ControlPoint(nil), sheet.Points...)
	moved.Points[0].Ref.E++
	keep := crag
	keep.KeepM = 51
	for name, c := range map[string]struct {
		p     *plan.Plan
		draft bool
	}{
		"its end moved":                {p.MovePoint("off", 2, plan.AtPosition(at(300, -801))), true},
		"its mark moved":               {p.MovePoint("cairn", 0, plan.AtPosition(at(1, 0))), true},
		"its line moved":               {p.MovePoint("path", 1, plan.AtPosition(at(300, -401))), true},
		"a crag moved":                 {p.MovePoint("crag", 0, plan.AtPosition(at(201, -100))), true},
		"a crag gone":                  {p.Remove("crag"), true},
		"another distance to keep":     {p.SetHazard(keep), true},
		"a crag drawn 400 m away":      {p.AddHazard(hazard("b", plan.Crag, false, path(-400, 0, -400, -50))), true},
		"a crag drawn 600 m away":      {p.AddHazard(hazard("b", plan.Crag, false, path(-600, 0, -600, -50))), false},
		"rough ground 400 m away":      {p.AddArea(area("b", pace.Rough, path(-400, 0, -450, 0, -450, -50))), true},
		"rough ground 600 m away":      {p.AddArea(area("b", pace.Rough, path(-600, 0, -650, 0, -650, -50))), false},
		"an area of path beside it":    {p.AddArea(area("b", pace.Path, path(-100, 0, -150, 0, -150, -50))), false},
		"rough ground beside the path": {south(pace.Rough, 550), false},
		"plantation beside the path":   {south(pace.Plantation, 550), true},
		"plantation far from the path": {south(pace.Plantation, 850), false},
		"another over-steep slope":     {p.SetOverSteep(31), true},
		"other terrain":                {p.SetTerrain([]plan.Terrain{{Path: "a.hgt", SHA256: strings.Repeat("b", 64)}}), true},
		"terrain in feet":              {p.SetTerrain([]plan.Terrain{{Path: "a.hgt", SHA256: strings.Repeat("a", 64), Feet: true}}), true},
		"the same terrain, cut":        {p.SetTerrain([]plan.Terrain{{Path: "a-cut.asc", SHA256: strings.Repeat("c", 64), Code: geodesy.EPSG(4326), CutFrom: strings.Repeat("a", 64)}}), false},
		"other terrain, cut":           {p.SetTerrain([]plan.Terrain{{Path: "a-cut.asc", SHA256: strings.Repeat("a", 64), CutFrom: strings.Repeat("b", 64)}}), true},
		"no terrain":                   {p.SetTerrain(nil), true},
		"another calibration":          {p.SetSheet(moved), true},
		"one leg more":                 {edit(p, func(e *plan.Escape) { e.Legs = append(e.Legs, plan.EscapeLeg{To: plan.AtPosition(at(400, -800))}) }), true},
		"a leg along no line":          {edit(p, func(e *plan.Escape) { e.Legs[1].Along = "" }), true},
		"reversed":                     {edit(p, func(e *plan.Escape) { *e = e.Reversed() }), true},
		"reversed twice":               {edit(p, func(e *plan.Escape) { *e = e.Reversed().Reversed() }), false},
		"one tick taken away":          {edit(p, func(e *plan.Escape) { e.Legs[0].Ticks.Water = false }), true},
		"ticked for something else":    {edit(p, func(e *plan.Escape) { e.Legs[0].Ticks.Of = e.Legs[1].Ticks.Of }), true},
		"another name":                 {p.Rename("off", "Down the burn"), false},
		"another day":                  {p.SetDate(plan.Date{Year: 2027, Month: 1, Day: 2}), false},
		"another end of the route":     {p.MovePoint("col", 0, plan.AtPosition(at(1100, 0))), false},
	} {
		if e := only(t, c.p); e.Draft != c.draft || caution.Has(e.Cautions, caution.EscapeDraft) != c.draft {
			t.Errorf("%s: draft %v, want %v", name, e.Draft, c.draft)
		}
	}
}
