package slips

import (
	"math"
	"slices"

	"legwright/app/calib"
)

const (
	// Visible is bᵀPb, in units of the clicks' variance factor, from which on a
	// slip shows: two errors of 1 in 4,000 each are 3.48 standard deviations
	// apart from the middle, so δ = 6.96 and δ² = 48.5 (the normal distribution).
	Visible = 48.5
	// harmlessTimes is how many times its stated 95 % a slip may move a point and
	// be harmless.
	harmlessTimes = 3
)

// Point is a trusted point of the picture and its stated 95 % in metres.
type Point struct {
	At      calib.PicturePt
	WidthM  float64
	ofJudge calib.JudgedPoint
}

// Judged is control points and evidence against the list of slips.
type Judged struct {
	Judge    *calib.Judge
	Families []Family
	scale2   float64
	points   []Point
	gain     []gain // of each family
	beside   [][]calib.Shift
}

// gain is bᵀPy and bᵀPb of a family's unit.
type gain struct{ by, bb float64 }

// Weigh checks the families against the judge at the points given. beside are
// displacements that may be there in any case, such as those of references on
// another datum: a slip shows only where it would show with each of them, too.
func Weigh(j *calib.Judge, families []Family, points []Point, beside ...[]calib.Shift) *Judged {
	out := &Judged{Judge: j, Families: families, scale2: math.Max(1, j.Scale2()), points: make([]Point, len(points)), beside: beside}
	for i, p := range points {
		p.ofJudge = j.Point(p.At)
		out.points[i] = p
	}
	out.gain = make([]gain, len(families))
	for i := range families {
		by, bb := j.Gain(families[i].Unit)
		out.gain[i] = gain{by, bb}
	}
	return out
}

// Open returns the slips that would not show and would do harm, the smallest of
// each family. shown says that something beside points and evidence shows the slip of a
// size; nil: nothing does.
func (w *Judged) Open(shown func(f *Family, size float64) bool) []Slip {
	var out []Slip
	for i := range w.Families {
		f := &w.Families[i]
		least, harm := math.Inf(1), harm{w: w, f: f, safe: math.Inf(1)}
		for _, size := range f.Sizes {
			if math.Abs(size) < math.Abs(least) && !w.visible(i, size) && harm.by(math.Abs(size)) && (shown == nil || !shown(f, size)) {
				least = size
			}
		}
		if !math.IsInf(least, 0) {
			out = append(out, f.slip(least))
		}
	}
	return out
}

// Truth is how far from where the sheet puts a point of the picture it would truly lie if
// the slip of a size had been made, in metres.
func (w *Judged) Truth(f *Family, size float64, at calib.PicturePt) (eastM, northM float64) {
	if f.Off != nil {
		e, n := f.Off(at)
		return size * e, size * n
	}
	e, n := w.Judge.Point(at).Effect(w.Judge.Push(f.Unit))
	return -size * e, -size * n
}

// visible reports whether the slip of a size would show.
func (w *Judged) visible(i int, size float64) bool {
	if size*size*w.gain[i].bb < Visible*w.scale2 {
		return false
	}
	for _, other := range w.beside {
		if _, bb := w.Judge.Gain(sum(w.Families[i].slip(size).shifts, other)); bb < Visible*w.scale2 {
			return false
		}
	}
	return true
}

// sum adds two displacements.
func sum(a, b []calib.Shift) []calib.Shift {
	out := slices.Clone(a)
	for _, s := range b {
		if at := slices.IndexFunc(out, func(x calib.Shift) bool { return x.I == s.I }); at >= 0 {
			out[at].East, out[at].North = out[at].East+s.East, out[at].North+s.North
		} else {
			out = append(out, s)
		}
	}
	return out
}

// harm is what slips of a family do to the points, worked out point by point as far as
// it is asked for.
type harm struct {
	w    *Judged
	f    *Family
	push calib.Push // what the family's unit does, once a point was asked for
	next int        // the point that was not asked for yet
	safe float64    // below this size a slip harms none of those before; NaN: any size does
}

// by reports whether a slip of a size moves a point too far.
func (h *harm) by(size float64) bool {
	for ; size < h.safe && h.next < len(h.w.points); h.next++ {
		p := &h.w.points[h.next]
		h.safe = math.Min(h.safe, harmlessTimes*p.WidthM/h.moved(p))
	}
	return !(size < h.safe)
}

// moved is how far the family's unit moves a point, in metres.
func (h *harm) moved(p *Point) float64 {
	if h.f.Off != nil {
		return math.Hypot(h.f.Off(p.At))
	}
	if h.next == 0 {
		h.push = h.w.Judge.Push(h.f.Unit)
	}
	return math.Hypot(p.ofJudge.Effect(h.push))
}
