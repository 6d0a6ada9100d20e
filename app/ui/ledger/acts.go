package ledger

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"legwright/app/plan"
	"legwright/app/session"
)

func (l *Ledger) choose(id plan.ID) { l.s.Select(id) }

func (l *Ledger) leave() { l.host.FocusSheet() }

func (l *Ledger) say(text string) { l.line.Say(text) }

func (l *Ledger) remove(id plan.ID) {
	said := "Leg deleted. Undo restores it."
	if isEscape(l.s.Plan(), id) {
		said = "Escape deleted. Undo restores it."
	}
	l.line.Try(l.s.Remove(id), said)
}

func (l *Ledger) move(id plan.ID, by int) {
	up, down := l.s.MoveLegUp, l.s.MoveLegDown
	if isEscape(l.s.Plan(), id) {
		up, down = l.s.MoveEscapeUp, l.s.MoveEscapeDown
	}
	move := up
	if by > 0 {
		move = down
	}
	before, said := l.s.Plan(), ""
	err := move(id)
	if l.s.Plan() != before {
		said = "Moved."
	}
	if l.line.Try(err, said) {
		l.grid.scrollTo(l.grid.table.rowInSight(l.grid.foot()))
	}
}

// edit types into one cell of a leg, and says what else that changed.
func (l *Ledger) edit(id plan.ID, f session.Field, text string) error {
	before, _ := l.s.Plan().LegByID(id)
	marks := len(l.s.Plan().Marks)
	err := l.s.SetLegField(id, f, text)
	if !l.line.Try(err, "Changed.") {
		return err
	}
	after, _ := l.s.Plan().LegByID(id)
	switch f {
	case session.FieldFrom, session.FieldTo:
		l.line.Say(retyped(l.s, before, after, len(l.s.Plan().Marks) > marks))
	case session.FieldGrid, session.FieldMagnetic, session.FieldDistance:
		if mark, ok := l.s.Plan().MarkByID(before.To.Mark); ok && after.To.Mark == "" {
			l.line.Say("Changed. The leg no longer ends at " + mark.Name + ". If the next leg began there, it now begins at the new end.")
		}
	}
	return nil
}

// retyped says what typing into an end did: made a mark of it, or moved it.
func retyped(s *session.Session, before, after plan.Leg, made bool) string {
	if made {
		for which, word := range map[plan.Which]string{plan.FromEnd: "start", plan.ToEnd: "end"} {
			if mark, ok := s.Plan().MarkByID(after.End(which).Mark); ok && before.End(which).Mark == "" {
				return "The " + word + " of the leg is now a mark called " + mark.Name + "."
			}
		}
	}
	return strings.TrimSpace("Changed. " + s.LettersNote(after.ID))
}

// menu opens the menu of a row.
func (l *Ledger) menu(id plan.ID, at fyne.Position) {
	c := l.grid.canvas()
	if c == nil {
		return
	}
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", l.entries(id)...), c, at)
}

// entries are what can be done with a leg or an escape.
func (l *Ledger) entries(id plan.ID) []*fyne.MenuItem {
	if isEscape(l.s.Plan(), id) {
		return append([]*fyne.MenuItem{
			fyne.NewMenuItem("Find on the sheet", func() { l.host.Find(id) }), fyne.NewMenuItemSeparator(),
		}, l.host.EscapeActs()...)
	}
	i, last := l.s.Plan().LegIndex(id), len(l.s.Plan().Legs)-1
	up := fyne.NewMenuItem("Move up", func() { l.move(id, -1) })
	down := fyne.NewMenuItem("Move down", func() { l.move(id, 1) })
	up.Disabled, down.Disabled = i == 0, i == last
	return []*fyne.MenuItem{
		fyne.NewMenuItem("Find on the sheet", func() { l.host.Find(id) }),
		fyne.NewMenuItem("Name its start…", func() { l.Edit(id, session.FieldFrom) }),
		fyne.NewMenuItem("Name its end…", func() { l.Edit(id, session.FieldTo) }),
		fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem("Reverse the leg", func() { l.line.Try(l.s.ReverseLeg(id), "Leg reversed.") }),
		up, down,
		fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem("Delete leg", func() { l.remove(id) }),
	}
}

// Edit opens the cell of a leg in which a field is typed; a new name typed into an end
// makes a mark there.
func (l *Ledger) Edit(id plan.ID, f session.Field) {
	if l.Folded() {
		l.ToggleFold()
	}
	l.s.Select(id)
	if l.sizes.asked.unhide(f) {
		l.fill()
	}
	l.grid.choose(id)
	l.grid.table.cursor = columnOf(l.grid.table.cols, f)
	l.grid.reveal()
	l.grid.open("")
}
