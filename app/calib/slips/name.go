package slips

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Odds, as natural logarithms, at which a slip is named.
var (
	againstNone = math.Log(1000)
	againstNext = math.Log(200)
)

// likely is the share of the distribution up to which points fit.
const likely = 0.999

// freedom is for how many observations the prior of the clicks' σ counts, as in
// package calib.
const freedom = 4

// odds is the natural logarithm of the odds for the slip of a size against none.
func (w *Judged) odds(i int, size float64) float64 {
	q, m := w.Judge.Q(), float64(w.Judge.M())
	return (freedom + m) / 2 * math.Log((freedom+q)/(freedom+w.left(i, size)))
}

// left is the misfit that undoing the slip leaves.
func (w *Judged) left(i int, size float64) float64 {
	return math.Max(0, w.Judge.Q()-2*size*w.gain[i].by+size*size*w.gain[i].bb)
}

// shows reports whether the slip of a size would be visible, by the clicks as they
// are once it is undone.
func (w *Judged) shows(i int, size float64) bool {
	s2 := (freedom + w.left(i, size)) / (freedom + float64(w.Judge.M()))
	return size*size*w.gain[i].bb >= Visible*math.Max(1, s2)
}

// fits reports whether what the slip leaves is what clicks explain.
func (w *Judged) fits(i int, size float64) bool {
	m := float64(w.Judge.M())
	return m > 0 && w.left(i, size)/m <= distuv.F{D1: m, D2: freedom}.Quantile(likely)
}

// Name returns the slips that explain why points and evidence do not agree: none
// where no visible slip is likelier than that there is none; else the likeliest and
// all that are not 200 times less likely, the likeliest first. One alone is named
// where it is Certain. Sizes of one family count as one slip, the likeliest. The slip on
// the other side of a line is always named with it unless evidence tells them apart.
func (w *Judged) Name() []Slip {
	best := w.likeliest()
	if len(best) == 0 {
		return nil
	}
	top := best[0].Odds
	var set []Slip
	for _, s := range best {
		if s.Odds > top-againstNext {
			set = append(set, s.Slip)
		}
	}
	return set
}

// Certain reports whether the odds for the slip against none are high enough to name
// it alone.
func (s Slip) Certain() bool { return s.Odds >= againstNone }

// candidate is a slip and its family's index.
type candidate struct {
	Slip
	family int
}

// likeliest returns the likeliest slip of each family that shows and explains,
// likeliest first.
func (w *Judged) likeliest() []candidate {
	var out []candidate
	for i := range w.Families {
		f := &w.Families[i]
		if f.rare || w.gain[i].bb == 0 {
			continue
		}
		size, most := 0.0, 0.0
		for _, s := range f.Sizes {
			if o := w.odds(i, s); o > most {
				size, most = s, o
			}
		}
		if most > 0 && w.shows(i, size) && w.fits(i, size) {
			s := f.slip(size)
			s.Odds = most
			out = append(out, candidate{s, i})
		}
	}
	slices.SortStableFunc(out, func(a, b candidate) int { return cmp.Compare(b.Odds, a.Odds) })
	return out
}
