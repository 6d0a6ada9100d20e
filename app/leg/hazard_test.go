package leg

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"legwright/app/caution"
	"legwright/app/plan"
)

// beside is the route of a leg of 1 km north with a hazard drawn at metres east of it and
// north of its start.
func beside(kind plan.HazardKind, crosses plan.Crossing, closed bool, xy ...float64) *plan.Plan {
	h := plan.Hazard{ID: "h", Kind: kind, Crosses: crosses, Closed: closed, KeepM: kind.DefaultKeepM(0)}
	for i := 0; i < len(xy); i += 2 {
		h.Points = append(h.Points, typed(27700, 400_000+xy[i], 743_000+xy[i+1]))
	}
	return route(1000).AddHazard(h)
}

// A leg of the route through danger or private ground is a stop on the whole leg; beside
// danger, or where it ends at the shore, it is a note, as are bog and a ford; what lies far
// says nothing, and neither does an empty plan.
func TestHazardsOfTheRoute(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		p    *plan.Plan
		want caution.Code
		stop bool
	}{
		"nothing":        {route(1000), "", false},
		"a crag at 49":   {beside(plan.Crag, "", false, 49, 300, 49, 400), caution.PassesHazard, false},
		"over a crag":    {beside(plan.Crag, "", false, -49, 300, 49, 400), caution.NearHazard, true},
		"to the shore":   {beside(plan.Water, "", true, -50, 990, 50, 990, 0, 1200), caution.PassesHazard, false},
		"ends in a crag": {beside(plan.Crag, "", true, -50, 990, 50, 990, 0, 1200), caution.NearHazard, true},
		"into a lake":    {beside(plan.Water, "", true, -50, 970, 50, 970, 0, 1200), caution.NearHazard, true},
		"along a burn":   {beside(plan.Water, plan.Bridge, false, -50, 300, 5, 300, 5, 600), caution.PassesHazard, false},
		"a crag at 51":   {beside(plan.Crag, "", false, 51, 300, 51, 400), "", false},
		"water":          {beside(plan.Water, "", false, -100, 300, 100, 300), caution.NearHazard, true},
		"a bridge":       {beside(plan.Water, plan.Bridge, false, -100, 300, 100, 300), "", false},
		"a ford":         {beside(plan.Water, plan.Ford, false, -100, 300, 100, 300), caution.CrossesFord, false},
		"private":        {beside(plan.Private, "", true, -50, 300, 50, 300, 50, 400), caution.EntersPrivate, true},
		"bog":            {beside(plan.Bog, "", true, -50, 300, 50, 300, 50, 400, -50, 400), caution.ThroughBog, false},
		"steep ground":   {beside(plan.Steep, "", true, 29, 300, 90, 300, 90, 400), caution.PassesHazard, false},
		"on a web grid":  {onWebGrid(beside(plan.Crag, "", false, 60, 300, 60, 400)), caution.PassesHazard, false},
	} {
		row := readerOf(t, c.p).Legs()[0]
		if got := caution.Has(row.Reading.Cautions, c.want); got != (c.want != "") || row.Reading.Stopped() != c.stop {
			t.Errorf("%s: %v, stopped %v; want %q, %v", name, row.Reading.Cautions, row.Reading.Stopped(), c.want, c.stop)
		}
	}
}

// onWebGrid puts the plan of beside onto web mercator at 57° N, where 60 m of the grid are 33 m
// of ground.
func onWebGrid(p *plan.Plan) *plan.Plan {
	move := func(pos plan.Position) plan.Position {
		return typed(3857, -222_000+pos.Grid.E-400_000, 7_720_000+pos.Grid.N-743_000)
	}
	for n, e := range []plan.End{p.Legs[0].From, p.Legs[0].To} {
		p = p.MovePoint(p.Legs[0].ID, n, plan.AtPosition(move(e.Position)))
	}
	for n, pos := range p.Hazards[0].Points {
		p = p.MovePoint("h", n, plan.AtPosition(move(pos)))
	}
	return p
}

// Bog takes as long as rough ground: 100 m of 1 km at 2.4 instead of 4 km/h are 1 min more.
func TestBogOnTheRoute(t *testing.T) {
	t.Parallel()
	p := beside(plan.Bog, "", true, -50, 300, 50, 300, 50, 400, -50, 400)
	dry, wet := readerOf(t, route(1000)).Legs()[0], readerOf(t, p).Legs()[0]
	if more := (wet.Time - dry.Time).Minutes(); math.Abs(more-1) > 0.002 || math.Abs(wet.BogM-100.04) > 0.01 {
		t.Errorf("%.3f min more for %.2f m of bog", more, wet.BogM)
	}
}

