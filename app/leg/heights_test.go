package leg

import (
	"math"
	"strings"
	"testing"
	"time"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// TestHeightsOfARoute: over a ridge the climb and descent of each leg come from the terrain, a leg that leaves
// it has none and says so, and a plan without terrain says nothing.
func TestHeightsOfARoute(t *testing.T) {
	t.Parallel()
	tile := &terrain.Tile{
		Name: "ridge", System: system(t, 27700), NorthWest: geodesy.Grid{E: 227000, N: 746000}, StepE: 25, StepN: 25, Cols: 121, Rows: 121, UnitM: 1,
	}
	for i := range tile.Cols * tile.Rows {
		tile.Heights = append(tile.Heights, float32(500-0.2*math.Abs(25*float64(i%tile.Cols)-1500)))
	}
	model, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 28})
	for i, ends := range [][2]float64{{227500, 228500}, {228500, 229500}, {229500, 231000}} {
		p = p.AddLeg(plan.Leg{
			ID:   plan.ID(string(rune('a' + i))),
			From: plan.AtPosition(typed(27700, ends[0], 744500)), To: plan.AtPosition(typed(27700, ends[1], 744500)),
		})
	}
	if row := readerOf(t, p).Legs()[0]; row.ClimbKnown() || row.HasEnd || row.HeightCautions != nil {
		t.Errorf("without terrain: got %+v", row.Heights)
	}
	p = p.SetTerrain([]plan.Terrain{{Path: "ridge.asc", SHA256: strings.Repeat("a", 64)}})
	before := readerOf(t, p)
	if row := before.Legs()[0]; !caution.Has(row.HeightCautions, caution.NoTerrain) {
		t.Errorf("terrain not read: got %v, want a caution", row.HeightCautions)
	}
	r := before.Over(model)
	if r.Over(model) != r || before.Over(nil) != before {
		t.Error("the same ground makes another reader")
	}
	rows := r.Legs()
	for i, want := range []struct{ up, down, end float64 }{{200, 0, 500}, {0, 200, 300}} {
		h := rows[i].Heights
		if math.Abs(h.Climb.M-want.up) > 0.5 || math.Abs(h.Descent.M-want.down) > 0.5 || math.Abs(h.EndM-want.end) > 0.1 || !h.HasEnd || !h.ClimbKnown() {
			t.Errorf("leg %d: got %+v up, %+v down, end %g, want %+v", i+1, h.Climb, h.Descent, h.EndM, want)
		}
	}
	if h := rows[2].Heights; h.ClimbKnown() || h.HasEnd || !caution.Has(h.HeightCautions, caution.NoTerrain) {
		t.Errorf("leg that leaves the terrain: got %+v", h)
	}
	after, err := r.For(p.SetTitle("Ridge"))
	if err != nil || after.Model() != model || !after.Legs()[0].ClimbKnown() {
		t.Errorf("after an edit: got %v, %v, want the same ground", after.Model(), err)
	}
	if gone := after.Over(nil).Legs()[0]; gone.ClimbKnown() {
		t.Errorf("without the model: got %+v", gone.Heights)
	}
}
