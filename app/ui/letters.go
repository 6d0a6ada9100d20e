package ui

import (
	"strings"

	"legwright/app/plan"
)

// readPosition writes a position with its letters, and no digit that was not typed.
func (b *Bench) readPosition(pos plan.Position) string {
	ref, err := b.s.Reader().Reference(pos)
	if err != nil {
		return "Read as a position off the grid."
	}
	return "Read as " + ref + "."
}

// lentNote says of a position from what its letters came, "" where they were typed.
func (b *Bench) lentNote(pos plan.Position) string {
	words, _ := b.s.Reader().Lender(pos)
	if words == "" {
		return ""
	}
	return "Its letters were not typed but supplied from " + words + "."
}

// told is what is said of an act on a mark, leg or sight, with where the letters
// of its places came from.
func (b *Bench) told(done string, id plan.ID) string {
	for _, pos := range b.placesOf(id) {
		if words, _ := b.s.Reader().Lender(pos); words != "" { // the foot line has room for its beginning
			return strings.TrimSuffix(done, ".") + ", letters not typed: supplied from " + words + "."
		}
	}
	return done
}

// typedRef is what stands in the field of a mark's reference: what was typed,
// where the letters came from elsewhere, and else the whole of it.
func (b *Bench) typedRef(pos plan.Position) string {
	if pos.LettersOf != "" && pos.SquareM > 0 {
		return pos.Text
	}
	if pos.Origin == plan.Typed && pos.SquareM > 0 {
		ref, _ := b.s.Reader().Reference(pos)
		return ref
	}
	ref, _ := b.s.ReferenceOf(pos, 10)
	return ref
}
