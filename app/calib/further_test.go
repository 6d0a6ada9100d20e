package calib

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"legwright/app/geodesy"
)

// One more reference adds to a judge what the judge of all of them has, with and without
// evidence, of paper and of a photograph, and where a file's points share an error.
func TestFurtherIsAJudgeOfOneMore(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(17, 3))
	truth := truth{5, 3, geodesy.Grid{E: 412000, N: 634000}}
	at := []PicturePt{{300, 250}, {2700, 300}, {2600, 2200}, {350, 2100}, {1500, 1300}, {900, 1800}, {2100, 700}, {1200, 400}}
	points := shaken(truth.points(at...), 1.5, rng)
	slip := []Shift{{2, 30, -20}, {4, 0, 15}}
	for _, o := range []Options{{Width: 3000, Height: 2400}, {Width: 3000, Height: 2400, Medium: Photograph}, {Width: 3000, Height: 2400, SharedM: 12}} {
		for evidence := range 3 {
			for _, offM := range []float64{0, 4} {
				t.Run(fmt.Sprintf("%+v, %d evidence, %g m off", o, evidence, offM), func(t *testing.T) {
					t.Parallel()
					c := mustFit(t, points[:5], o)
					extra := points[5 : 5+evidence]
					more := ControlPoint{At: at[7], Ref: c.ToGrid(at[7])}
					more.Ref.E += offM
					b := slip
					if evidence > 0 {
						b = append(append([]Shift(nil), slip...), Shift{5, 25, 0})
					}
					all := c.Judge(append(append([]ControlPoint(nil), extra...), more))
					_, bb := all.Gain(b)
					want := bb / math.Max(1, all.Scale2())
					j := c.Judge(extra)
					if got := j.Further(more).Shows(b); !(math.Abs(got-want) <= 1e-9*want) {
						t.Errorf("got %.12g, want %.12g", got, want)
					}
					if _, without := j.Gain(b); !(bb > 1.001*without) {
						t.Errorf("one more adds nothing to %g: the test tries nothing", without)
					}
				})
			}
		}
	}
}
