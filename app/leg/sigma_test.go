package leg

import (
	"math"
	"math/rand/v2"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
)

// Clicks are simulated: control points are clicked again and again with their
// σ, the sheet is fitted anew, and both ends are picked with theirs. The
// spread of bearing and distance must not exceed what the reading says, to within
// what 4000 trials can tell (σ of a σ: 1/√(2·4000) = 1.1 %; five of them allowed).
func TestSigmaAgainstSimulatedPicks(t *testing.T) {
	t.Parallel()
	const trials, tol = 4000, 0.056
	for _, c := range []struct {
		name     string
		points   [][4]float64
		from, to calib.PicturePt
		most     float64 // by how much σ may exceed the spread of clicks alone: paper counts too
	}{
		{"two points, long leg", corners()[:2], calib.PicturePt{Col: 300, Row: 1700}, calib.PicturePt{Col: 1500, Row: 400}, 20},
		{"four points, short leg", corners(), calib.PicturePt{Col: 900, Row: 900}, calib.PicturePt{Col: 960, Row: 1000}, 1.3},
	} {
		sheet := sheetOf(c.points...)
		p := plan.New(day).SetSheet(sheet)
		// Exact references and picks: the a-priori σ stands, for s₀ is 0.
		want, err := readerOf(t, p).Read(pick(t, sheet, c.from.Col, c.from.Row), pick(t, sheet, c.to.Col, c.to.Row))
		if err != nil {
			t.Fatal(err)
		}
		rng := rand.New(rand.NewPCG(7, 11))
		var bearing, distance spread
		for range trials {
			noisy := sheet
			for i, q := range sheet.Points {
				q.At = jitter(rng, q.At, calib.DefaultSigmaPx)
				noisy = noisy.SetPoint(i, q)
			}
			cal, err := noisy.Calibration()
			if err != nil {
				t.Fatal(err)
			}
			a, b := cal.ToGrid(jitter(rng, c.from, 0.5)), cal.ToGrid(jitter(rng, c.to, 0.5))
			g, _ := units.GridBearingOf(b.E-a.E, b.N-a.N)
			bearing.add((g.Angle() - want.Grid.Angle()).Signed().Rad())
			distance.add(math.Hypot(b.E-a.E, b.N-a.N) - want.GridM)
		}
		for _, k := range []struct {
			name      string
			got, want float64
		}{
			{"bearing", want.BearingSigma.Rad(), bearing.sigma()},
			{"distance", want.DistanceSigmaM, distance.sigma()},
		} {
			if !(k.got/k.want > 1-tol && k.got/k.want < c.most) {
				t.Errorf("%s: σ of %s said %.6g, simulated %.6g", c.name, k.name, k.got, k.want)
			}
		}
	}
}

func jitter(rng *rand.Rand, p calib.PicturePt, sigma float64) calib.PicturePt {
	return calib.PicturePt{Col: p.Col + sigma*rng.NormFloat64(), Row: p.Row + sigma*rng.NormFloat64()}
}

type spread struct{ n, sum, squares float64 }

func (s *spread) add(x float64) { s.n++; s.sum += x; s.squares += x * x }

func (s *spread) sigma() float64 {
	mean := s.sum / s.n
	return math.Sqrt(s.squares/s.n - mean*mean)
}

func TestMagneticSigmaAddsTheModels(t *testing.T) {
	t.Parallel()
	r, err := sightOn(system(t, 27700), day, geodesy.Grid{E: 53_000, N: 797_000}, geodesy.Grid{E: 54_000, N: 797_000}, 10, 10)
	if err != nil {
		t.Fatal(err)
	}
	// Two ends of 10 m each across 1 km: √2·10/1000 rad.
	if want := math.Sqrt2 * 10 / 1000; math.Abs(r.BearingSigma.Rad()-want) > 1e-9 {
		t.Errorf("σ of the bearing %g, want %g", r.BearingSigma.Rad(), want)
	}
	if want := math.Sqrt2 * 10; math.Abs(r.DistanceSigmaM-want) > 1e-9 {
		t.Errorf("σ of the distance %g m, want %g", r.DistanceSigmaM, want)
	}
	want := math.Hypot(r.BearingSigma.Deg(), r.DeclinationSigma.Deg())
	if math.Abs(r.MagneticSigma.Deg()-want) > 1e-9 || r.DeclinationSigma.Deg() < 0.26 {
		t.Errorf("σ of the magnetic bearing %g°, want %g°", r.MagneticSigma.Deg(), want)
	}
}
