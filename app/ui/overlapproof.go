package ui

import (
	"fmt"

	"legwright/app/plan"
)

// otherMark returns the mark of a name that was picked on another sheet of the
// plan: where panels overlap, such a mark of a proved sheet proves this one.
func (b *Bench) otherMark(name string) (plan.Mark, bool) {
	m, ok := b.s.Plan().MarkByName(name)
	hand, _ := b.s.Sheet()
	if _, there := b.s.Plan().SheetByID(m.Position.Sheet); !there || m.Position.Origin != plan.Picked {
		return m, false
	}
	return m, ok && m.Position.Sheet != hand.ID
}

// markWords says what a mark's name means where a reference is typed, for a
// text that is none.
func (b *Bench) markWords(text string) (words string, ok bool) {
	m, ok := b.otherMark(text)
	if !ok {
		return "", false
	}
	from, _ := b.s.Plan().SheetByID(m.Position.Sheet)
	name := b.s.Plan().SheetName(from.ID)
	if !from.Proof.Proved() {
		return fmt.Sprintf("The mark %s of %s, which is not proved itself.", m.Name, name), true
	}
	return fmt.Sprintf("The mark %s of %s, which is proved: use it as proof where this sheet shows the same feature  (Return).", m.Name, name), true
}

// proofHint says how the sheet in hand can be proved, the cheapest way first.
func (b *Bench) proofHint() string {
	hint := "Now prove the sheet: click a feature of known reference that is no control point, and use it as proof."
	if b.sheetNow().ByGridReferences() {
		hint = "Now prove the sheet: where the margin prints latitude and longitude, as at a corner, click that very place, type them, such as 56°10'N 6°20'W, and use them as proof. " +
			"Or click a feature whose reference you know from elsewhere."
	}
	for _, m := range b.s.Plan().Marks {
		if _, ok := b.otherMark(m.Name); !ok {
			continue
		}
		if from, _ := b.s.Plan().SheetByID(m.Position.Sheet); from.Proof.Proved() {
			return hint + " Or click the feature of a mark of " + b.s.Plan().SheetName(from.ID) + ", where the two overlap, and type the mark's name."
		}
	}
	return hint
}
