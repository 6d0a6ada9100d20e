package main

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"legwright/app/caution"
	"legwright/cmd/internal/checksheet"
)

// A point a square out often passes for another tilt of the camera where a photograph has
// four points. So four are a stop, right or wrong; a fifth near the middle shows the slip,
// and accuses nobody whose references are right.
func TestFourPointsOfAPhotographAreAStop(t *testing.T) {
	t.Parallel()
	passed := 0
	for i := range 60 {
		dice := rand.New(rand.NewPCG(14, uint64(i)))
		paper := []checksheet.Paper{checksheet.Lens, checksheet.Oblique, checksheet.WithEXIF}[i%3]
		s := checksheet.Make(checksheet.Recipe{Paper: paper, Layout: checksheet.Spread, N: 12}, dice)
		all := s.Points
		middle := slices.MinFunc(all[4:], func(a, b checksheet.Point) int { return int(fromMiddle(a) - fromMiddle(b)) })
		for _, slipped := range []bool{false, true} {
			s.Points = append(slices.Clone(all[:4]), middle)
			var slip checksheet.Slip
			if slipped {
				var ok bool
				if slip, ok = s.Put(checksheet.PointOne); !ok || slip.Points[0] == 4 {
					continue
				}
			}
			if five := ask(s); five.accused() != slipped || five.c != nil && caution.Has(five.CautionsWith(five.c), caution.PhotoNeedsFive) {
				t.Errorf("%s %d: slipped %v, five points say %v", paper, i, slipped, five.stops)
			}
			s.Points = s.Points[:4]
			four := ask(s)
			if four.c != nil && !caution.Stops(four.CautionsWith(four.c), caution.All) {
				t.Errorf("%s %d: slipped %v, four points have no stop", paper, i, slipped)
			}
			if slipped && four.c != nil && !four.accused() {
				passed++
			}
		}
	}
	if passed == 0 {
		t.Error("none of the slips passed for a tilt: the made photographs show nothing")
	}
}

func fromMiddle(p checksheet.Point) float64 {
	return math.Hypot(p.At.X-checksheet.Width/2, p.At.Y-checksheet.Height/2)
}
