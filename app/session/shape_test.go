package session

import (
	"errors"
	"testing"

	"legwright/app/pace"
	"legwright/app/plan"
)

// The distances to keep are common practice, without a source: crag 50 m, water 20 m,
// steep ground 30 m without terrain, others none.
func TestHazardsKeepTheUsualDistance(t *testing.T) {
	t.Parallel()
	a := ready(t)
	want := map[plan.HazardKind]float64{plan.Crag: 50, plan.Steep: 30, plan.Water: 20, plan.Bog: 0, plan.Private: 0}
	for kind, keep := range want {
		id, err := a.AddHazard(kind, true, a.along(100, 200, 300))
		must(t, err)
		if h, _ := a.Plan().HazardByID(id); h.KeepM != keep {
			t.Errorf("%v keeps %v m, want %v", kind, h.KeepM, keep)
		}
	}
}

// A hazard that becomes another kind never keeps less than that kind's usual distance
// unless somebody types it afterwards.
func TestAnotherKindOfHazard(t *testing.T) {
	t.Parallel()
	a := ready(t)
	keep := func(want float64) {
		t.Helper()
		if h, _ := a.Plan().HazardByID(a.pool); h.KeepM != want {
			t.Errorf("keeps %v m, want %v", h.KeepM, want)
		}
	}
	must(t, a.SetCrossing(a.pool, plan.StepOver))
	must(t, a.SetHazardKeep(a.pool, "5"))
	keep(5)
	must(t, a.SetHazardKind(a.pool, plan.Crag))
	keep(50)
	if h, _ := a.Plan().HazardByID(a.pool); h.Crosses != plan.NoCrossing {
		t.Errorf("a crag is crossed by %q", h.Crosses)
	}
	must(t, a.SetHazardKind(a.pool, plan.Bog))
	keep(0)
	must(t, a.SetHazardKind(a.pool, plan.Crag))
	must(t, a.SetHazardKeep(a.pool, "80 metres"))
	must(t, a.SetHazardKind(a.pool, plan.Water))
	keep(80)
	for _, text := range []string{"", "near", "-5", "NaN", "Inf", "1e9"} {
		if err := a.SetHazardKeep(a.pool, text); err == nil {
			t.Errorf("%q is taken as a distance", text)
		}
	}
	keep(80)
}

// A way out that nobody gave is unknown, never 0 minutes.
func TestWayOutOfAHaven(t *testing.T) {
	t.Parallel()
	a := ready(t)
	for _, c := range []struct {
		text string
		want plan.Minutes
	}{{"45", plan.Minutes{Known: true, Min: 45}}, {"0 min", plan.Minutes{Known: true}}, {" ", plan.Minutes{}}} {
		must(t, a.SetHavenOut(a.hut, c.text))
		if h, _ := a.Plan().HavenByID(a.hut); h.Out != c.want {
			t.Errorf("%q gives %+v, want %+v", c.text, h.Out, c.want)
		}
	}
	if err := a.SetHavenOut(a.hut, "an hour"); err == nil {
		t.Error("\"an hour\" is taken")
	}
}

func TestVerticesComeAndGo(t *testing.T) {
	t.Parallel()
	a := ready(t)
	before := a.Plan()
	must(t, a.InsertPoint(a.wall, 1, a.at(1580, 1000)))
	line, _ := a.Plan().LineByID(a.wall)
	if len(line.Points) != 4 || !line.Points[1].Same(a.at(1580, 1000)) {
		t.Fatalf("after one more vertex: %+v", line.Points)
	}
	if old, _ := before.LineByID(a.wall); len(old.Points) != 3 {
		t.Errorf("the plan from before has %d vertices, want 3", len(old.Points))
	}
	must(t, a.RemovePoint(a.wall, 1))
	must(t, a.RemovePoint(a.wall, 1))
	var refused *Refused
	for what, err := range map[string]error{
		"too few left":      a.RemovePoint(a.wall, 0),
		"too few of a pool": a.RemovePoint(a.pool, 0),
		"the only point":    a.RemovePoint(a.hut, 0),
		"no such point":     a.RemovePoint(a.crag, 3),
		"of a leg":          a.InsertPoint(a.leg, 0, a.at(10, 10)),
	} {
		if !errors.As(err, &refused) {
			t.Errorf("%s: %v, want a refusal", what, err)
		}
	}
	for range 3 {
		a.Undo()
	}
	if a.Plan() != before {
		t.Error("three acts are not three steps")
	}
}

