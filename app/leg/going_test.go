package leg

import (
	"math"
	"strings"
	"testing"
	"time"

	"legwright/app/geodesy"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// ridgePlan is a plan with one leg over a ridge at E 228500, 500 m high, whose sides fall
// 200 m in a kilometre, and its terrain, which ends at E 230000.
func ridgePlan(t *testing.T) (*plan.Plan, *terrain.Model) {
	t.Helper()
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
	p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 28}).AddLeg(plan.Leg{
		ID: "a", From: plan.AtPosition(typed(27700, 227500, 744500)), To: plan.AtPosition(typed(27700, 229500, 744500)),
	})
	return p.SetTerrain([]plan.Terrain{{Path: "ridge.asc", SHA256: strings.Repeat("a", 64)}}), model
}

// A leg is walked as the ledger says, and another line between the same ends as the same
// rule makes of its ground: 2 km at 4 km/h and 200 m of climb at 10 min a 100 m are 50
// min. Of a line that leaves the terrain, or without any, nothing is known.
func TestGoingOfALine(t *testing.T) {
	t.Parallel()
	p, model := ridgePlan(t)
	r := readerOf(t, p).Over(model)
	from, to := typed(27700, 227500, 744500), typed(27700, 229500, 744500)
	for _, id := range []plan.ID{"a", ""} {
		g, err := r.Going(id, from, to)
		if err != nil || math.Abs(g.Climb.M-200) > 0.5 || math.Abs(g.Descent.M-200) > 0.5 || g.Climb.From != RiseTerrain || math.Abs(g.Time.Minutes()-50) > 0.2 {
			t.Errorf("line %q: got %+v, %v, want 200 m up, 200 m down, 50 min", id, g, err)
		}
	}
	if g, err := r.Going("", from, typed(27700, 231000, 744500)); err != nil || g.Climb.Known() || g.Time != 0 {
		t.Errorf("beyond the terrain: got %+v, %v, want nothing", g, err)
	}
	if g, err := r.Over(nil).Going("", from, to); err != nil || g.Climb.Known() || g.Time != 0 {
		t.Errorf("without terrain: got %+v, %v, want nothing", g, err)
	}
	if _, err := r.Going("", from, from); err == nil {
		t.Error("to the position itself: no error")
	}
}

// A ridge hides what is behind it from a person who stands before it, and not from one on
// it; where terrain ends there is no answer.
func TestSightOverARidge(t *testing.T) {
	t.Parallel()
	p, model := ridgePlan(t)
	r := readerOf(t, p).Over(model)
	before, on, behind, beyond := typed(27700, 227500, 744500), typed(27700, 228500, 744500), typed(27700, 229500, 744500), typed(27700, 231000, 744500)
	if s, ok := r.Sight(before, behind); !ok || s.Visible || math.Abs(s.AlongM-1000) > 15 {
		t.Errorf("behind the ridge: got %+v, %v, want hidden at 1000 m", s, ok)
	}
	if s, ok := r.Sight(on, behind); !ok || !s.Visible {
		t.Errorf("from the ridge: got %+v, %v, want visible", s, ok)
	}
	if s, ok := r.Sight(before, beyond); ok {
		t.Errorf("beyond the terrain: got %+v, want no answer", s)
	}
	if s, ok := r.Over(nil).Sight(before, on); ok {
		t.Errorf("without terrain: got %+v, want no answer", s)
	}
}

// A line that is not a leg takes as long as the leg between the same ends over what is drawn on the
// ground: half of the 2 km on rough ground take 10 min more, and through plantation nobody gets.
func TestGoingOverAreas(t *testing.T) {
	t.Parallel()
	p, model := ridgePlan(t)
	for g, want := range map[pace.Ground]float64{pace.Rough: 60, pace.Plantation: 0} {
		a := plan.Area{ID: "area-1", Ground: g}
		for _, xy := range [][2]float64{{228000, 744000}, {229000, 744000}, {229000, 745000}, {228000, 745000}} {
			a.Points = append(a.Points, typed(27700, xy[0], xy[1]))
		}
		r := readerOf(t, p.AddArea(a)).Over(model)
		for _, id := range []plan.ID{"a", ""} {
			got, err := r.Going(id, typed(27700, 227500, 744500), typed(27700, 229500, 744500))
			if err != nil || math.Abs(got.Time.Minutes()-want) > 0.2 {
				t.Errorf("%s, line %q: %v, %v, want %v min", g, id, got.Time, err, want)
			}
		}
	}
}
