package calib

import (
	"fmt"
	"math/rand/v2"
	"strings"
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

// TestSuspectedAmongFive: of five points of a photograph one that was misread in
// a usual way is told as what may be wrong; of other slips few are, and nothing is
// ever named for certain.
func TestSuspectedAmongFive(t *testing.T) {
	t.Parallel()
	const runs = 60
	for _, c := range []struct {
		name          string
		slip          func(p []ControlPoint, bad int, rng *rand.Rand)
		named, sounds int // at least so many right, at most so many sound ones
	}{
		{"one kilometre", moved(1000), 54, 0},
		{"seven kilometres", moved(7000), 57, 0},
		{"ten kilometres", moved(10_000), 57, 0},
		{"a hundred kilometres", moved(100_000), 57, 0},
		{"easting for northing", func(p []ControlPoint, bad int, _ *rand.Rand) { p[bad].Ref = swapped(p[bad].Ref) }, 57, 0},
		{"two exchanged", func(p []ControlPoint, bad int, rng *rand.Rand) {
			j := (bad + 1 + rng.IntN(len(p)-1)) % len(p)
			p[bad].Ref, p[j].Ref = p[j].Ref, p[bad].Ref
		}, 57, 0},
		{"a click beside it", func(p []ControlPoint, bad int, _ *rand.Rand) { p[bad].At.Col += 40 }, 0, 1},
		{"anything", func(p []ControlPoint, bad int, rng *rand.Rand) {
			p[bad].Ref.E += 4000*rng.Float64() - 2000
			p[bad].Ref.N += 4000*rng.Float64() - 2000
		}, 0, 3},
	} {
		for _, anywhere := range []bool{false, true} {
			right, wrong := 0, 0
			for seed := range uint64(runs) {
				rng := rand.New(rand.NewPCG(seed, 12))
				points, bad := fivePoints(anywhere, rng), rng.IntN(5)
				sound := append([]ControlPoint(nil), points...)
				c.slip(points, bad, rng)
				fitted, err := Fit(points, Options{Width: 4000, Height: 3000, Photo: true})
				if err != nil {
					continue
				}
				for _, w := range fitted.Warnings() {
					who := w.Points
					switch {
					case w.Code != CodeSuspected && who != [2]int{}:
						t.Errorf("%s, seed %d: named for certain: %s", c.name, seed, w.Text)
					case w.Code != CodeSuspected:
						continue
					case who == [2]int{}: // it cannot be left out
						if _, err := fmt.Sscanf(w.Text, "control point %d may be", &who[0]); err != nil {
							t.Fatal(w.Text)
						}
					}
					if !strings.Contains(w.Text, "may be") || !strings.Contains(w.Text, "no proof") {
						t.Errorf("%s: %q", c.name, w.Text)
					}
					if points[who[0]-1] == sound[who[0]-1] || who[1] > 0 && points[who[1]-1] == sound[who[1]-1] {
						wrong++
					} else {
						right++
					}
					if at := (PicturePt{2200, 1400}); ExamineFeature(fitted, at, fitted.ToGrid(at), 0, 0.7).Agrees {
						t.Errorf("%s, seed %d: proved all the same", c.name, seed)
					}
				}
			}
			t.Logf("%s, anywhere %t: %d of %d told rightly, %d sound ones", c.name, anywhere, right, runs, wrong)
			if right < c.named || wrong > c.sounds {
				t.Errorf("%s, anywhere %t: of %d slips %d are told and %d tell of a sound point, want %d at least and %d at most", c.name, anywhere, runs, right, wrong, c.named, c.sounds)
			}
		}
	}
}

// TestSuspectedIsLeftOutOnlyWhereTheRestHolds: without a corner the middle lies
// on the line of two others, and four such points make no perspective.
func TestSuspectedIsLeftOutOnlyWhereTheRestHolds(t *testing.T) {
	t.Parallel()
	for bad, want := range map[int][2]int{0: {}, 4: {5}} {
		points := photoPoints(5, 0, rand.New(rand.NewPCG(1, 1)))
		points[bad].Ref.N += 10_000
		c := mustFit(t, points, Options{Width: 4000, Height: 3000, Photo: true})
		w := c.Warnings()[0]
		if w.Code != CodeSuspected || w.Points != want || !strings.Contains(w.Text, fmt.Sprintf("control point %d may be the wrong one: were its northing 10 000 m smaller", bad+1)) {
			t.Errorf("point %d: got %+v, want it told with points %v", bad+1, w, want)
		}
	}
}
