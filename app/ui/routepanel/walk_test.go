package routepanel_test

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/geodesy"
	"legwright/app/ui/routepanel"
	"legwright/app/ui/uitest"
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
	uitest.Ground(t, x.s, "slope.hgt", 20, 20, func(at geodesy.Grid) float64 {
		if void(at) {
			return math.NaN()
		}
		return rule(at)
	})
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
	if !x.w.Shows("no heights under leg 1, or under part of leg 2.") {
		t.Errorf("the panel says %s", x.words())
	}
	x.s.SetGround(x.s.Plan().Terrain, nil)
	if !x.w.Shows("have not been read") {
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

// Without a leg the words stand where the profile would, and nothing waits there for arrow keys.
func TestProfileWithoutALeg(t *testing.T) {
	x := stand(t, "")
	for _, l := range x.s.Plan().Legs {
		must(t, x.s.Remove(l.ID))
	}
	before := x.w.Canvas().Focused()
	x.WalkProfile()
	if !x.w.Shows("No legs yet. Keep a leg to see its profile here.") {
		t.Errorf("the panel says %s", x.words())
	}
	if now := x.w.Canvas().Focused(); now != before {
		t.Errorf("%T has the focus", now)
	}
	x.s.Undo()
	if x.WalkProfile(); x.w.Canvas().Focused() == before {
		t.Error("with a leg the profile does not take the focus")
	}
}
