package lattice

import (
	"math"
	"math/rand/v2"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// ruled is a lattice of 8 × 13 lines whose intersections bend moves.
func ruled(pitch float64, bend func(col, row float64) (float64, float64)) *Lattice {
	l := &Lattice{SquarePx: pitch, WidthPx: pitch, HeightPx: pitch}
	for i := range 8 {
		for j := range 13 {
			c, r := bend(300.3+pitch*float64(i), 2400.7-pitch*float64(j))
			l.Intersections = append(l.Intersections, Intersection{Col: c, Row: r, I: i, J: j, SigmaPx: 0.04})
		}
	}
	return l
}

// Lines drawn on whole pixels are distinguished from paper that bends, and from a
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

// holds says whether a fit's stated ellipse of 95 % holds the truth at a place.
func holds(fit *calib.Calibration, at calib.PicturePt, want geodesy.Grid) bool {
	got, c := fit.ToGrid(at), fit.Covariance(at, 0)
	de, dn := got.E-want.E, got.N-want.N
	return (c.NN*de*de-2*c.EN*de*dn+c.EE*dn*dn)/(c.EE*c.NN-c.EN*c.EN) <= 5.991
}

// On lines drawn on whole pixels the fit is the simplest, though a smooth one
// follows them more closely, and the stated ellipses of 95 % hold the truth
// within the lattice in at least 93 of 100 sheets: in all, and among those whose
// squares are within a twentieth of a pixel of a whole number of pixels, whose
// lines err alike and show no differences.
func TestWholePixelLines(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 1))
	for _, sheets := range []struct {
		name string
		runs int
		off  float64 // of a square from whole pixels, at most
	}{{"any", 400, 0.5}, {"nearly whole", 400, 0.05}} {
		if testing.Short() {
			sheets.runs /= 40
		}
		held := 0
		for range sheets.runs {
			pitch := math.Round(120+80*rng.Float64()) + sheets.off*(2*rng.Float64()-1)
			if wholePixelSheetHolds(t, rng, pitch) {
				held++
			}
		}
		t.Logf("%s: held in %d of %d", sheets.name, held, sheets.runs)
		if held < sheets.runs*93/100 {
			t.Errorf("%s: held in %d of %d", sheets.name, held, sheets.runs)
		}
	}
}

// wholePixelSheetHolds fits a sheet of lines on whole pixels, and reads a place
// of it.
func wholePixelSheetHolds(t *testing.T, rng *rand.Rand, pitch float64) bool {
	t.Helper()
	moved := [2]float64{rng.Float64(), rng.Float64()}
	l := ruled(pitch, func(c, r float64) (float64, float64) {
		return math.Round(c+moved[0]) + 0.03*rng.NormFloat64(), math.Round(r+moved[1]) + 0.03*rng.NormFloat64()
	})
	points, err := l.Named(Naming{Names: []Name{{At: calib.PicturePt{Col: 300, Row: 2400}, Ref: geodesy.Grid{E: 230000, N: 750000}}}, SquareM: 1000})
	if err != nil {
		t.Fatal(err)
	}
	fit, err := calib.Fit(points, calib.Options{})
	if err != nil {
		t.Fatal(err)
	}
	at := calib.PicturePt{Col: 300 + 7*pitch*rng.Float64(), Row: 2400 - 12*pitch*rng.Float64()}
	return holds(fit, at, geodesy.Grid{E: 230000 + 1000*(at.Col-300.3-moved[0])/pitch, N: 750000 - 1000*(at.Row-2400.7-moved[1])/pitch})
}
