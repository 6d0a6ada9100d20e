package leg

import "legwright/app/plan"

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
