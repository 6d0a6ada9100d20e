package leg

import (
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/plan"
)

// lasting are the cautions that come of how a position came about, so that they
// hold as well where it is read again from an exchange file. The others are found
// again there.
func lasting(code caution.Code) bool {
	switch code {
	case caution.OutsideArea, caution.AreaEdge, caution.VagueBearing, caution.RoughBearing,
		caution.NoDate, caution.OutsideModel, caution.BlackoutZone, caution.WeakField, caution.HousingOff,
		caution.BentGrid, caution.CoarseShift, caution.ShiftUnknown, caution.ImportedStop, caution.ImportedNote:
		return false
	}
	return true
}

// Lasting returns the cautions that go with a position into an exchange file, each
// once: its own, and what it brought along from such a file. Their subjects stay
// here, for a file that is passed on names no sheet.
func (r *Reader) Lasting(pos plan.Position) []caution.Caution {
	var out []caution.Caution
	for _, c := range append(slices.Clip(r.CautionsOf(pos)), caution.Parse(pos.Cautions)...) {
		bare := caution.Of(c.Code)
		if lasting(c.Code) && !slices.Contains(out, bare) {
			out = append(out, bare)
		}
	}
	return out
}

// importedCautions speak of positions whose file speaks against them, or that were
// typed from such a position.
func importedCautions(subject string, ends ...position) []caution.Caution {
	var out []caution.Caution
	for _, p := range ends {
		list := caution.Parse(p.pos.Cautions)
		if len(list) == 0 {
			continue
		}
		code := caution.ImportedNote
		if caution.Stops(list, caution.All) {
			code = caution.ImportedStop
		}
		c := caution.Of(code, strings.Join(caution.Shorts(list), ", ")).About(subject)
		if !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}
