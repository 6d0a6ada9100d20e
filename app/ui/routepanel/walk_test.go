package routepanel_test

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/app/ui/routepanel"
)

// slope gives the plan of the panel ground that rises by a tenth toward the north,
// without heights in some places.
func (x stood) slope(t *testing.T, void func(geodesy.Grid) bool) {
	t.Helper()
	low, _, _ := x.s.Reader().SheetsGround()
	x.heights(t, func(g geodesy.Grid) float64 { return (g.N - low.N) / 10 }, void)
}

// heights gives the plan of the panel ground by a rule, without heights in some places.
func (x stood) heights(t *testing.T, rule func(geodesy.Grid) float64, void func(geodesy.Grid) bool) {
	t.Helper()
	r := x.s.Reader()
	low, high, ok := r.SheetsGround()
	if !ok {
		t.Fatal("the sheet is not calibrated")
	}
	const step = 20
	tile := &terrain.Tile{
		Name: "slope", System: r.System(), NorthWest: geodesy.Grid{E: low.E, N: high.N}, StepE: step, StepN: step,
		Cols: int((high.E-low.E)/step) + 1, Rows: int((high.N-low.N)/step) + 1, UnitM: 1,
	}
	for row := range tile.Rows {
		for col := range tile.Cols {
			at := geodesy.Grid{E: low.E + step*float64(col), N: high.N - step*float64(row)}
			h := rule(at)
			if void(at) {
				h = math.NaN()
			}
			tile.Heights = append(tile.Heights, float32(h))
		}
	}
	m, err := terrain.NewModel(tile)
	must(t, err)
	must(t, x.s.OpenTerrain(plan.Terrain{Path: "/slope.hgt", SHA256: strings.Repeat("0", 64)}))
	x.s.SetGround(x.s.Plan().Terrain, m)
}

// The arrow keys walk the route leg by leg; the leg is selected, so that the sheet lights
// it up, and its figures are said. Return goes to the sheet.
func TestArrowKeysWalkTheRoute(t *testing.T) {
	x := stand(t, "")
	x.slope(t, func(geodesy.Grid) bool { return false })
	x.WalkProfile()
	legs := x.s.Plan().Legs
	at := func(want int) {
		t.Helper()
		if got := x.s.Plan().LegIndex(x.s.Selection().ID); got != want {
			t.Errorf("leg %d is selected, want %d", got+1, want+1)
		}
	}
	x.w.Key(fyne.KeyRight)
	at(0)
	x.w.Key(fyne.KeyRight)
	at(1)
	if row := x.s.Rows()[1]; !x.w.Shows("Leg 2, " + row.From + " to " + row.To + ": 655 m, climbs 63 m, descends 0 m") { // the leg runs 629 m north
		t.Errorf("the panel says %s", x.words())
	}
	x.w.Key(fyne.KeyEnd)
	at(len(legs) - 1)
	x.w.Key(fyne.KeyRight)
	at(len(legs) - 1)
	x.w.Key(fyne.KeyHome)
	x.w.Key(fyne.KeyLeft)
	at(0)
	if !x.w.Shows("Crags lower than about 15 m do not show") { // 2 × 20 m × tan 20°
		t.Errorf("the panel does not speak of crags: %s", x.words())
	}
	x.w.Key(fyne.KeyReturn)
	if x.w.Canvas().Focused() == nil {
		t.Error("Return did not go to the sheet")
	}
}

// Legs without heights are named; so is what keeps all heights from being known.
func TestGapsOfTheProfileAreSaid(t *testing.T) {
	x := stand(t, "")
	x.ShowSection(routepanel.Profile)
	x.slope(t, func(g geodesy.Grid) bool { return g.N < 743300 }) // leg 1 runs from N 743150 to 743335
	if !x.w.Shows("Hatched: the terrain has no heights under part of leg 1. Count contours there.") {
		t.Errorf("the panel says %s", x.words())
	}
	x.slope(t, func(g geodesy.Grid) bool { return g.N < 743400 })
	if !x.w.Shows("no heights under leg 1, nor under part of leg 2.") {
		t.Errorf("the panel says %s", x.words())
	}
	x.s.SetGround(x.s.Plan().Terrain, nil)
	if !x.w.Shows("has not been read") {
		t.Errorf("without heights the panel says %s", x.words())
	}
	must(t, x.s.RemoveTerrain())
	if !x.w.Shows("The plan has no terrain.") {
		t.Errorf("without terrain the panel says %s", x.words())
	}
}

// While figures are hidden the profile says nothing of heights or lengths.
func TestTheProfileIsConcealed(t *testing.T) {
	x := stand(t, "")
	x.slope(t, func(geodesy.Grid) bool { return false })
	x.s.Select(x.s.Plan().Legs[1].ID)
	x.ShowSection(routepanel.Profile)
	x.Conceal(true)
	if x.w.Shows("655") || x.w.Shows("climbs") || !x.w.Shows("hidden") {
		t.Errorf("the panel says %s", x.words())
	}
}
