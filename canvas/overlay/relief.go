package overlay

import (
	"context"
	"math"
	"sync"
	"sync/atomic"

	"legwright/canvas/view"
)

// Relief is the ground of a sheet by terrain, for its steepness and its contours. Make
// it with ReliefOf; Showing says what is drawn.
type Relief struct {
	nets      []reliefNet // the finest first, each with half the knots of the one before
	intervalM float64     // of the contours, 0 for none
	overDeg   float64     // from which ground is over-steep, 0 for no hatching
}

// reliefNet is the ground at the knots of one net.
type reliefNet struct {
	heightM field // NaN where terrain has none
	slope   field // degrees: the steepest of the ground round a knot that is known
	void    field // 1 where something of that ground is not known, else 0
}

// GroundSpot is the ground at a point of the picture. Figures that are not known are NaN.
type GroundSpot struct {
	HeightM  float64
	SlopeDeg float64 // the steepest around it that is known
	Void     bool    // something of that is not known
}

// SlopeLevels are the slopes in degrees from which the hatching is denser; from the last
// it is crossed. Where ground is over-steep from less than 15° it is hatched from there.
func SlopeLevels(overDeg float64) []float64 { return []float64{min(15, overDeg), 20, 25, 35} }

// mostKnots bounds the memory of the finest net: 20 MB.
const mostKnots = 800_000

// ReliefOf asks for the ground at even steps over a picture of w × h pixels, stepPx apart
// or nearer. Between knots that would be more than mostKnots the steepest of several
// spots stands, so that no steep ground is lost. at is called from several goroutines,
// tell with the rows done of all. The second value is false if ctx ended first.
func ReliefOf(ctx context.Context, w, h int, stepPx float64, at func(view.PicPt) GroundSpot, tell func(done, all int)) (*Relief, bool) {
	knotPx := max(stepPx, math.Sqrt(float64(w)*float64(h)/mostKnots))
	each := int(math.Ceil(knotPx/stepPx - 1e-9)) // spots along a side of a knot's ground
	net := newReliefNet(w, h, knotPx)
	var done atomic.Int64
	var work sync.WaitGroup
	next := make(chan int)
	for range 2 {
		work.Go(func() {
			for j := range next {
				net.readRow(j, each, at)
				tell(int(done.Add(1)), net.slope.rows)
			}
		})
	}
	for j := 0; j < net.slope.rows && ctx.Err() == nil; j++ {
		next <- j
	}
	close(next)
	work.Wait()
	if ctx.Err() != nil {
		return nil, false
	}
	r := &Relief{nets: []reliefNet{net}}
	for net.slope.cols > 64 && net.slope.rows > 64 {
		net = net.halved()
		r.nets = append(r.nets, net)
	}
	return r, true
}

// Showing returns the relief with what is drawn of it: the steepness, with thick lines where it is
// overDeg degrees or more, and contours intervalM metres apart; none of either for 0.
func (r *Relief) Showing(overDeg, intervalM float64) *Relief {
	out := *r
	out.overDeg, out.intervalM = overDeg, intervalM
	return &out
}

// Voids reports whether some of the sheet's ground has no heights, and whether all has.
func (r *Relief) Voids() (some, all bool) {
	all = true
	for _, v := range r.nets[0].void.at {
		some, all = some || v > 0, all && v > 0
	}
	return some, all
}

func newReliefNet(w, h int, knotPx float64) reliefNet {
	var n reliefNet
	for _, f := range []*field{&n.heightM, &n.slope, &n.void} {
		f.cols, f.rows = max(2, int(math.Ceil(float64(w)/knotPx))+1), max(2, int(math.Ceil(float64(h)/knotPx))+1)
		f.stepX, f.stepY = float64(w)/float64(f.cols-1), float64(h)/float64(f.rows-1)
		f.at = make([]float64, f.cols*f.rows)
	}
	return n
}

// readRow reads a row of knots, each with the ground half a step around it.
func (n *reliefNet) readRow(j, each int, at func(view.PicPt) GroundSpot) {
	for i := range n.slope.cols {
		k, knot := j*n.slope.cols+i, n.slope.knot(i, j)
		middle := at(knot)
		n.heightM.at[k], n.slope.at[k] = middle.HeightM, middle.SlopeDeg
		void := middle.Void
		for a := range each {
			for b := range each {
				if each == 1 {
					break
				}
				s := at(view.PicPt{
					X: knot.X + n.slope.stepX*((float64(a)+0.5)/float64(each)-0.5),
					Y: knot.Y + n.slope.stepY*((float64(b)+0.5)/float64(each)-0.5),
				})
				n.slope.at[k], void = steeper(n.slope.at[k], s.SlopeDeg), void || s.Void
			}
		}
		if void {
			n.void.at[k] = 1
		}
	}
}

// steeper is the larger of two slopes of which one may be unknown.
func steeper(a, b float64) float64 {
	if a != a || b > a {
		return b
	}
	return a
}

// halved is the same ground at every second knot: of slopes the steepest of the
// neighbours, and a void where one of them is.
func (n reliefNet) halved() reliefNet {
	var out reliefNet
	for _, f := range []struct {
		from field
		to   *field
		join func(a, b float64) float64
	}{
		{n.heightM, &out.heightM, nil},
		{n.slope, &out.slope, steeper},
		{n.void, &out.void, math.Max},
	} {
		*f.to = f.from.halved(f.join)
	}
	return out
}

// halved keeps every second knot, joined with its neighbours, or as it is if join is nil. The
// last row and column are kept too, so that the net still covers the picture.
func (f field) halved(join func(a, b float64) float64) field {
	out := field{cols: f.cols/2 + 1, rows: f.rows/2 + 1, stepX: 2 * f.stepX, stepY: 2 * f.stepY}
	out.at = make([]float64, out.cols*out.rows)
	for j := range out.rows {
		for i := range out.cols {
			at := func(di, dj int) float64 {
				return f.at[min(max(2*j+dj, 0), f.rows-1)*f.cols+min(max(2*i+di, 0), f.cols-1)]
			}
			v := at(0, 0)
			for k := 0; join != nil && k < 9; k++ {
				v = join(v, at(k%3-1, k/3-1))
			}
			out.at[j*out.cols+i] = v
		}
	}
	return out
}
