package plan

import (
	"fmt"
	"math"

	"legwright/app/calib"
)

// samePx is how far coordinates in a file may lie from where the sheet has their
// picture point, in pixels. Nobody can see or click smaller differences.
const samePx = 0.1

// RepairPositions returns the plan with every picked position where its sheet has its
// picture point. Mended says how many moved. It is for a plan from a file, whose
// coordinates may come from another calibration: they would be read at one position
// and drawn at another. A position typed as a bearing and a distance from there keeps
// its coordinates, because the file does not say where it would be now. It loses its
// sheet, so that its readings carry a caution.
func (p *Plan) RepairPositions() *Plan {
	fits := map[ID]*calib.Calibration{}
	for _, s := range p.Sheets {
		if c, err := s.Calibration(); err == nil {
			fits[s.ID] = c
		}
	}
	moved, sheets, farthest := map[placeKey]bool{}, map[ID]bool{}, 0.0
	hold := func(pos Position) Position {
		c, s := fits[pos.Sheet], Sheet{}
		if pos.Origin != Picked || c == nil {
			return pos
		}
		s, _ = p.SheetByID(pos.Sheet)
		next := PickedAt(s, c, pos.At, pos.PickSigmaPx)
		off := math.Hypot(next.Grid.E-pos.Grid.E, next.Grid.N-pos.Grid.N)
		if pos.Code == s.Code && off <= samePx*c.MetresPerPixelAt(pos.At) || !next.Grid.IsFinite() {
			return pos
		}
		moved[keyOf(pos)], sheets[pos.Sheet] = true, true
		if pos.Code == s.Code {
			farthest = math.Max(farthest, off)
		}
		return next
	}
	q := p.mapPositions(hold)
	if len(moved) == 0 {
		return p
	}
	q, left := q.cutOff(sheets)
	told := fmt.Sprintf("%s moved by up to %.0f m to fit the sheet's calibration: the coordinates in the file come from another calibration", positionsWere(len(moved)), farthest)
	if left {
		told += "; an end that was typed as a bearing and a distance from such a position stays where it was, with a caution"
	}
	q.Mended = append(append([]string(nil), p.Mended...), told)
	return q
}

// cutOff returns the plan with the typed positions that depend on one of the
// sheets cut off from it, and whether there was any. They name a sheet that does
// not exist and that no later one will be called, so the reader marks them.
func (p *Plan) cutOff(sheets map[ID]bool) (q *Plan, left bool) {
	none := p.NextSheetID()
	q = p.mapPositions(func(pos Position) Position {
		if pos.DerivedFromSheet() && sheets[pos.Sheet] {
			pos.Sheet, left = none, true
		}
		return pos
	})
	return q, left
}

func positionsWere(n int) string {
	if n == 1 {
		return "a picked position was"
	}
	return fmt.Sprintf("%d picked positions were", n)
}