// The nearest position stands with its reference and with how far along the leg it is.
func TestNearOnTheRoute(t *testing.T) {
	t.Parallel()
	near := readerOf(t, beside(plan.Crag, "", false, 80, 300, 90, 400)).Legs()[0].Near
	if len(near) != 1 || math.Abs(near[0].DistM-80.03) > 0.01 || math.Abs(near[0].AlongM-300.12) > 0.01 || near[0].Title != "crag h" || near[0].Ref == "" {
		t.Errorf("%+v", near)
	}
}

// A hazard on a sheet that is gone may be anywhere: a stop on every leg.
func TestHazardThatMayBeAnywhere(t *testing.T) {
	t.Parallel()
	p := beside(plan.Crag, "", false, 5000, 300, 5000, 400)
	h := p.Hazards[0]
	h.Points = slices.Clone(h.Points)
	h.Points[1].Origin, h.Points[1].Sheet = plan.Picked, "sheet-9"
	if row := readerOf(t, p.SetHazard(h)).Legs()[0]; !row.Reading.Stopped() || !row.Reading.Has(caution.HazardUncertain) {
		t.Errorf("%v", row.Reading.Cautions)
	}
}

// The next reader takes the hazards over while they and the sheets are the same, and reads
// them anew when one of them, or what it was picked on, changes.
func TestHazardsAreTakenOver(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	h := plan.Hazard{ID: "h", Kind: plan.Crag, KeepM: 50, Points: []plan.Position{p.Legs[0].From.Position, p.Legs[0].To.Position}}
	p = p.AddHazard(h)
	before := readerOf(t, p)
	before.Legs()
	h.KeepM = 60
	moved := p.Sheets[0]
	moved.Points = slices.Clone(moved.Points)
	moved.Points[0].Ref.E++
	for name, c := range map[string]struct {
		next *plan.Plan
		same bool
	}{
		"another title":       {p.SetTitle("Round"), true},
		"a leg moved":         {p.MovePoint(p.Legs[0].ID, 1, plan.AtPosition(p.Marks[0].Position)), true},
		"another keep":        {p.SetHazard(h), false},
		"without it":          {p.Remove("h"), false},
		"another calibration": {p.SetSheet(moved), false},
	} {
		after, err := before.For(c.next)
		if err != nil || (after.hazards == before.hazards) != c.same {
			t.Errorf("%s: taken over %v, want %v; %v", name, after.hazards == before.hazards, c.same, err)
		}
		if got, want := after.Legs(), readerOf(t, c.next).Legs(); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: the rows are not those read anew:\n%+v\n%+v", name, got, want)
		}
	}
}

// The ± of what is drawn and of the leg is taken off the distance: 60 m from a crag imported to
// σ 5 m are 50 m at least, from a leg that ends in a square of 100 m (σ 28.9 m) 2 m. What was
// picked on the leg's own sheet moves with it, so the calibration is left out.
func TestNearestCountsWhatIsKnown(t *testing.T) {
	t.Parallel()
	p := beside(plan.Crag, "", false, 60, 300, 60, 400)
	imported := p.Hazards[0]
	imported.Points = slices.Clone(imported.Points)
	imported.Points[1].SigmaM = 5
	typedEnd := p.Legs[0].To
	typedEnd.Position.SquareM, typedEnd.Position.SigmaM = 100, 100/math.Sqrt(12)
	for name, c := range map[string]struct {
		p    *plan.Plan
		want float64
	}{
		"exact":             {p, 60.02},
		"imported":          {p.SetHazard(imported), 50.02},
		"a square of 100 m": {p.MovePoint(p.Legs[0].ID, 1, typedEnd), 2.29},
	} {
		row := readerOf(t, c.p).Legs()[0]
		if got := row.Near[0].DistM; math.Abs(got-c.want) > 0.01 {
			t.Errorf("%s: %.3f m, want %.2f", name, got, c.want)
		}
	}
	if row := readerOf(t, p.SetHazard(imported)).Legs()[0]; caution.Has(row.Reading.Cautions, caution.PassesHazard) {
		t.Error("50.02 m are not within 50 m")
	}
	sheet := checkedSheet()
	q := plan.New(plan.Date{Year: 2026, Month: 11, Day: 28}).SetSheet(sheet)
	a, b, far, other := pick(t, sheet, 500, 500), pick(t, sheet, 900, 500), pick(t, sheet, 700, 540), pick(t, sheet, 720, 540)
	q = q.AddLeg(plan.Leg{ID: "leg-1", From: plan.AtPosition(a), To: plan.AtPosition(b)})
	near := func(points ...plan.Position) float64 {
		row := readerOf(t, q.AddHazard(plan.Hazard{ID: "h", Kind: plan.Crag, Points: points, KeepM: 50})).Legs()[0]
		return row.Near[0].DistM
	}
	typedOther := typed(27700, other.Grid.E, other.Grid.N)
	if own, mixed := near(far, other), near(far, typedOther); !(own > mixed) {
		t.Errorf("picked on the leg's sheet %.2f m, one point typed %.2f m: the first is known better", own, mixed)
	}
}
