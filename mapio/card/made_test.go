package card

import (
	"bytes"
	"context"
	"testing"
	"time"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/assets/demo"
	"legwright/mapio/dem"
	"legwright/mapio/openfile"
	"legwright/mapio/planfile"
)

// demoPlan is the demo's plan.
func demoPlan(t testing.TB) *plan.Plan {
	t.Helper()
	p, err := planfile.Decode(bytes.NewReader(demo.Plan()))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// sourceOf reads a plan over no terrain.
func sourceOf(t testing.TB, p *plan.Plan) Source {
	t.Helper()
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	return Source{Reader: r}
}

// demoSource is the demo over its terrain.
func demoSource(t testing.TB) Source {
	t.Helper()
	s := sourceOf(t, demoPlan(t))
	in, err := openfile.InMemory(demo.TerrainName, demo.Terrain(), time.Time{}).Open(demo.TerrainName)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	tile, _, err := dem.OpenHashed(context.Background(), in, demo.TerrainName, dem.Want{})
	if err != nil {
		t.Fatal(err)
	}
	m, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	s.Reader = s.Reader.Over(m)
	return s
}

func contentOf(t testing.TB, s Source) *Content {
	t.Helper()
	c, err := Of(s)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// route is a plan of n legs between typed positions, on invented ground, one kilometre each.
func route(n int, name func(i int) string) *plan.Plan {
	p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 28}).SetTitle("A long day")
	for i := range n + 1 {
		g := geodesy.Grid{E: 230_000 + 600*float64(i%11), N: 720_000 + 700*float64(i%7) + 10*float64(i)}
		p = p.AddMark(plan.Mark{ID: p.NextID(plan.OfMark), Name: name(i), Position: plan.Position{Grid: g, Code: geodesy.EPSG(27700), Origin: plan.Typed}})
	}
	for i := range n {
		p = p.AddLeg(plan.Leg{
			ID: p.NextID(plan.OfLeg), From: plan.AtMark(p.Marks[i]), To: plan.AtMark(p.Marks[i+1]),
			TickOff: "wall, then a stream with a fork", Catching: "the ground falls away", Climb: plan.Count(50), Descent: plan.Count(20),
		})
	}
	return p
}
