package calib

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"legwright/app/geodesy"
)

// denseModel is the model of section "Judge" written out in full: one matrix
// V over both axes of all places and the textbook formula for P, by general
// routines. It shares no line with the program's way.
func denseModel(at []PicturePt, clicks, diagonal float64) (p *mat.Dense, a *mat.Dense) {
	n := len(at)
	v := mat.NewDense(2*n, 2*n, nil)
	a = mat.NewDense(2*n, 4, nil)
	bend, length := 0.0003*diagonal, 0.32*diagonal
	for i := range n {
		for j := range n {
			d2 := math.Pow(at[i].Col-at[j].Col, 2) + math.Pow(at[i].Row-at[j].Row, 2)
			k := bend * bend * math.Exp(-d2/(2*length*length))
			if i == j {
				k += clicks * clicks
			}
			shear := math.Pow(0.1*math.Pi/180, 2) * at[i].Row * at[j].Row
			v.Set(i, j, k+0.004*0.004*at[i].Col*at[j].Col+shear)
			v.Set(n+i, n+j, k+0.004*0.004*at[i].Row*at[j].Row)
		}
		a.SetRow(i, []float64{at[i].Col, at[i].Row, 1, 0})
		a.SetRow(n+i, []float64{at[i].Row, -at[i].Col, 0, 1})
	}
	var vi, via, m, mi, t mat.Dense
	_ = vi.Inverse(v)
	via.Mul(&vi, a)
	m.Mul(a.T(), &via)
	_ = mi.Inverse(&m)
	t.Product(&via, &mi, via.T())
	p = new(mat.Dense)
	p.Sub(&vi, &t)
	return p, a
}

// The judge's figures are those of the dense formulas: yᵀPy, bᵀPy and bᵀPb of
// a slip at two places, the second being evidence.
func TestJudgeIsGeneralisedLeastSquares(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(13, 1))
	truth := truth{5, 3, geodesy.Grid{E: 412000, N: 634000}}
	at := []PicturePt{{300, 250}, {2700, 300}, {2600, 2200}, {350, 2100}, {1500, 1300}, {900, 1800}, {2100, 700}}
	points := shaken(truth.points(at...), 1.5, rng)
	c := mustFit(t, points[:6], Options{Width: 3000, Height: 2400})
	j := c.Judge(points[6:])
	p, _ := denseModel(placesOf(points), 0.7, math.Hypot(3000, 2400))
	n := len(points)
	y := mat.NewVecDense(2*n, nil)
	b := mat.NewVecDense(2*n, nil)
	slip := []Shift{{2, 1000, -300}, {6, 0, 150}}
	for i, q := range points {
		g := c.estimate.plane.picture(q.Ref)
		y.SetVec(i, g.Col-q.At.Col)
		y.SetVec(n+i, g.Row-q.At.Row)
	}
	for _, s := range slip {
		col, row := c.estimate.plane.pixels(points[s.I].At, s.East, s.North)
		b.SetVec(s.I, col)
		b.SetVec(n+s.I, row)
	}
	by, bb := j.Gain(slip)
	near(t, "yᵀPy", j.Q(), mat.Inner(y, p, y), 1e-6*j.Q())
	near(t, "bᵀPy", by, mat.Inner(b, p, y), 1e-6*math.Abs(by))
	near(t, "bᵀPb", bb, mat.Inner(b, p, b), 1e-6*bb)
	if j.M() != 2*n-4 {
		t.Errorf("redundancy: got %d, want %d", j.M(), 2*n-4)
	}
}

// Effect says how a fit moves whose references really are so much out.
func TestEffectIsWhatTheFitDoes(t *testing.T) {
	t.Parallel()
	truth := truth{5, -7, geodesy.Grid{E: 412000, N: 634000}}
	at := []PicturePt{{300, 250}, {2700, 300}, {2600, 2200}, {350, 2100}, {1500, 1300}}
	points := truth.points(at...)
	o := Options{Width: 3000, Height: 2400}
	place := PicturePt{1200, 400}
	slip := []Shift{{1, 1, 0}, {2, 1, -0.5}}
	was := mustFit(t, points, o)
	east, north := was.Judge(nil).Effect(slip, place)
	for _, s := range slip {
		points[s.I].Ref.E += s.East
		points[s.I].Ref.N += s.North
	}
	is := mustFit(t, points, o)
	a, b := was.estimate.at(place), is.estimate.at(place)
	near(t, "east", east, b.E-a.E, 0.02) // the clicks look a little looser
	near(t, "north", north, b.N-a.N, 0.02)
}

// A slip of a square at one of six points has overwhelming odds, its size and
// place alone; on a sound sheet no slip has any.
func TestOddsTellASlip(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 5))
	truth := truth{5, 0, geodesy.Grid{E: 412000, N: 634000}}
	at := []PicturePt{{300, 250}, {2700, 300}, {2600, 2200}, {350, 2100}, {1500, 1300}, {900, 1800}}
	points := shaken(truth.points(at...), 0.7, rng)
	slip := []Shift{{4, 1000, 0}}
	if odds := mustFit(t, points, Options{}).Judge(nil).Odds(slip); odds > -10 {
		t.Errorf("sound sheet: log odds %.1f for a slip, want below -10", odds)
	}
	points[4].Ref.E += 1000
	j := mustFit(t, points, Options{}).Judge(nil)
	best := j.Odds(slip)
	if best < 10 {
		t.Errorf("log odds of the true slip: %.1f, want above 10", best)
	}
	for i := range points {
		for _, m := range []float64{-1000, 1000} {
			if other := j.Odds([]Shift{{i, m, 0}}); (i != 4 || m < 0) && other > best-math.Log(200) {
				t.Errorf("slip at %d by %g: log odds %.1f beside the true one's %.1f", i, m, other, best)
			}
		}
	}
}

// A given matrix has no parameters: evidence is compared with it as it is.
func TestJudgeOfAGivenMatrix(t *testing.T) {
	t.Parallel()
	c, err := FromMatrix([6]float64{5, 0, 400000, 0, -5, 600000}, 10, 0)
	if err != nil {
		t.Fatal(err)
	}
	seen := ControlPoint{At: PicturePt{100, 100}, Ref: geodesy.Grid{E: 400500 + 30, N: 599500}}
	j := c.Judge([]ControlPoint{seen})
	near(t, "Q", j.Q(), 6*6/(0.7*0.7+2*2), 1e-9)
	if j.M() != 2 {
		t.Errorf("redundancy: got %d, want 2", j.M())
	}
	if q := c.Judge(nil).Q(); q != 0 {
		t.Errorf("without evidence: got %g, want 0", q)
	}
}

// A given matrix without evidence has nothing to judge, and no slip shows.
func TestGivenMatrixWithoutEvidence(t *testing.T) {
	t.Parallel()
	c, err := FromMatrix([6]float64{5, 0, 20000, 0, -5, 760000}, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	if by, bb := c.Judge(nil).Gain(nil); by != 0 || bb != 0 {
		t.Errorf("gain %g, %g, want none", by, bb)
	}
}
