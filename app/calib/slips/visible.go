package slips

import (
	"math"

	"legwright/app/calib"
)

const (
	// Visible is bᵀPb, in units of the clicks' variance factor, from which on a
	// slip shows: two errors of 1 in 4,000 each are 3.48 standard deviations
	// apart from the middle, so δ = 6.96 and δ² = 48.5 (the normal distribution).
	Visible = 48.5
	// harmlessTimes is how many times its stated 95 % a slip may move a place and
	// be harmless.
	harmlessTimes = 3
)

// Place is a trusted place of the picture and its stated 95 % in metres.
type Place struct {
	At      calib.PicturePt
	WidthM  float64
	ofJudge calib.Place
}

// Judged is control points and evidence against the list of slips.
type Judged struct {
	Judge    *calib.Judge
	Families []Family
	scale2   float64
	places   []Place
	gain     []gain // of each family
}

// gain is bᵀPy and bᵀPb of a family's unit.
type gain struct{ by, bb float64 }

// Weigh holds the families against the judge at the places given.
func Weigh(j *calib.Judge, families []Family, places []Place) *Judged {
	out := &Judged{Judge: j, Families: families, scale2: math.Max(1, j.Scale2()), places: make([]Place, len(places))}
	for i, p := range places {
		p.ofJudge = j.Place(p.At)
		out.places[i] = p
	}
	out.gain = make([]gain, len(families))
	for i := range families {
		by, bb := j.Gain(families[i].Unit)
		out.gain[i] = gain{by, bb}
	}
	return out
}

// Open returns the slips that would not show and would do harm, the smallest of
// each family.
func (w *Judged) Open() []Slip {
	var out []Slip
	for i := range w.Families {
		f := &w.Families[i]
		least := math.Inf(1)
		for _, size := range f.Sizes {
			if math.Abs(size) < math.Abs(least) && size*size*w.gain[i].bb < Visible*w.scale2 && w.harms(f, math.Abs(size)) {
				least = size
			}
		}
		if !math.IsInf(least, 0) {
			out = append(out, f.slip(least))
		}
	}
	return out
}

// harms reports whether a slip of a size moves a place too far.
func (w *Judged) harms(f *Family, size float64) bool {
	for _, p := range w.places {
		var moved float64
		if f.Moves != nil {
			moved = f.Moves(p.At)
		} else {
			moved = math.Hypot(p.ofJudge.Effect(f.Unit))
		}
		if !(size*moved < harmlessTimes*p.WidthM) {
			return true
		}
	}
	return false
}
