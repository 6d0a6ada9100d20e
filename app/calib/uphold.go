package calib

import (
	"fmt"
	"math"
)

// The proof of a file's place by crossings of the printed grid that were named.
const (
	// NamesForProof is how many crossings must be named: only three that are
	// not in one line leave open neither whole squares, nor a factor, nor a
	// turn, nor a mirrored picture.
	NamesForProof = 3
	// NameWithinPx is how far a named crossing may lie from where the file has
	// it, in pixels: as far as one clicked by hand.
	NameWithinPx = 2 * DefaultSigmaPx
	// offLinePx is how far from the line through two of them the third lies.
	offLinePx = 2 * samePlacePx
)

// Upholds makes a proof again of what it holds, and says why it does not hold
// of this calibration, "" where it does or where there is none. It is for
// proofs that come from a file: what is written there may be of another
// calibration, or of nothing.
func (c *Calibration) Upholds(p Proof) string {
	switch {
	case !p.Proved():
		return ""
	case len(p.By) == 0:
		return "it does not say by what place the sheet was proved"
	case p.Kind == ProofPrintedGrid:
		return c.upholdsNames(p.By)
	}
	for _, q := range p.By {
		if why := c.examine(q, p.Kind).Reason; why != "" {
			return why
		}
	}
	return ""
}

// upholdsNames is Upholds for crossings that were named.
func (c *Calibration) upholdsNames(names []ControlPoint) string {
	for i, q := range names {
		if err := q.check(i); err != nil {
			return "crossing " + fmt.Sprint(i+1) + ", which was named, is not a usable place"
		}
		g := c.ToGrid(q.At)
		if off := math.Hypot(g.E-q.Ref.E, g.N-q.Ref.N); !(off/c.MetresPerPixel() <= NameWithinPx) {
			return fmt.Sprintf("crossing %d, which was named, lies %s m from where the sheet has it", i+1, figure(off))
		}
	}
	switch {
	case c.sol.det() > 0:
		return "the calibration mirrors the picture"
	case !offLine(names):
		return fmt.Sprintf("it takes %d crossings that are not in one line", NamesForProof)
	}
	return ""
}

// offLine reports whether three of the places are not in one line.
func offLine(list []ControlPoint) bool {
	for i, a := range list {
		for j, b := range list[:i] {
			length := pictureDistance(a.At, b.At)
			for _, d := range list[:j] {
				cross := (b.At.Col-a.At.Col)*(d.At.Row-a.At.Row) - (b.At.Row-a.At.Row)*(d.At.Col-a.At.Col)
				if math.Abs(cross) > offLinePx*length && length > 0 {
					return true
				}
			}
		}
	}
	return false
}
