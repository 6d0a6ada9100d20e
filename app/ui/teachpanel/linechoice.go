package teachpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// lineChoice is the list of lines. Letters and a presenter's keys go through it, for it
// keeps the focus after it was opened.
type lineChoice struct {
	widget.Select
	stage  *stage
	letter func(rune) bool
}

func newLineChoice(st *stage, letter func(rune) bool, chosen func(string)) *lineChoice {
	c := &lineChoice{stage: st, letter: letter}
	c.OnChanged = chosen
	c.ExtendBaseWidget(c)
	return c
}

// TypedRune passes letters on; Fyne calls it.
func (c *lineChoice) TypedRune(r rune) { c.letter(r) }

// TypedKey passes Page Down and Page Up on; Return and Escape give the keys back to the
// sheet. Fyne calls it.
func (c *lineChoice) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeyEscape:
		c.stage.n.View.Focus()
	default:
		if !c.stage.walk(k) {
			c.Select.TypedKey(k)
		}
	}
}
