package calib

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/caution"
)

// Contradiction is what shows that a place which a file gives cannot be trusted:
// crossings of the printed grid that lie where the place has no lines. The file
// is wrong, or the lines are another grid's. The zero value means that nothing
// speaks against the place. It is only ever a doubt: where it is not known
// whether it still holds, it does.
type Contradiction struct {
	Detail  string      // by how much, such as "12.0 px (120 m) off in the median"
	SquareM float64     // side of the printed squares by the place, metres
	By      []PicturePt // some of the crossings, so that it can be shown again: see Contradicts
}

// MostContradicting is how many crossings a contradiction keeps.
const MostContradicting = 60

// Found reports whether something speaks against the place.
func (d Contradiction) Found() bool { return d.Detail != "" }

// Same reports whether two contradictions are one.
func (d Contradiction) Same(e Contradiction) bool {
	return d.Detail == e.Detail && d.SquareM == e.SquareM && slices.Equal(d.By, e.By)
}

// Words are a sentence for people, without its full stop.
func (d Contradiction) Words() string {
	return "the printed grid contradicts the place that the file gives: its crossings lie " + d.Detail +
		"; the file is wrong, or these are another grid's lines"
}

// Warning returns the warning that goes with a place that is contradicted, and
// false where nothing speaks against it.
func (d Contradiction) Warning() (Warning, bool) {
	if !d.Found() {
		return Warning{}, false
	}
	return Warning{Code: CodePlaceContradicted, Text: d.Words(), Args: [caution.MostArgs]string{d.Detail}}, true
}

// OffLines is how far crossings lie from the nearest one that lines each stepM
// metres have there by the calibration, in pixels, in the order of the
// crossings. Pixels are those of the sheet's mean scale.
func (c *Calibration) OffLines(crossings []PicturePt, stepM float64) []float64 {
	out, mpp := make([]float64, len(crossings)), c.MetresPerPixel()
	for i, p := range crossings {
		g := c.ToGrid(p)
		out[i] = math.Hypot(math.Remainder(g.E, stepM), math.Remainder(g.N, stepM)) / mpp
	}
	return out
}

// ContradictedBy gives the contradiction by crossings of a printed grid whose
// squares have that side, none where they agree within NameWithinPx (root mean
// square).
func (c *Calibration) ContradictedBy(crossings []PicturePt, squareM float64) Contradiction {
	offs := c.OffLines(crossings, squareM)
	if len(offs) == 0 || rootMeanSquare(offs) <= NameWithinPx {
		return Contradiction{}
	}
	order := make([]int, len(offs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return -compareOff(offs[a], offs[b]) })
	d := Contradiction{SquareM: squareM, Detail: offWords(offs[order[len(order)-1-len(order)/2]], offs[order[0]], c.MetresPerPixel())}
	for _, even := range []bool{true, false} { // the worst alone differ where a few of all hardly do
		d.By = kept(crossings, order, even)
		if c.Contradicts(d) {
			break
		}
	}
	return d
}

// Contradicts shows a contradiction again, and reports whether it still holds of
// this calibration. One that does not say by what counts as one that holds.
func (c *Calibration) Contradicts(d Contradiction) bool {
	switch {
	case !d.Found():
		return false
	case len(d.By) == 0 || !(d.SquareM > 0):
		return true
	}
	return !(rootMeanSquare(c.OffLines(d.By, d.SquareM)) <= NameWithinPx)
}

// kept are the crossings that a contradiction keeps, of those in order from the
// worst: evenly from all, or the worst.
func kept(crossings []PicturePt, order []int, even bool) []PicturePt {
	n := min(len(order), MostContradicting)
	out := make([]PicturePt, n)
	for i := range out {
		at := i
		if even && n > 1 {
			at = i * (len(order) - 1) / (n - 1)
		}
		out[i] = crossings[order[at]]
	}
	return out
}

func rootMeanSquare(offs []float64) float64 {
	sum := 0.0
	for _, v := range offs {
		sum += v * v
	}
	return math.Sqrt(sum / float64(len(offs)))
}

// compareOff compares distances; what is not a number is farther than all.
func compareOff(a, b float64) int {
	switch {
	case a == b || math.IsNaN(a) && math.IsNaN(b):
		return 0
	case math.IsNaN(a) || a > b:
		return 1
	}
	return -1
}

func offWords(medianPx, worstPx, metresPerPixel float64) string {
	return fmt.Sprintf("%.1f px (%s m) off in the median, %.1f px at the worst", medianPx, figure(medianPx*metresPerPixel), worstPx)
}
