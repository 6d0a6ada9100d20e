package escape_test

import (
	"math"
	"slices"
	"testing"

	"legwright/app/caution"
	"legwright/app/pace"
	"legwright/app/plan"
)

func area(id plan.ID, g pace.Ground, points []plan.Position) plan.Area {
	return plan.Area{ID: id, Ground: g, Points: points}
}

// along is walk with another kind of line for its second leg.
func along(k plan.LineKind) *plan.Plan {
	p := walk()
	l, _ := p.LineByID("path")
	l.Kind = k
	return p.SetLine(l)
}

// Rough ground slows what is walked on the compass, or along a wall, to six tenths of 3 and of
// 4 km/h (common practice, no source): 100 m of it take 1.33 and 1 min more. A path has its own
// ground, and no area makes a tired party faster.
func TestGroundTakesTime(t *testing.T) {
	t.Parallel()
	const onM = 100.04 // 100 m of the grid on the ground
	south, east := path(-50, -100, 50, -100, 50, -200, -50, -200), path(100, -450, 200, -450, 200, -350, 100, -350)
	for name, c := range map[string]struct {
		p    *plan.Plan
		a    plan.Area
		more float64
	}{
		"rough, on the compass":    {walk(), area("a", pace.Rough, south), onM / 3000 * 60 * (1/0.6 - 1)},
		"rough, along the path":    {walk(), area("a", pace.Rough, east), 0},
		"rough, along a wall":      {along(plan.WallLine), area("a", pace.Rough, east), onM / 4000 * 60 * (1/0.6 - 1)},
		"path, on the compass":     {walk(), area("a", pace.Path, south), 0},
		"off path, on the compass": {walk(), area("a", pace.OffPath, south), 0},
		"plantation, on the path":  {walk(), area("a", pace.Plantation, east), 0},
	} {
		if more := only(t, c.p.AddArea(c.a)).Minutes - only(t, c.p).Minutes; math.Abs(more-c.more) > 0.001 {
			t.Errorf("%s: %.4f min more, want %.4f", name, more, c.more)
		}
	}
}

// In the dark the same metres take longer still: 2.5 km/h on both.
func TestGroundInTheDark(t *testing.T) {
	t.Parallel()
	rough := area("a", pace.Rough, path(-50, -100, 50, -100, 50, -200, -50, -200))
	more := only(t, walk().AddArea(rough)).DarkMinutes - only(t, walk()).DarkMinutes
	if want := 100.04 / 2500 * 60 * (1/0.6 - 1); math.Abs(more-want) > 0.001 {
		t.Errorf("%.4f min more, want %.4f", more, want)
	}
}

// Through plantation no compass leg goes, nor one along a wall: a stop without a time, so without a
// turn-back time. A path, a track or a road leads through, with a note.
func TestThroughPlantation(t *testing.T) {
	t.Parallel()
	south, east := path(-50, -100, 50, -100, 50, -200, -50, -200), path(100, -450, 200, -450, 200, -350, 100, -350)
	for name, c := range map[string]struct {
		p    *plan.Plan
		at   []plan.Position
		want caution.Code
	}{
		"on the compass": {walk(), south, caution.EntersPlantation},
		"along a wall":   {along(plan.WallLine), east, caution.EntersPlantation},
		"along a path":   {walk(), east, caution.LineInPlantation},
		"along a road":   {along(plan.RoadLine), east, caution.LineInPlantation},
		"beside":         {walk(), path(10, -100, 50, -100, 50, -200), ""},
	} {
		j := judged(t, c.p.AddArea(area("wood", pace.Plantation, c.at)))
		e := j.Escapes[0]
		stop := c.want == caution.EntersPlantation
		if got := caution.Has(e.Cautions, c.want); c.want != "" && !got || caution.Has(e.Cautions, caution.EntersPlantation) != stop || math.IsNaN(e.Minutes) != stop || j.Stages[0].TurnBack.IsZero() != stop {
			t.Errorf("%s: %v, %v min, turn back at %v", name, about(e.Cautions), e.Minutes, j.Stages[0].TurnBack)
		}
		if i := slices.IndexFunc(e.Cautions, func(k caution.Caution) bool { return k.Code == c.want }); c.want != "" && (i < 0 || e.Cautions[i].Stop() != stop) {
			t.Errorf("%s: caution %d of %v", name, i, e.Cautions)
		}
	}
}
