package teachpanel

import (
	"fyne.io/fyne/v2"

	"legwright/app/teach"
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

// Rune takes a letter typed on the sheet while the panel is in front, and reports whether
// it means something here.
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
	switch r {
	case 'h':
		p.ToggleHidden()
	case 'n':
		p.NextNorth()
	case 'g':
		p.AskForGuess()
	default:
		return false
	}
	return true
}

// Next shows what is hidden, or else goes to the next line.
func (p *Panel) Next() { p.front(p.stage.next) }

// Previous goes to the line before.
func (p *Panel) Previous() { p.front(p.stage.previous) }

// ToggleHidden hides the figures wherever the group can see, or shows them.
func (p *Panel) ToggleHidden() { p.front(p.stage.toggleHidden) }

// NextNorth goes on to the next north that bearings are told from.
func (p *Panel) NextNorth() { p.front(p.n.Lesson.NextNorth) }

// AskForGuess goes to the job of guessing and hides the figures.
func (p *Panel) AskForGuess() {
	p.Choose(Guess)
	p.find(Guess).(*guess).askFor()
}

// Answer shows the answer to what was guessed.
func (p *Panel) Answer() { p.front(p.stage.answer) }

// DrawGuesses draws the guesses while the figures stay hidden.
func (p *Panel) DrawGuesses() { p.front(p.n.Lesson.DrawGuesses) }

// SetAsk chooses what the group guesses.
func (p *Panel) SetAsk(a teach.Ask) {
	p.Choose(Guess)
	p.n.Lesson.SetAsk(a)
}

// ToggleTurning has a guess turned on the dial, or ends that.
func (p *Panel) ToggleTurning() {
	p.Choose(Guess)
	p.find(Guess).(*guess).turn.toggle()
}

// front brings the panel to the front and acts there.
func (p *Panel) front(act func()) {
	p.n.Host.ShowPanel()
	act()
	p.n.Host.Changed()
}
