package leg

import (
	"math"
	"slices"
	"testing"

	"legwright/app/caution"
	"legwright/app/pace"
	"legwright/app/plan"
)

// inArea adds an area of ground at metres east of the leg of 1 km north and north of its start.
func inArea(p *plan.Plan, g pace.Ground, xy ...float64) *plan.Plan {
	a := plan.Area{ID: p.NextID(plan.OfArea), Ground: g}
	for i := 0; i < len(xy); i += 2 {
		a.Points = append(a.Points, typed(27700, 400_000+xy[i], 743_000+xy[i+1]))
	}
	return p.AddArea(a)
}

// band is an area across the leg from one distance to another.
func band(p *plan.Plan, g pace.Ground, fromM, toM float64) *plan.Plan {
	return inArea(p, g, -50, fromM, 50, fromM, 50, toM, -50, toM)
}

func withGround(p *plan.Plan, g pace.Ground) *plan.Plan {
	l := p.Legs[0]
	l.Ground = g
	return p.SetLeg(l)
}

// The minutes are worked out by hand from metric forms of Naismith's rule (15 min to the km at
// 4 km/h, 12 at 5 km/h, and 10 min for 100 m of climb: encyclopedia article "Naismith's rule";
// 4 km/h off track and 5 on paths: Aitken 1977) and six tenths on rough ground (common practice, no
// source): 25 min to the km. A metre of the grid is 1.0004 m on the ground.
func TestGroundOfAreas(t *testing.T) {
	t.Parallel()
	climbs := route(1000)
	l := climbs.Legs[0]
	l.Climb, l.Descent = plan.Count(100), plan.Count(0)
	climbs = climbs.SetLeg(l)
	const path, off, rough = 12 * 1.0004, 15 * 1.0004, 25 * 1.0004 // minutes to the km
	for name, c := range map[string]struct {
		p    *plan.Plan
		want float64
	}{
		"none":                       {route(1000), off},
		"rough for 100 m":            {band(route(1000), pace.Rough, 300, 400), 0.9*off + 0.1*rough},
		"path for 100 m":             {band(route(1000), pace.Path, 300, 400), 0.9*off + 0.1*path},
		"all on a path":              {band(route(1000), pace.Path, -10, 1010), path},
		"all on a path, with climb":  {band(climbs, pace.Path, -10, 1010), path + 10},
		"half rough, with climb":     {band(climbs, pace.Rough, 500, 1010), (off+rough)/2 + 10},
		"off path on a leg of path":  {band(withGround(route(1000), pace.Path), pace.OffPath, 0, 500), (path + off) / 2},
		"path on a leg that is so":   {band(withGround(route(1000), pace.Path), pace.Path, 0, 500), path},
		"path on a leg that's rough": {band(withGround(route(1000), pace.Rough), pace.Path, 200, 400), 0.8*rough + 0.2*path},
		"rough overlaps path":        {band(band(route(1000), pace.Rough, 300, 500), pace.Path, 400, 600), 0.7*off + 0.2*rough + 0.1*path},
		"path within rough":          {band(band(route(1000), pace.Rough, 200, 800), pace.Path, 400, 600), 0.4*off + 0.6*rough},
		"two rough ones overlap":     {band(band(route(1000), pace.Rough, 200, 500), pace.Rough, 400, 600), 0.6*off + 0.4*rough},
		"bog within path":            {band(beside(plan.Bog, "", true, -50, 300, 50, 300, 50, 400, -50, 400), pace.Path, 0, 1000), 0.9*path + 0.1*rough},
		"bog within rough":           {band(beside(plan.Bog, "", true, -50, 300, 50, 300, 50, 400, -50, 400), pace.Rough, 0, 1000), rough},
		"a U entered twice":          {inArea(route(1000), pace.Rough, -50, 200, 50, 200, 50, 300, -20, 300, -20, 500, 50, 500, 50, 700, -50, 700), 0.7*off + 0.3*rough},
		"a corner touches":           {inArea(route(1000), pace.Rough, 0, 300, 50, 250, 50, 350), off},
		"along the border":           {inArea(route(1000), pace.Rough, 0, 300, 0, 400, 50, 400, 50, 300), 0.9*off + 0.1*rough},
		"begins within":              {inArea(route(1000), pace.Rough, -50, -50, 50, -50, 50, 100, -50, 100), 0.9*off + 0.1*rough},
		"beside":                     {inArea(route(1000), pace.Rough, 1, 300, 50, 300, 50, 400, 1, 400), off},
		"far away":                   {inArea(route(1000), pace.Plantation, 5000, 300, 5050, 300, 5050, 400), off},
		"1 m of plantation touches":  {inArea(route(1000), pace.Plantation, 0, 300, 50, 250, 50, 350), off},
	} {
		row := readerOf(t, c.p).Legs()[0]
		if got := row.Time.Minutes(); math.Abs(got-c.want) > 0.001 || row.Reading.Stopped() {
			t.Errorf("%s: %.4f min, want %.4f; stopped: %v", name, got, c.want, row.Reading.Cautions)
		}
	}
}

