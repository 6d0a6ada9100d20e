package card

import (
	"bytes"
	"testing"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/assets/demo"
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

var _ = terrain.Area{}
