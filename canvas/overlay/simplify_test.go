package overlay

import (
	"math"
	"math/rand/v2"
	"testing"

	"legwright/canvas/view"
)

// A thinned track keeps its ends and never strays farther than the slack,
// point by point against a slow reference.
func TestThinnedStaysWithinTheSlack(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 4))
	walk := make([]view.PicPt, 3000)
	angle := 0.0
	for i := 1; i < len(walk); i++ {
		angle += rng.NormFloat64() * 0.1
		walk[i] = view.PicPt{X: walk[i-1].X + math.Cos(angle), Y: walk[i-1].Y + math.Sin(angle)}
	}
	got := thinned(walk)
	if got[0] != walk[0] || got[len(got)-1] != walk[len(walk)-1] {
		t.Error("an end was lost")
	}
	if len(got) > len(walk)/2 || len(got) < 10 {
		t.Errorf("%d of %d points stay, want far fewer but a shape", len(got), len(walk))
	}
	for i, p := range walk {
		least := math.Inf(1)
		for j := 1; j < len(got); j++ {
			least = min(least, segmentDistance(p, got[j-1], got[j]))
		}
		if least > trackSlackPx+1e-9 {
			t.Fatalf("point %d is %v px off the thinned track, want at most %v", i, least, trackSlackPx)
		}
	}
}

func TestThinnedShortLines(t *testing.T) {
	t.Parallel()
	for _, n := range []int{0, 1, 2} {
		if got := thinned(make([]view.PicPt, n)); len(got) != n {
			t.Errorf("%d points became %d", n, len(got))
		}
	}
	straight := []view.PicPt{{X: 0}, {X: 1}, {X: 2}, {X: 3}}
	if got := thinned(straight); len(got) != 2 {
		t.Errorf("a straight line keeps %d points, want 2", len(got))
	}
}

// segmentDistance is the distance of p to the segment from a to b.
func segmentDistance(p, a, b view.PicPt) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	f := 0.0
	if d := dx*dx + dy*dy; d > 0 {
		f = min(max(((p.X-a.X)*dx+(p.Y-a.Y)*dy)/d, 0), 1)
	}
	return p.Dist(view.PicPt{X: a.X + f*dx, Y: a.Y + f*dy})
}

func TestShortName(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ in, want string }{
		{"Càrn Mòr", "Càrn Mòr"},
		{"123456789012345678901234567890", "123456789012345678901234567890"},
		{"the cairn that somebody named on a wet evening", "the cairn that somebody named…"},
	} {
		if got := shortName(c.in); got != c.want {
			t.Errorf("shortName(%q) = %q, want %q", c.in, got, c.want)
		}
	}
}
