package ledger

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/widgets"
)

// shownOf returns the columns that are not hidden. The number of the leg always is shown,
// and a profile only where the plan names terrain.
func shownOf(hidden []string, terrain bool) []column {
	return slices.DeleteFunc(columns(), func(c column) bool {
		return c.style.ground && !terrain || c.head != numbers && slices.Contains(hidden, c.head)
	})
}

// numbers is the head of the column that cannot be hidden: it says which legs nobody may
// walk on.
const numbers = "leg"

// ChooseColumns asks which columns are shown.
func (l *Ledger) ChooseColumns() {
	boxes := map[string]*widgets.Check{}
	list := container.NewGridWithColumns(2)
	for _, c := range columns() {
		if c.head != numbers {
			box := l.dialogs.Check(c.head, nil)
			box.SetChecked(!slices.Contains(l.sizes.asked.Hidden, c.head))
			boxes[c.head] = box
			list.Add(box)
		}
	}
	l.dialogs.Form(ask.Form{
		Title: "Columns of the ledger", Verb: "Use", Size: fyne.NewSize(460, 400),
		Body: container.NewVBox(widgets.NewWrapped("Tick the columns that the ledger should show. Your choice is kept for next time."), list),
		Submit: func() error {
			l.sizes.asked.Hidden = nil
			for head, box := range boxes {
				if !box.Checked {
					l.sizes.asked.Hidden = append(l.sizes.asked.Hidden, head)
				}
			}
			l.fill()
			return nil
		},
	})
}

// unhide shows the column in which a field is typed. It reports false if it was not
// hidden.
func (a *Asked) unhide(f session.Field) bool {
	all := columns()
	i := slices.Index(a.Hidden, all[columnOf(all, f)].head)
	if i >= 0 {
		a.Hidden = slices.Delete(slices.Clone(a.Hidden), i, i+1)
	}
	return i >= 0
}
