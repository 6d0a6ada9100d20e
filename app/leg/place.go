package leg

import (
	"fmt"
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
)

// place is a position converted to the grid of the reading.
type place struct {
	pos   plan.Position
	grid  geodesy.Grid
	sheet *calibrated // where it was picked, or what it hangs on
	moveM float64     // σ per axis of bringing it here from another grid
}

// itself is what the flags of a place call it.
const itself = "the place"

// FlagsOf says why a place by itself, its reference and its latitude and
// longitude, cannot be trusted fully: what is to be said of the sheet it was
// picked on or hangs on, that it lies where that sheet's control points do not
// reach or where the grid is not meant for, and that the datum shift is coarse.
// Do not write into the slice.
func (r *Reader) FlagsOf(pos plan.Position) []Flag {
	var out []Flag
	at := place{pos: pos, grid: pos.Grid, sheet: r.sheetOf(pos)}
	if at.sheet != nil {
		out = append(append(out, at.sheet.flags...), outsideFlag(itself, at)...)
	}
	out = append(append(out, r.lettersFlags(itself, at)...), importedFlags(itself, at)...)
	sys, err := r.SystemOf(pos.Code)
	if err != nil {
		return out
	}
	if own, _, err := sys.Unproject(pos.Grid); err != nil || !sys.Contains(own) {
		out = append(out, areaFlag(itself, sys))
	}
	if _, shift, err := sys.ToWGS84(pos.Grid); err == nil && (shift.Unknown || shift.SigmaM > coarseShiftM) {
		out = append(out, shiftFlag(shift))
	}
	return out
}

func (r *Reader) place(sys *geodesy.System, p plan.Position) (place, error) {
	out := place{pos: p, grid: p.Grid, sheet: r.sheetOf(p)}
	var err error
	out.grid, out.moveM, err = r.Convert(p, sys)
	return out, err
}

// known reports whether the place's covariance comes from a calibration.
func (p place) known() bool {
	return p.pos.Origin == plan.Picked && p.sheet != nil && p.sheet.c != nil
}

func (p place) cov() calib.Cov2 {
	if p.known() {
		c, move := p.sheet.c.Covariance(p.pos.At, p.pos.PickSigmaPx), p.moveM*p.moveM
		return calib.Cov2{EE: c.EE + move, EN: c.EN, NN: c.NN + move}
	}
	return round(math.Hypot(p.pos.SigmaM, p.moveM))
}

// joint returns the joint covariance of two ends: from the calibration they
// share, or as independent. Two sheets are independent: each was calibrated
// from points of its own.
func joint(a, b place) calib.Cov4 {
	if a.known() && a.sheet == b.sheet {
		return a.sheet.c.Joint(a.pos.At, b.pos.At, a.pos.PickSigmaPx, b.pos.PickSigmaPx)
	}
	return blocks(a.cov(), b.cov())
}

// flagsOf returns the flags of the sheets the ends were picked on or hang on.
// Other ends that were typed or imported owe the sheet nothing: their coordinates are on the
// grid itself, so a leg between two of them is right whatever the calibration
// is, and carries no flag of it.
func flagsOf(a, b place) []Flag {
	switch {
	case a.sheet == nil && b.sheet == nil:
		return nil
	case a.sheet == nil || a.sheet == b.sheet:
		return b.sheet.flags
	case b.sheet == nil:
		return a.sheet.flags
	}
	return append(append([]Flag(nil), a.sheet.flags...), b.sheet.flags...)
}

// reference writes the place's grid reference with as many figures as its σ
// supports, a typed one with those it was typed with.
func reference(sys *geodesy.System, p place, sigmaM float64) string {
	figures := 8
	switch at := units.Place(sigmaM, 1); {
	case p.pos.Origin == plan.Typed && p.pos.SquareM > 0:
		figures = geodesy.FiguresOf(p.pos.SquareM)
	case at >= 2:
		figures = 6
	}
	ref, err := sys.FormatRef(p.grid, figures)
	if err != nil {
		return fmt.Sprintf("%.0f %.0f", p.grid.E, p.grid.N)
	}
	return ref
}