// Naismith's own rule, printed for paths, and Tobler's, whose 5.04 km/h on the flat become six tenths
// off a path, take the same areas (encyclopedia articles on both).
func TestGroundOfAreasByOtherRules(t *testing.T) {
	t.Parallel()
	p := band(route(1000), pace.Rough, 0, 500)
	for method, want := range map[pace.Method]float64{
		pace.Naismith1892: 1.0004 * (0.5 + 0.5/0.6) * 60 / (3 * 1.609344),
		pace.Tobler:       1.0004 * (0.5 + 0.5/0.6) / 0.6 * 60 / (6 * math.Exp(-3.5*0.05)),
	} {
		timing := p.Timing
		timing.Method = method
		if got := readerOf(t, p.SetTiming(timing)).Legs()[0].Time.Minutes(); math.Abs(got-want) > 0.001 {
			t.Errorf("%s: %.4f min, want %.4f", method, got, want)
		}
	}
}

// TestPartsOnGround: the areas that a leg goes through come in order and do not overlap.
func TestPartsOnGround(t *testing.T) {
	t.Parallel()
	p := band(band(band(route(1000), pace.Path, 100, 900), pace.Rough, 300, 400), pace.Rough, 350, 450)
	row := readerOf(t, p).Legs()[0]
	want := []OnGround{{pace.Path, 100, 300}, {pace.Rough, 300, 450}, {pace.Path, 450, 900}}
	if len(row.Ground) != len(want) {
		t.Fatalf("%+v", row.Ground)
	}
	for i, g := range row.Ground {
		if g.Ground != want[i].Ground || math.Abs(g.FromM-1.0004*want[i].FromM) > 0.01 || math.Abs(g.ToM-1.0004*want[i].ToM) > 0.01 {
			t.Errorf("part %d is %+v, want %+v", i+1, g, want[i])
		}
	}
	for own, want := range map[pace.Ground]string{pace.Unsaid: "path 650 m, rough 150 m", pace.Path: "path 650 m, rough 150 m, the rest path"} {
		if got := row.GroundWords(own); got != want {
			t.Errorf("in words: %q, want %q", got, want)
		}
	}
	if bare := readerOf(t, route(1000)).Legs()[0]; bare.GroundWords(pace.Unsaid) != "" || bare.GroundWords(pace.OffPath) != "off path" {
		t.Error("a leg without areas says more than itself")
	}
	if len(row.Areas) != 3 {
		t.Errorf("areas near: %v", row.Areas)
	}
}

// A leg that goes into plantation is a stop without a walking time, and so is all after it. One that
// follows its edge, touches its corner, or begins or ends within 20 m of it is none.
func TestPlantation(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		p    *plan.Plan
		stop bool
	}{
		"through it":              {band(route(1000), pace.Plantation, 300, 400), true},
		"a strip of 5 m":          {band(route(1000), pace.Plantation, 300, 305), true},
		"within path":             {band(band(route(1000), pace.Plantation, 300, 400), pace.Path, 0, 1000), true},
		"within rough":            {band(band(route(1000), pace.Rough, 0, 1000), pace.Plantation, 300, 400), true},
		"all of the leg":          {band(route(1000), pace.Plantation, -50, 1050), true},
		"ends 30 m within":        {band(route(1000), pace.Plantation, 970, 1100), true},
		"ends 15 m within":        {band(route(1000), pace.Plantation, 985, 1100), false},
		"begins 15 m within":      {band(route(1000), pace.Plantation, -100, 15), false},
		"touches a corner":        {inArea(route(1000), pace.Plantation, 0, 300, 50, 250, 50, 350), false},
		"along its edge":          {inArea(route(1000), pace.Plantation, 0, 0, 0, 1000, 50, 1000, 50, 0), false},
		"a metre within its edge": {inArea(route(1000), pace.Plantation, -1, 0, -1, 1000, 50, 1000, 50, 0), false},
		"10 m within its edge":    {inArea(route(1000), pace.Plantation, -10, 100, -10, 900, 50, 900, 50, 100), true},
	} {
		row := readerOf(t, c.p).Legs()[0]
		if got := row.Reading.Has(caution.EntersPlantation); got != c.stop || row.Reading.Stopped() != c.stop || (row.Time == 0) != c.stop {
			t.Errorf("%s: %v, stopped %v, %v; want %v", name, row.Reading.Cautions, row.Reading.Stopped(), row.Time, c.stop)
		}
	}
	said := withGround(band(route(1000), pace.Path, -10, 1010), pace.Plantation)
	if row := readerOf(t, said).Legs()[0]; row.Time != 0 || !row.Reading.Has(caution.NoWayThrough) {
		t.Errorf("a leg that is said to go through plantation: %v, %v", row.Time, row.Reading.Cautions)
	}
}

// Of an area on a sheet that is gone nobody knows whether a leg lies in it: a note on every leg.
func TestAreaThatMayBeAnywhere(t *testing.T) {
	t.Parallel()
	p := band(route(1000), pace.Rough, 5000, 5100)
	a := p.Areas[0]
	a.Points = slices.Clone(a.Points)
	a.Points[1].Origin, a.Points[1].Sheet = plan.Picked, "sheet-9"
	if row := readerOf(t, p.SetArea(a)).Legs()[0]; row.Reading.Stopped() || !row.Reading.Has(caution.AreaUncertain) {
		t.Errorf("%v", row.Reading.Cautions)
	}
}

// The next reader reads a leg again when an area changes.
func TestAreasAreNotTakenOver(t *testing.T) {
	t.Parallel()
	p := band(route(1000), pace.Rough, 300, 400)
	before := readerOf(t, p)
	slow := before.Legs()[0].Time
	next, err := before.For(p.Remove(p.Areas[0].ID))
	if err != nil {
		t.Fatal(err)
	}
	if fast := next.Legs()[0].Time; fast >= slow {
		t.Errorf("%v with rough ground, %v without", slow, fast)
	}
}
