package calib

import (
	"math"
	"math/rand/v2"
	"testing"

	"legwright/app/geodesy"
)

// bearingVariance propagates a joint covariance to the bearing from a to b.
func bearingVariance(j Cov4, a, b geodesy.Grid) float64 {
	de, dn := b.E-a.E, b.N-a.N
	d2 := de*de + dn*dn
	g := [4]float64{-dn / d2, de / d2, dn / d2, -de / d2}
	var v float64
	for i := range g {
		for k := range g {
			v += g[i] * j[i][k] * g[k]
		}
	}
	return v
}

// Simulated calibrations with noise drawn from the stated prior: the stated
// 95% interval of a position (each axis, and the 95% ellipse) and of a bearing
// must hold the truth in about 95% of them. With redundancy the factor
// max(1, s₀²) can only widen the intervals, so the band is open a little
// further upwards there. With 600 runs the standard error of a rate is 0.9%.
func TestStatedIntervalsCover(t *testing.T) {
	t.Parallel()
	corners := []PicturePt{{400, 380}, {3600, 2900}, {3600, 380}, {400, 2900}, {2000, 1600}, {800, 2000}}
	for _, tc := range []struct {
		name     string
		points   int
		kind     Kind
		min, max float64
	}{
		{"two points", 2, Similarity, 0.93, 0.97},
		{"three points", 3, Similarity, 0.93, 0.99},
		{"six points", 6, Similarity, 0.93, 0.98},
		{"affine of three", 3, Affine, 0.93, 0.97},
		{"affine of six", 6, Affine, 0.93, 0.98},
	} {
		east, north, ellipse, bearing := 0, 0, 0, 0
		const runs = 600
		for seed := range uint64(runs) {
			rng := rand.New(rand.NewPCG(seed, uint64(tc.points)))
			m := truth{2.5, rng.Float64()*20 - 10, geodesy.Grid{E: 112000, N: 834000}}
			c := mustFit(t, shaken(m.points(corners[:tc.points]...), DefaultSigmaPx, rng), Options{Kind: tc.kind})
			p := PicturePt{rng.Float64() * 4000, rng.Float64() * 3200}
			q := PicturePt{p.Col + 500 + 1500*rng.Float64(), p.Row + rng.Float64()*1000}
			// Both are picked with 0.2 pixel of noise, so that the calibration's share shows.
			pick := func(p PicturePt) PicturePt {
				return PicturePt{p.Col + 0.2*rng.NormFloat64(), p.Row + 0.2*rng.NormFloat64()}
			}
			pp, qq := pick(p), pick(q)
			got, want := c.ToGrid(pp), m.grid(p)
			cov := c.Covariance(pp, 0.2)
			if math.Abs(got.E-want.E) <= 1.96*math.Sqrt(cov.EE) {
				east++
			}
			if math.Abs(got.N-want.N) <= 1.96*math.Sqrt(cov.NN) {
				north++
			}
			if cov.mahalanobis2(got.E-want.E, got.N-want.N) <= 5.991 {
				ellipse++
			}
			far, farWant := c.ToGrid(qq), m.grid(q)
			turn := math.Atan2(far.E-got.E, far.N-got.N) - math.Atan2(farWant.E-want.E, farWant.N-want.N)
			turn = math.Remainder(turn, 2*math.Pi)
			if math.Abs(turn) <= 1.96*math.Sqrt(bearingVariance(c.Joint(pp, qq, 0.2, 0.2), got, far)) {
				bearing++
			}
		}
		for what, hits := range map[string]int{"easting": east, "northing": north, "ellipse": ellipse, "bearing": bearing} {
			rate := float64(hits) / runs
			t.Logf("%s: %s covered in %.1f%%", tc.name, what, 100*rate)
			if rate < tc.min || rate > tc.max {
				t.Errorf("%s: %s covered in %.1f%%, want %.0f%% to %.0f%%", tc.name, what, 100*rate, 100*tc.min, 100*tc.max)
			}
		}
	}
}

// The joint covariance must be symmetric and positive semi-definite, and equal
// to the single ones on its diagonal.
func TestJointIsConsistent(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 8))
	for _, kind := range []Kind{Similarity, Affine} {
		c := mustFit(t, randomPoints(rng, 5), Options{Kind: kind})
		for range 50 {
			p := PicturePt{rng.Float64() * 5000, rng.Float64() * 4000}
			q := PicturePt{rng.Float64() * 5000, rng.Float64() * 4000}
			j := c.Joint(p, q, 0.3, 0.6)
			pp, qq := c.Covariance(p, 0.3), c.Covariance(q, 0.6)
			near(t, "E1E1", j[0][0], pp.EE, 1e-9)
			near(t, "N1N1", j[1][1], pp.NN, 1e-9)
			near(t, "E2N2", j[2][3], qq.EN, 1e-9)
			for i := range 4 {
				for k := range 4 {
					near(t, "symmetry", j[i][k], j[k][i], 1e-9)
				}
			}
			x := [4]float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
			var form float64
			for i := range 4 {
				for k := range 4 {
					form += x[i] * j[i][k] * x[k]
				}
			}
			if form <= 0 {
				t.Fatalf("quadratic form: got %g, want above 0", form)
			}
		}
	}
}
