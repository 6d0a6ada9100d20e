package calib

import (
	"math/rand/v2"
	"testing"

	"legwright/app/geodesy"
)

// scattered are five places anywhere in a picture, not close to each other.
func scattered(rng *rand.Rand) []PicturePt {
	for {
		var out []PicturePt
		apart := true
		for range 5 {
			p := PicturePt{200 + 3600*rng.Float64(), 200 + 2600*rng.Float64()}
			for _, q := range out {
				apart = apart && pictureDistance(p, q) > 900
			}
			out = append(out, p)
		}
		if apart {
			return out
		}
	}
}

// fivePoints are those of a photograph: four corners and the middle, or anywhere.
func fivePoints(anywhere bool, rng *rand.Rand) []ControlPoint {
	if !anywhere {
		return photoPoints(5, 0.7, rng)
	}
	var out []ControlPoint
	for _, p := range scattered(rng) {
		w := 1 + 8e-5*p.Col + 3e-5*p.Row
		out = append(out, ControlPoint{
			At:  PicturePt{p.Col + 0.7*rng.NormFloat64(), p.Row + 0.7*rng.NormFloat64()},
			Ref: geodesy.Grid{E: 215_000 + (2.5*p.Col+0.2*p.Row)/w, N: 774_500 - (2.5*p.Row-0.1*p.Col)/w},
		})
	}
	return out
}

// moved moves a reference by so many metres, east or north, up or down.
func moved(m float64) func([]ControlPoint, int, *rand.Rand) {
	return func(p []ControlPoint, bad int, rng *rand.Rand) {
		off := m * float64(1-2*rng.IntN(2))
		if rng.IntN(2) == 0 {
			p[bad].Ref.E += off
		} else {
			p[bad].Ref.N += off
		}
	}
}

// TestASlipAmongFiveIsAPoorFit: five points of a photograph show that one of
// them is wrong and not which. The fit is marked as poor, no point is named, and
// nothing proves the sheet.
func TestASlipAmongFiveIsAPoorFit(t *testing.T) {
	t.Parallel()
	for name, slip := range map[string]func(p []ControlPoint, bad int, rng *rand.Rand){
		"one kilometre":       moved(1000),
		"ten kilometres":      moved(10_000),
		"easting as northing": func(p []ControlPoint, bad int, _ *rand.Rand) { p[bad].Ref = swapped(p[bad].Ref) },
		"two swapped": func(p []ControlPoint, bad int, _ *rand.Rand) {
			j := (bad + 1) % len(p)
			p[bad].Ref, p[j].Ref = p[j].Ref, p[bad].Ref
		},
	} {
		for seed := range uint64(60) {
			rng := rand.New(rand.NewPCG(seed, 12))
			points := fivePoints(seed%2 == 1, rng)
			slip(points, rng.IntN(5), rng)
			c, err := Fit(points, Options{Width: 4000, Height: 3000, Photo: true})
			if err != nil {
				continue // refused outright
			}
			poor := false
			for _, w := range c.Warnings() {
				poor = poor || w.Code == CodePoorFit || w.Code == CodeMirrored
				if w.Points != [2]int{} {
					t.Errorf("%s, seed %d: named for certain: %s", name, seed, w.Text)
				}
			}
			if !poor {
				t.Errorf("%s, seed %d: nothing says that the points do not fit: %+v", name, seed, c.Warnings())
			}
			if at := (PicturePt{2200, 1400}); ExamineFeature(c, at, c.ToGrid(at), 0, 0.7).Agrees {
				t.Errorf("%s, seed %d: proved all the same", name, seed)
			}
		}
	}
}
