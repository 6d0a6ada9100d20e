package ui

import (
	"strings"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/widgets"
)

// lentWords say of a reference typed without its letters as what it was read, and
// from what the letters came.
func (b *Bench) lentWords(r session.Reference) (string, widgets.Tone) {
	hand := b.sheetNow()
	if r.LettersOf == hand.ID && len(hand.Points) > 0 && !hand.RestsOnFile() {
		return b.readAs(r.Code, r.Grid) + " The letters were supplied from the sheet's other control points.", widgets.Note
	}
	words, g := b.s.Reader().Lender(plan.Position{Origin: plan.Typed, Code: r.Code, Grid: r.Grid, LettersOf: r.LettersOf})
	text := b.readAs(r.Code, r.Grid) + " The letters were not typed but supplied from " + words + "."
	if g != caution.None {
		return text + " Type them to be sure.", widgets.Caution
	}
	return text, widgets.Note
}

// readAs writes a place with its letters.
func (b *Bench) readAs(code geodesy.Code, g geodesy.Grid) string {
	ref, err := b.s.ReferenceOf(plan.Position{Code: code, Grid: g}, 10)
	if err != nil {
		return "Read as a place off the grid."
	}
	return "Read as " + ref + "."
}

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
