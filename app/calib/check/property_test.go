package check

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// mixed is a made sheet of three to twelve points, sound or with a slip, with none to
// three pieces of evidence, sound or not.
type mixed struct {
	m        made
	points   []calib.ControlPoint
	evidence []Evidence
}

func randomSheet(rng *rand.Rand) mixed {
	m := usual()
	refs := corners()[:3+rng.IntN(2)]
	for len(refs) > 3 && rng.IntN(3) > 0 && len(refs) < 12 {
		g := geodesy.Grid{E: 1000 * float64(22+rng.IntN(12)), N: 1000 * float64(750+rng.IntN(9))}
		if !slices.Contains(refs, g) {
			refs = append(refs, g)
		}
	}
	x := mixed{m: m, points: m.points(rng, refs...)}
	switch i, size := rng.IntN(len(refs)), []float64{1000, -1000, 10000, 2000}[rng.IntN(4)]; rng.IntN(4) {
	case 0:
		x.points[i].Ref.E += size
	case 1:
		for k := range x.points {
			if x.points[k].Ref.N == x.points[i].Ref.N {
				x.points[k].Ref.N += size
			}
		}
	case 2:
		for k := range x.points {
			x.points[k].Ref.E += size
		}
	}
	for range rng.IntN(4) {
		g := geodesy.Grid{E: 21000 + 14000*rng.Float64(), N: 749000 + 11000*rng.Float64()}
		sources := []calib.EvidenceSource{calib.FromList, calib.FromReceiver, calib.FromOwnGrid, calib.FromMargin}
		e := m.feature(rng, sources[rng.IntN(3)], g, []float64{10, 100, 1000}[rng.IntN(3)])
		if rng.IntN(4) == 0 {
			e = m.margin(rng, g, []float64{31, 185, 1850}[rng.IntN(3)])
		}
		if rng.IntN(8) == 0 { // misread
			e.Meanings[0].Ref.N += 1000
		}
		x.evidence = append(x.evidence, e)
	}
	return x
}

func (x mixed) judged(t *testing.T) Verdict {
	t.Helper()
	c, err := calib.Fit(x.points, calib.Options{Width: int(x.m.w), Height: int(x.m.h)})
	if err != nil {
		return Verdict{}
	}
	return verdict(Sheet{ID: "a", Name: "a.tif", Fit: c, Width: int(x.m.w), Height: int(x.m.h), Lettered: true, Evidence: x.evidence})
}

// outcome is what must not depend on how the same things are written down.
func (v Verdict) outcome() string {
	var codes []string
	for _, c := range v.Cautions {
		codes = append(codes, string(c.Code))
	}
	kinds := map[string]int{}
	for _, s := range v.Open {
		kinds[fmt.Sprint(s.Kind)]++
	}
	return fmt.Sprint(v.Checked, v.Scope, codes, kinds)
}

func TestVerdictDoesNotDependOnTheOrder(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(11, 1))
	for trial := range 150 {
		x := randomSheet(rng)
		want := x.judged(t).outcome()
		x.points, x.evidence = slices.Clone(x.points), slices.Clone(x.evidence)
		rng.Shuffle(len(x.points), func(i, j int) { x.points[i], x.points[j] = x.points[j], x.points[i] })
		rng.Shuffle(len(x.evidence), func(i, j int) { x.evidence[i], x.evidence[j] = x.evidence[j], x.evidence[i] })
		if got := x.judged(t).outcome(); got != want {
			t.Fatalf("trial %d: %s, in another order %s", trial, want, got)
		}
	}
}

func TestVerdictDoesNotDependOnTheGridsOrigin(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(11, 2))
	for trial := range 150 {
		x := randomSheet(rng)
		want := x.judged(t)
		move := func(g geodesy.Grid) geodesy.Grid { return geodesy.Grid{E: g.E + 300000, N: g.N - 100000} }
		for i := range x.points {
			x.points[i].Ref = move(x.points[i].Ref)
		}
		for i := range x.evidence {
			e := &x.evidence[i]
			e.Corner = move(e.Corner)
			for k := range e.Meanings {
				e.Meanings[k].Ref = move(e.Meanings[k].Ref)
			}
		}
		if got := x.judged(t); got.Checked != want.Checked || len(got.Cautions) != len(want.Cautions) {
			t.Fatalf("trial %d: %s, 300 km farther east %s", trial, want.outcome(), got.outcome())
		}
	}
}

func TestVerdictDoesNotDependOnTheResolution(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(11, 3))
	for trial := range 150 {
		x := randomSheet(rng)
		want := x.judged(t)
		double := func(p *calib.PicturePt, sigma *float64) {
			p.Col, p.Row, *sigma = 2*p.Col, 2*p.Row, 2**sigma
		}
		x.m.w, x.m.h = 2*x.m.w, 2*x.m.h
		for i := range x.points {
			double(&x.points[i].At, &x.points[i].SigmaPx)
		}
		for i := range x.evidence {
			double(&x.evidence[i].At, &x.evidence[i].SigmaPx)
		}
		if got := x.judged(t); got.outcome() != want.outcome() {
			t.Fatalf("trial %d: %s, at twice the resolution %s", trial, want.outcome(), got.outcome())
		}
	}
}

// Taking evidence that agrees away never checks a sheet.
func TestLessEvidenceNeverChecks(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(11, 4))
	taken := 0
	for trial := range 400 {
		x := randomSheet(rng)
		whole := x.judged(t)
		if whole.Checked || has(whole, "evidence-disagrees") || has(whole, "slip-named") || has(whole, "slip-set") {
			continue
		}
		for i := range x.evidence {
			less := x
			less.evidence = slices.Delete(slices.Clone(x.evidence), i, i+1)
			taken++
			if v := less.judged(t); v.Checked {
				t.Fatalf("trial %d: unchecked with all evidence (%s), checked without number %d", trial, whole.outcome(), i+1)
			}
		}
	}
	if taken < 50 {
		t.Fatalf("only %d were taken away", taken)
	}
}
