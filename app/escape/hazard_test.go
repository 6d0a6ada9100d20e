package escape_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
)

// Leg 1 runs south along easting 0 from 0 to −400, leg 2 along −400 and then south.
func TestHazards(t *testing.T) {
	t.Parallel()
	water := func(c plan.Crossing, xy ...float64) plan.Hazard {
		h := hazard("h", plan.Water, false, path(xy...))
		h.Crosses = c
		return h
	}
	lake := func(c plan.Crossing, xy ...float64) plan.Hazard {
		h := water(c, xy...)
		h.Closed = true
		return h
	}
	for name, c := range map[string]struct {
		h    plan.Hazard
		want []caution.Code
	}{
		"a crag that 10° more lead to": {hazard("h", plan.Crag, false, path(60, -100, 60, -200)), []caution.Code{caution.SlipMeets}},
		"a crag within it":             {hazard("h", plan.Crag, false, path(45, -100, 45, -200)), []caution.Code{caution.NearHazard}},
		"a crag beside the line":       {hazard("h", plan.Crag, false, path(100, -440, 200, -440)), []caution.Code{caution.NearHazard}},
		"within an area of crags":      {hazard("h", plan.Crag, true, path(-200, 100, 200, 100, 200, -500, -200, -500)), []caution.Code{caution.NearHazard}},
		"steep ground":                 {hazard("h", plan.Steep, true, path(25, -100, 90, -100, 90, -200)), []caution.Code{caution.NearHazard}},
		"a stream":                     {water(plan.NoCrossing, -100, -200, 100, -200), []caution.Code{caution.NearHazard}},
		"a stream stepped over":        {water(plan.StepOver, -100, -200, 100, -200), nil},
		"a bridge":                     {water(plan.Bridge, -100, -200, 100, -200), nil},
		"a ford":                       {water(plan.Ford, -100, -200, 100, -200), []caution.Code{caution.CrossesFord}},
		"a bridge, then along":         {water(plan.Bridge, -100, -200, 10, -200, 10, -300), []caution.Code{caution.NearHazard}},
		"a bridge at a narrow angle":   {water(plan.Bridge, -40, -100, 40, -300), []caution.Code{caution.NearHazard}},
		"along a stream with a ford":   {water(plan.Ford, 0, -100, 0, -130, 0, -160, 0, -190, 0, -220), []caution.Code{caution.NearHazard, caution.CrossesFord}},
		"all of it in a forded lake":   {lake(plan.Ford, -300, 100, 300, 100, 300, -370, -300, -370), []caution.Code{caution.NearHazard, caution.CrossesFord}},
		"across a wide river":          {lake(plan.Bridge, -300, -100, 300, -100, 300, -200, -300, -200), nil},
		"from bank to bank":            {lake(plan.Bridge, -300, 0, 300, 0, 300, -30, -300, -30), nil},
		"beside a stream with a ford":  {water(plan.Ford, 10, -100, 10, -200), []caution.Code{caution.NearHazard}},
		"bog":                          {hazard("h", plan.Bog, true, path(-50, -100, 50, -100, 50, -200, -50, -200)), []caution.Code{caution.ThroughBog}},
		"beside bog":                   {hazard("h", plan.Bog, true, path(5, -100, 50, -100, 50, -200)), nil},
		"private ground":               {hazard("h", plan.Private, true, path(-50, -100, 50, -100, 50, -200, -50, -200)), []caution.Code{caution.EntersPrivate}},
		"an outline that crosses self": {hazard("h", plan.Crag, true, path(400, 400, 480, 480, 480, 400, 400, 480)), []caution.Code{caution.HazardUncertain}},
	} {
		p := walk().AddHazard(c.h)
		got := about(only(t, p).Cautions)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// 100 m of 400 m in bog take as long as at six tenths of the speed: 2 min at 3 km/h become
// 3.334.
func TestBogTakesTime(t *testing.T) {
	t.Parallel()
	p := walk()
	dry := only(t, p).Minutes
	e := only(t, p.AddHazard(hazard("h", plan.Bog, true, path(-50, -100, 50, -100, 50, -200, -50, -200))))
	if more := e.Minutes - dry; math.Abs(more-100.04/3000*60*(1/0.6-1)) > 0.01 || math.Abs(e.Legs[0].BogM-100.04) > 0.01 {
		t.Errorf("%.3f min more for %.1f m of bog", more, e.Legs[0].BogM)
	}
}

// Where a hazard is nearest stands with its distance, and each leg without one within
// 500 m says so.
func TestNearest(t *testing.T) {
	t.Parallel()
	p := walk().AddHazard(hazard("crag", plan.Crag, false, path(80, -100, 90, -50))).AddHazard(hazard("far", plan.Crag, false, path(-600, 0, -600, -400)))
	e := only(t, p)
	one := e.Legs[0].Near
	if len(one) != 1 || one[0].Hazard != "crag" || math.Abs(one[0].DistM-80.03) > 0.01 || math.Abs(one[0].AlongM-100.04) > 0.01 || one[0].Title != "crag crag" || one[0].Ref == "" {
		t.Errorf("near leg 1: %+v", one)
	}
	if caution.Has(e.Legs[0].Cautions, caution.NothingDrawn) {
		t.Error("a crag is drawn near leg 1")
	}
	bare := only(t, walk().AddHazard(hazard("bog", plan.Bog, false, path(80, -100, 90, -50))))
	for _, l := range bare.Legs {
		if !caution.Has(l.Cautions, caution.NothingDrawn) {
			t.Errorf("leg %d: a bog is no crag or water, and nothing else is drawn", l.N)
		}
	}
}

// A hazard with a distance to keep beyond 500 m is a stop within that distance.
func TestKeepBeyondNear(t *testing.T) {
	t.Parallel()
	h := hazard("crag", plan.Crag, false, path(-600, 0, -600, -100))
	h.KeepM = 700
	if got := about(only(t, walk().AddHazard(h)).Cautions); !slices.Contains(got, caution.NearHazard) {
		t.Errorf("600 m from a crag to keep 700 m from: %v", got)
	}
}

// A crag 505 m away that is known to ± 10 m may be 495 m away, and is listed as that.
func TestNearWithItsError(t *testing.T) {
	t.Parallel()
	h := hazard("crag", plan.Crag, false, path(-505, 0, -505, -400))
	for i := range h.Points {
		h.Points[i].Origin, h.Points[i].SigmaM = plan.Imported, 5
	}
	near := only(t, walk().AddHazard(h)).Legs[0].Near
	if len(near) != 1 || math.Abs(near[0].DistM-495.2) > 0.05 {
		t.Errorf("near: %+v", near)
	}
}

// A crag is drawn on a sheet that is gone: nobody knows where it is.
func TestHazardOnALostSheet(t *testing.T) {
	t.Parallel()
	h := hazard("crag", plan.Crag, false, path(4000, 0, 4000, -100))
	h.Points[1].Origin, h.Points[1].Sheet = plan.Picked, "sheet-9"
	if got := about(only(t, walk().AddHazard(h)).Cautions); !slices.Contains(got, caution.HazardUncertain) {
		t.Errorf("a crag on a lost sheet: %v", got)
	}
}

// A crag on the ground where a slip leads is named with the slip, and not where the leg
// meets it itself. The leg runs south: half a turn leads north.
func TestSlips(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		xy   []float64
		want bool
	}{
		"250 m north": {[]float64{-50, 250, 50, 250}, true},
		"290 m north": {[]float64{-50, 345, 50, 345}, true},
		"400 m north": {[]float64{-50, 400, 50, 400}, false},
		"east":        {[]float64{250, -50, 250, 50}, false},
		"10° west":    {[]float64{-250 * math.Sin(math.Pi/18), -250 * math.Cos(math.Pi/18), -55, -250}, true},
	} {
		h := hazard("h", plan.Crag, false, path(c.xy...))
		if name == "10° west" {
			h.KeepM = 10 // the leg itself keeps 43 m away
		}
		e := only(t, walk().AddHazard(h))
		if got := caution.Has(e.Legs[0].Cautions, caution.SlipMeets); got != c.want {
			t.Errorf("a crag %s: marked %v, want %v: %v", name, got, c.want, e.Legs[0].Cautions)
		}
		if caution.Has(e.Legs[1].Cautions, caution.SlipMeets) {
			t.Errorf("a crag %s: a leg along a line has no bearing to slip with", name)
		}
	}
	r := only(t, walk()).Legs[0]
	ways := leg.Slips(r.Reading, r.Way[0])
	if len(ways) != 5 { // half a turn, two of the GMA, ten either way
		t.Fatalf("%d ways, want 5", len(ways))
	}
	if w := ways[0].To; math.Abs(w.N-(northM+299.88)) > 0.05 || math.Abs(w.E-eastM) > 0.05 { // 300 m of ground are 299.88 m of the grid
		t.Errorf("half a turn leads to %v", w)
	}
}

// A stream has its ford or bridge where the leg crosses it, not where a slip leads; one that
// can be stepped over can be so anywhere.
func TestSlipToWater(t *testing.T) {
	t.Parallel()
	for crosses, want := range map[plan.Crossing]bool{plan.NoCrossing: true, plan.Ford: true, plan.Bridge: true, plan.StepOver: false} {
		h := hazard("h", plan.Water, false, path(-50, 250, 50, 250))
		h.Crosses = crosses
		if got := caution.Has(only(t, walk().AddHazard(h)).Legs[0].Cautions, caution.SlipMeets); got != want {
			t.Errorf("a river with %q that half a turn leads to: marked %v", crosses, got)
		}
	}
}

// The line that a leg follows was picked on a sheet that is gone: nobody knows where it leads.
func TestLineOnALostSheet(t *testing.T) {
	t.Parallel()
	p := walk()
	l, _ := p.LineByID("path")
	l.Points = path(0, -400, 300, -400, 300, -800)
	l.Points[1].Origin, l.Points[1].Sheet = plan.Picked, "sheet-9"
	if got := only(t, p.SetLine(l)).Legs[1].Cautions; !caution.Has(got, caution.SheetGone) {
		t.Errorf("a leg along a line of a lost sheet: %v", got)
	}
}

// For any crag: the distance is that of the nearest of many positions on the way, a larger
// distance to keep never takes a stop away, and the escape reversed comes as near.
func TestNearestProperty(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		m := rapid.Float64Range(-700, 700)
		pts := path(m.Draw(rt, "e1"), m.Draw(rt, "n1"), m.Draw(rt, "e2"), m.Draw(rt, "n2"), m.Draw(rt, "e3"), m.Draw(rt, "n3"))
		if pts[0].Same(pts[1]) || pts[1].Same(pts[2]) {
			return
		}
		h := hazard("h", plan.Crag, false, pts)
		h.KeepM = rapid.Float64Range(0, 300).Draw(rt, "keep")
		p := walk().AddHazard(h)
		e := only(t, p)
		for _, l := range e.Legs {
			want := sampled(l.Way, pts)
			if len(l.Near) == 0 {
				if want < leg.NearM-2 {
					rt.Fatalf("leg %d: nothing near, and the crag is %.1f m away", l.N, want)
				}
				continue
			}
			if got := l.Near[0].DistM / 1.0004; got > want+0.01 || got < want-1.5 {
				rt.Fatalf("leg %d: %.2f m from the crag, sampled %.2f", l.N, got, want)
			}
			if stop := caution.Has(l.Cautions, caution.NearHazard); stop != (l.Near[0].DistM < h.KeepM || l.Near[0].DistM == 0) {
				rt.Fatalf("leg %d: stopped %v at %.2f m, keep %.2f", l.N, stop, l.Near[0].DistM, h.KeepM)
			}
		}
		back := only(t, edit(p, func(e *plan.Escape) { *e = e.Reversed() }))
		for i, l := range e.Legs {
			o := back.Legs[len(e.Legs)-1-i]
			if len(l.Near) != len(o.Near) || len(l.Near) > 0 && math.Abs(l.Near[0].DistM-o.Near[0].DistM) > 1e-6 {
				rt.Fatalf("leg %d: %v, the other way %v", l.N, l.Near, o.Near)
			}
		}
	})
}

