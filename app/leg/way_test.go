package leg

import (
	"math"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// A descent is gentle or steep where the terrain is, not over the whole leg. By hand, at 4 km/h
// with Langmuir's corrections: from a level kilometre the ground falls 300 m over the next one, at
// 16.7°. Over both it would be 8.5°, gentle, and save 10 minutes; it adds 10 to the 30 of the
// flat. Back it is the 30 and 30 of the climb. Where a person counted the descent nobody says where
// it lies: it saves nothing.
func TestSteepEndOfALevelLeg(t *testing.T) {
	t.Parallel()
	tile := &terrain.Tile{
		Name: "brow", System: system(t, 27700), NorthWest: geodesy.Grid{E: 399000, N: 746000}, StepE: 25, StepN: 25, Cols: 121, Rows: 121, UnitM: 1,
	}
	for i := range tile.Cols * tile.Rows {
		tile.Heights = append(tile.Heights, float32(500-0.3*max(25*float64(i%tile.Cols)-1500, 0)))
	}
	model, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	l := plan.Leg{ID: "a", From: plan.AtPosition(typed(27700, 399500, 744500)), To: plan.AtPosition(typed(27700, 401500, 744500))}
	p := with(plan.New(plan.Date{}).AddLeg(l), func(x *plan.Timing) { x.Langmuir = true })
	p = p.SetTerrain([]plan.Terrain{{Path: "brow.asc", SHA256: strings.Repeat("a", 64)}})
	counted := l
	counted.Climb, counted.Descent = plan.Count(0), plan.Count(300)
	for name, c := range map[string]struct {
		p          *plan.Plan
		want, back float64
	}{
		"by the terrain": {p, 40, 60},
		"counted":        {p.SetLeg(counted), 30, 60},
	} {
		row := readerOf(t, c.p).Over(model).Legs()[0]
		rule := c.p.Timing.Rule(c.p.Party)
		if got := row.Time.Minutes(); math.Abs(got-c.want) > 0.2 { // the grid is 0.4 m short in a kilometre
			t.Errorf("%s: %.2f min, want %g", name, got, c.want)
		}
		if got := row.Back().Minutes(rule, l.Ground); math.Abs(got-c.back) > 0.2 {
			t.Errorf("%s, back: %.2f min, want %g", name, got, c.back)
		}
	}
}
