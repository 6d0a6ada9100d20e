package lattice

import (
	"math"
	"math/rand/v2"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// ruled is a lattice of 8 × 13 lines whose crossings bend moves.
func ruled(pitch float64, bend func(col, row float64) (float64, float64)) *Lattice {
	l := &Lattice{SquarePx: pitch, WidthPx: pitch, HeightPx: pitch}
	for i := range 8 {
		for j := range 13 {
			c, r := bend(300.3+pitch*float64(i), 2400.7-pitch*float64(j))
			l.Crossings = append(l.Crossings, Crossing{Col: c, Row: r, I: i, J: j, SigmaPx: 0.04})
		}
	}
	return l
}

// Lines drawn on whole pixels are told from paper that bends, and from a
// perspective.
func TestLineNoise(t *testing.T) {
	t.Parallel()
	snapped := func(c, r float64) (float64, float64) { return math.Round(c), math.Round(r) }
	bowed := func(c, r float64) (float64, float64) {
		return c + 8*math.Sin(r/700)*math.Cos(c/900), r + 8*math.Cos(c/800)
	}
	askew := func(c, r float64) (float64, float64) {
		w := 1 + 6e-5*c - 9e-5*r
		return c / w, r / w
	}
	for _, tc := range []struct {
		name     string
		bend     func(c, r float64) (float64, float64)
		min, max float64 // px
	}{
		{"whole pixels", snapped, 0.2, 0.4}, // uniform over a pixel: 0.29
		{"bent paper", bowed, 0, leastLineSigmaPx},
		{"askew", askew, 0, leastLineSigmaPx},
		{"exact", func(c, r float64) (float64, float64) { return c, r }, 0, leastLineSigmaPx},
	} {
		if got := ruled(175.21, tc.bend).lineSigmaPx(); got < tc.min || got > tc.max {
			t.Errorf("%s: got %.3f px, want %.2f to %.2f", tc.name, got, tc.min, tc.max)
		}
	}
}

// On lines drawn on whole pixels the fit is the simplest, though a smooth one
// follows them more closely, and the stated ellipses of 95 % hold the truth
// within the lattice in at least 85 of 100 sheets, where crossings taken as
// independent hold it in half of them. What is missed are squares within a
// tenth of a pixel of a whole number of pixels: their lines drift together, and
// no difference shows it.
func TestWholePixelLines(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 1))
	const runs = 200
	held := 0
	for run := range runs {
		pitch := 120 + 80*rng.Float64()
		l := ruled(pitch, func(c, r float64) (float64, float64) {
			return math.Round(c) + 0.03*rng.NormFloat64(), math.Round(r) + 0.03*rng.NormFloat64()
		})
		points, err := l.Named([]Name{{calib.PicturePt{Col: 300, Row: 2400}, geodesy.Grid{E: 230000, N: 750000}}}, 1000, 0)
		if err != nil {
			t.Fatal(err)
		}
		kind := calib.Similarity
		if run < 20 {
			kind = calib.Auto
		}
		fit, err := calib.Fit(points, calib.Options{Kind: kind})
		if err != nil {
			t.Fatal(err)
		}
		if fit.Kind() != calib.Similarity {
			t.Errorf("squares of %.2f px: got %s, want similarity: %+v", pitch, fit.Kind(), fit.Trials())
		}
		at := calib.PicturePt{Col: 300 + 7*pitch*rng.Float64(), Row: 2400 - 12*pitch*rng.Float64()}
		want := geodesy.Grid{E: 230000 + 1000*(at.Col-300.3)/pitch, N: 750000 - 1000*(at.Row-2400.7)/pitch}
		got, c := fit.ToGrid(at), fit.Covariance(at, 0)
		de, dn := got.E-want.E, got.N-want.N
		if (c.NN*de*de-2*c.EN*de*dn+c.EE*dn*dn)/(c.EE*c.NN-c.EN*c.EN) <= 5.991 {
			held++
		}
	}
	t.Logf("held in %d of %d", held, runs)
	if held < runs*85/100 {
		t.Errorf("held in %d of %d", held, runs)
	}
}