// sampled is the least distance between positions a metre apart on a way and on a line.
func sampled(way []geodesy.Grid, points []plan.Position) float64 {
	best := math.Inf(1)
	for i := 1; i < len(points); i++ {
		a, b := points[i-1].Grid, points[i].Grid
		for k := 1; k < len(way); k++ {
			c, d := way[k-1], way[k]
			n := int(math.Hypot(d.E-c.E, d.N-c.N)) + 1
			for s := range n + 1 {
				f := float64(s) / float64(n)
				best = min(best, fromSegment(geodesy.Grid{E: c.E + f*(d.E-c.E), N: c.N + f*(d.N-c.N)}, a, b))
			}
		}
	}
	return best
}

func fromSegment(p, a, b geodesy.Grid) float64 {
	dx, dy := b.E-a.E, b.N-a.N
	f := min(max(((p.E-a.E)*dx+(p.N-a.N)*dy)/(dx*dx+dy*dy), 0), 1)
	return math.Hypot(a.E+f*dx-p.E, a.N+f*dy-p.N)
}

// Where a leg crosses water by a bridge or a step stands in what is exported, of the route and of
// a way off; a ford and water that nobody can cross have their cautions.
func TestExportNamesCrossings(t *testing.T) {
	t.Parallel()
	for kind, want := range map[plan.Crossing]string{plan.Bridge: "Bridge over burn", plan.StepOver: "Step over burn", plan.Ford: "fords burn", plan.NoCrossing: "comes to burn"} {
		h := hazard("h", plan.Water, false, path(-100, -200, 100, -200))
		h.Name, h.Crosses = "burn", kind
		over := h
		over.ID, over.Points = "over", path(500, 100, 500, -100)
		p := walk().AddHazard(h).AddHazard(over)
		escapes, err := escape.Export(p, nil)
		if err != nil {
			t.Fatal(err)
		}
		route, err := leg.Export(p, nil)
		if err != nil {
			t.Fatal(err)
		}
		for of, point := range map[string]leg.ExportPoint{"escape": escapes[0].Points[0], "route": route.Routes[0][0]} {
			along := map[string]string{"escape": "200 m from ", "route": "500 m from "}[of]
			if n := strings.Count(point.Desc, want+", "+along); n != 1 {
				t.Errorf("%s, %q: %q stands there %d times: %s", of, kind, want, n, point.Desc)
			}
		}
	}
}
