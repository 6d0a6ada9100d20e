package teachpanel

import (
	"fyne.io/fyne/v2"

	"legwright/app/ui/widgets"
)

// lettered is a section with letters of its own.
type lettered interface {
	// letter takes a small letter or a digit, and reports whether the job has a use for it.
	letter(r rune) bool
}

// Key takes a key pressed on the sheet while the panel is in front, and reports whether
// it means something here: Page Down and Page Up are the keys of a presenter.
func (p *Panel) Key(e *fyne.KeyEvent) bool {
	return p.stage.front && (p.seen().key(e) || p.stage.walk(e))
}

// walk takes the two keys of a presenter, and reports whether it was one of them.
func (st *stage) walk(e *fyne.KeyEvent) bool {
	switch e.Name {
	case fyne.KeyPageDown:
		st.next()
	case fyne.KeyPageUp:
		st.previous()
	default:
		return false
	}
	return true
}

// isDigit reports whether a letter begins a figure.
func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// onward goes to the first of some fields that is empty, or to the sheet where none is.
func (n *Needs) onward(fields ...*widgets.EditField) {
	for _, f := range fields {
		if f.Text == "" {
			n.focus(f)
			return
		}
	}
	n.View.Focus()
}

// focus gives the keys to a field, which may not have been seen before.
func (n *Needs) focus(f fyne.Focusable) { n.Ask.Window().Canvas().Focus(f) }

// Rune takes a letter typed on the sheet while the panel is in front, and reports whether
// it means something here. A job that is not about lines leaves those of guessing alone:
// who types a bearing beside its field must not land in another job.
func (p *Panel) Rune(r rune) bool {
	if !p.stage.front {
		return false
	}
	if r >= 'A' && r <= 'Z' {
		r += 'a' - 'A'
	}
	if s, ok := p.seen().(lettered); ok && s.letter(r) {
		return true
	}
	act, ok := p.acts.letters()[r]
	if ok = ok && (r == 'h' || r == 'n' || p.makesLines(p.seen().tool())); ok {
		act()
	}
	return ok
}
