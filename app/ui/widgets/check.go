package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Check is a box to tick. Return and Escape, which the toolkit's own keeps for itself, it
// passes on.
type Check struct {
	widget.Check
	// OnFocus, where it is set, is called when the box gains the focus.
	OnFocus func()

	leave leaving
}

// NewCheck returns an empty box.
func NewCheck(text string, changed func(bool), submit, escape func()) *Check {
	c := &Check{leave: leaving{submit, escape}}
	c.Text, c.OnChanged = text, changed
	c.ExtendBaseWidget(c)
	return c
}

// FocusGained shows the focus; Fyne calls it.
func (c *Check) FocusGained() {
	c.Check.FocusGained()
	if c.OnFocus != nil {
		c.OnFocus()
	}
}

// TypedRune leaves letters to the window; a space ticks. Fyne calls it.
func (c *Check) TypedRune(r rune) {
	if r == ' ' {
		c.Check.TypedRune(r)
		return
	}
	RuneToWindow(c, r)
}

// TypedKey passes Return and Escape on; Fyne calls it.
func (c *Check) TypedKey(k *fyne.KeyEvent) {
	if !c.leave.by(k) {
		c.Check.TypedKey(k)
	}
}
