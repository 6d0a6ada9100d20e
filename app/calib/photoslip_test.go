package calib

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"legwright/app/geodesy"
)

// photoPoints are the first n control points of a photograph from the side,
// clicked with noise of sigmaPx.
func photoPoints(n int, sigmaPx float64, rng *rand.Rand) []ControlPoint {
	all := []PicturePt{{300, 300}, {3700, 350}, {3650, 2700}, {350, 2650}, {2000, 1500}, {1000, 800}, {2900, 2100}, {1100, 2200}, {3000, 700}}
	var out []ControlPoint
	for _, p := range all[:n] {
		w := 1 + 8e-5*p.Col + 3e-5*p.Row
		out = append(out, ControlPoint{
			At:  PicturePt{p.Col + sigmaPx*rng.NormFloat64(), p.Row + sigmaPx*rng.NormFloat64()},
			Ref: geodesy.Grid{E: 215_000 + (2.5*p.Col+0.2*p.Row)/w, N: 774_500 - (2.5*p.Row-0.1*p.Col)/w},
		})
	}
	return out
}

// accused lists the points that the warnings name.
func accused(list []Warning) string {
	var out []int
	for _, w := range list {
		for _, p := range w.Points {
			if p > 0 {
				out = append(out, p)
			}
		}
	}
	return fmt.Sprint(out)
}

// A mistyped reference among the points of a photograph is named, that point
// and no other, from six points on; without it the rest agrees.
func TestSlipAmongFewPointsOfAPhotograph(t *testing.T) {
	t.Parallel()
	runs, wrong, missed := 0, 0, 0
	for seed := range uint64(30) {
		rng := rand.New(rand.NewPCG(seed, 9))
		for n := 6; n <= 9; n++ {
			for _, offM := range []float64{100, -1000} {
				points, bad := photoPoints(n, 0.7, rng), rng.IntN(n)
				points[bad].Ref.E += offM
				c, err := Fit(points, Options{Width: 4000, Height: 3000, Photo: true})
				if err != nil {
					t.Fatalf("seed %d, %d points: %v", seed, n, err)
				}
				runs++
				switch got := accused(c.Warnings()); {
				case got == "[]":
					missed++
				case got != fmt.Sprint([]int{bad + 1}):
					wrong++
				default:
					rest := mustFit(t, without(points, bad), Options{Width: 4000, Height: 3000, Photo: true})
					if rest.Kind() != Perspective || accused(rest.Warnings()) != "[]" {
						t.Errorf("seed %d, %d points: without the slip %s, %v", seed, n, rest.Kind(), rest.Warnings())
					}
				}
				if accused(c.Warnings()) == "[]" && len(c.Warnings()) == 0 {
					t.Errorf("seed %d, %d points, point %d %g m out: no warning at all", seed, n, bad+1, offM)
				}
			}
		}
	}
	t.Logf("%d slips: %d missed, %d with a sound point accused", runs, missed, wrong)
	if wrong > runs/100 || missed > runs/10 {
		t.Errorf("of %d slips %d were missed and %d accused a sound point, want at most %d and %d", runs, missed, wrong, runs/10, runs/100)
	}
}

// Sound points of a photograph accuse nobody.
func TestSoundPhotographAccusesNobody(t *testing.T) {
	t.Parallel()
	const runs = 300
	named := 0
	for seed := range uint64(runs) {
		rng := rand.New(rand.NewPCG(seed, 10))
		c := mustFit(t, photoPoints(5+int(seed%5), 0.7, rng), Options{Width: 4000, Height: 3000, Photo: true})
		if accused(c.Warnings()) != "[]" {
			named++
		}
	}
	if named > runs/100 {
		t.Errorf("sound points accused in %d of %d photographs, want at most %d", named, runs, runs/100)
	}
}
