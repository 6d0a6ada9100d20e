package plan

import (
	"fmt"
	"math"

	"legwright/app/calib"
)

// heldPx is how far coordinates in a file may lie from where the sheet has
// their picture point, in pixels: less, nobody can see or click.
const heldPx = 0.1

// HoldPositions returns the plan with every picked position where its sheet has
// its picture point, and how many were elsewhere is told in the plan's Mended.
// It is for a plan that comes from a file: coordinates that are of another
// calibration would be read from one place and drawn at another. What hangs on
// such a sheet keeps its coordinates, for nothing says where they would be, and is
// let go from it, so that it is marked as left from before.
func (p *Plan) HoldPositions() *Plan {
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
		if pos.Code == s.Code && off <= heldPx*c.MetresPerPixelAt(pos.At) || !next.Grid.IsFinite() {
			return pos
		}
		moved[keyOf(pos)], sheets[pos.Sheet] = true, true
		if pos.Code == s.Code {
			farthest = math.Max(farthest, off)
		}
		next.Extra = pos.Extra
		return next
	}
	q := p.mapPositions(hold)
	if len(moved) == 0 {
		return p
	}
	q, left := q.letGo(sheets)
	told := fmt.Sprintf("%s moved by up to %.0f m to where the sheet has it, for the coordinates in the file were of another calibration", placesWere(len(moved)), farthest)
	if left {
		told += "; what was typed as a bearing and a distance from there stays where it was, and is marked"
	}
	q.Mended = append(append([]string(nil), p.Mended...), told)
	return q
}

// letGo returns the plan with what hangs on the sheets let go from them, and
// whether anything did.
func (p *Plan) letGo(sheets map[ID]bool) (q *Plan, left bool) {
	q = p.mapPositions(func(pos Position) Position {
		if pos.Hangs() && sheets[pos.Sheet] {
			pos.Sheet, left = unknownSheet, true
		}
		return pos
	})
	return q, left
}

func placesWere(n int) string {
	if n == 1 {
		return "a picked place was"
	}
	return fmt.Sprintf("each of %d picked places was", n)
}