// A point clicked twice counts once; an outline that comes back to its first point is
// closed there.
func TestPointsClickedTwice(t *testing.T) {
	t.Parallel()
	a := ready(t)
	p, q, r := a.at(100, 100), a.at(200, 100), a.at(200, 300)
	id, err := a.AddHazard(plan.Steep, true, []plan.Position{p, p, q, r, r, p})
	must(t, err)
	if h, _ := a.Plan().HazardByID(id); len(h.Points) != 3 {
		t.Errorf("%d vertices, want 3", len(h.Points))
	}
	if _, err := a.AddHazard(plan.Steep, true, []plan.Position{p, q, p}); err == nil {
		t.Error("an outline of two points is taken")
	}
	if _, err := a.AddLine(plan.PathLine, []plan.Position{p, p}); err == nil {
		t.Error("a line of one point is taken")
	}
}

// Of an outline that crosses itself nobody could say what lies inside.
func TestAnOutlineThatCrossesItself(t *testing.T) {
	t.Parallel()
	a := ready(t)
	nw, ne, se, sw := a.at(100, 100), a.at(300, 100), a.at(300, 300), a.at(100, 300)
	if _, err := a.AddHazard(plan.Crag, true, []plan.Position{nw, se, ne, sw}); !errors.Is(err, errTangled) {
		t.Errorf("a bow tie: %v", err)
	}
	if _, err := a.AddHazard(plan.Crag, false, []plan.Position{nw, se, ne, sw}); err != nil {
		t.Errorf("a line may cross itself: %v", err)
	}
	id, err := a.AddHazard(plan.Crag, true, []plan.Position{nw, ne, se, sw})
	must(t, err)
	wood, err := a.AddArea(pace.Plantation, []plan.Position{nw, ne, se, sw})
	must(t, err)
	if _, err := a.AddArea(pace.Rough, []plan.Position{nw, se, ne, sw}); !errors.Is(err, errTangled) {
		t.Errorf("a bow tie of rough ground: %v", err)
	}
	before := a.Plan()
	if err := a.MovePoint(wood, 0, a.end(400, 200)); !errors.Is(err, errTangled) {
		t.Errorf("a corner of plantation moved across the far side: %v", err)
	}
	if err := a.MovePoint(id, 0, a.end(400, 200)); !errors.Is(err, errTangled) {
		t.Errorf("a corner moved across the far side: %v", err)
	}
	if err := a.InsertPoint(id, 1, a.at(200, 400)); !errors.Is(err, errTangled) {
		t.Errorf("a corner put across the far side: %v", err)
	}
	if a.Plan() != before {
		t.Error("a refused act changed the plan")
	}
}

// A drag of a vertex is one step, and the vertices of other things stay.
func TestAVertexIsDragged(t *testing.T) {
	t.Parallel()
	a := ready(t)
	before := a.Plan()
	a.BeginDrag()
	must(t, a.MovePoint(a.pool, 1, a.end(1620, 1000)))
	must(t, a.MovePoint(a.pool, 1, a.end(1630, 1000)))
	a.EndDrag()
	pool, _ := a.Plan().HazardByID(a.pool)
	if !pool.Points[1].Same(a.at(1630, 1000)) || a.UndoName() != "move point of hazard" {
		t.Errorf("it is at %v, and the act is %q", pool.Points[1].Grid, a.UndoName())
	}
	if was, _ := before.HazardByID(a.pool); was.Points[1].Same(pool.Points[1]) {
		t.Error("the plan from before moved too")
	}
	a.Undo()
	if a.Plan() != before {
		t.Error("the drag is not one step")
	}
}
