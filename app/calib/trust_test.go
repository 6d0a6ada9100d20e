package calib

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// How far points reach in a picture of 4000 × 3200 pixels at 2.5 m a pixel.
func TestTrust(t *testing.T) {
	t.Parallel()
	m := sheetTruth()
	far := PicturePt{3990, 3190}
	for _, tc := range []struct {
		name     string
		at       []PicturePt
		kind     Kind
		code     string
		min, max float64 // reach, pixels
		words    []string
		trusted  bool // of the bottom right corner
	}{
		{"all over", strewn(6, rand.New(rand.NewPCG(1, 1))), Auto, "", math.Inf(1), math.Inf(1), nil, true},
		{"two far apart", []PicturePt{{400, 400}, {3600, 2900}}, Auto, "", math.Inf(1), math.Inf(1), nil, true},
		{"two along the top", []PicturePt{{300, 300}, {3700, 310}}, Auto, "", math.Inf(1), math.Inf(1), nil, true},
		{"two in a corner", []PicturePt{{300, 300}, {900, 700}}, Auto, CodeShortReach, 300, 722, []string{"one part of the picture", "far corner"}, false},
		{"six in a corner", []PicturePt{{300, 300}, {1100, 300}, {1100, 900}, {300, 900}, {700, 600}, {500, 700}}, Auto, CodeShortReach, 500, 1000, []string{"mm", "add a point over there"}, false},
		{"affine in a band", []PicturePt{{300, 300}, {2000, 380}, {3700, 300}, {1000, 420}}, Affine, CodeShortReach, 100, 1500, []string{"far corner it is good to ±"}, false},
		{"on one line", []PicturePt{{300, 400}, {1500, 400}, {2500, 400}, {3700, 400}}, Similarity, CodeCollinear, 300, 300, []string{"one line", "300 px (30 mm)", "a similarity holds", "far corner"}, false},
	} {
		c := mustFit(t, m.points(tc.at...), Options{Kind: tc.kind, Width: 4000, Height: 3200, DPI: 254})
		got := c.Trust()
		if got.Code != tc.code || !(got.ReachPx >= tc.min && got.ReachPx <= tc.max) {
			t.Errorf("%s: got %+v, want %q, reach %g to %g px", tc.name, got, tc.code, tc.min, tc.max)
		}
		if ok, _ := c.Trusted(far); ok != tc.trusted {
			t.Errorf("%s: far corner trusted %v, want %v", tc.name, ok, tc.trusted)
		}
		if ok, _ := c.Trusted(tc.at[0]); !ok {
			t.Errorf("%s: a control point is not trusted", tc.name)
		}
		for _, w := range tc.words {
			if text := text(c.Warnings(), tc.code); !strings.Contains(text, w) {
				t.Errorf("%s: got %q, want %q in it", tc.name, text, w)
			}
		}
		if tc.code == "" && text(c.Warnings(), CodeShortReach)+text(c.Warnings(), CodeCollinear) != "" {
			t.Errorf("%s: warned: %v", tc.name, c.Warnings())
		}
	}
}

// What is stated of the far corner is the 95 % interval: the corner of 400
// sheets with three points in one corner, clicked with the stated noise, lies
// within it in 95 of 100 (the interval is that of the worst direction, so that
// a few more do).
func TestFarErrorCovers(t *testing.T) {
	t.Parallel()
	m, rng := sheetTruth(), rand.New(rand.NewPCG(7, 3))
	at := []PicturePt{{300, 300}, {900, 350}}
	const runs = 400
	held, size := 0, 0.0
	for range runs {
		c := mustFit(t, shaken(m.points(at...), DefaultSigmaPx, rng), Options{Width: 4000, Height: 3200})
		tr := c.Trust()
		if tr.Code != CodeShortReach || tr.Far != (PicturePt{4000, 3200}) {
			t.Fatalf("got %+v, want the bottom right corner", tr)
		}
		want, got := m.grid(tr.Far), c.ToGrid(tr.Far)
		mid := m.grid(PicturePt{600, 325})
		u := gridDistance(mid, want)
		e, n := (mid.E-want.E)/u, (mid.N-want.N)/u
		across := math.Abs((got.E-want.E)*n - (got.N-want.N)*e) // of the way to the points, metres
		if across <= tr.FarErrorM {
			held++
		}
		size = tr.FarErrorM
	}
	if held < runs*93/100 || held > runs*98/100 {
		t.Errorf("within ± %.0f m in %d of %d", size, held, runs)
	}
}

// With no size of the picture nothing is said of corners, and a line of points
// is still told.
func TestTrustOfUnknownSize(t *testing.T) {
	t.Parallel()
	m := sheetTruth()
	c := mustFit(t, m.points(PicturePt{300, 300}, PicturePt{900, 350}, PicturePt{500, 700}), Options{})
	if got := c.Trust(); got.Code != "" || !math.IsInf(got.ReachPx, 1) || got.FarErrorM != 0 {
		t.Errorf("got %+v, want nothing said", got)
	}
	line := mustFit(t, m.points(PicturePt{300, 300}, PicturePt{900, 300}, PicturePt{2000, 300}), Options{})
	if ok, out := line.Trusted(PicturePt{900, 1300}); ok || math.Abs(out-1000) > 1e-9 {
		t.Errorf("1000 px off the line: trusted %v, %g px outside", ok, out)
	}
	if _, err := Fit(m.points(PicturePt{300, 300}, PicturePt{900, 350}), Options{Width: -1}); err == nil {
		t.Error("a negative width was taken")
	}
}
