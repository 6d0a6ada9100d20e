package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Select offers words in a list that drops down. Return and Escape, which the toolkit's
// own keeps for itself, it passes on.
type Select struct {
	widget.Select
	leave leaving
}

// NewSelect returns a list with nothing chosen.
func NewSelect(options []string, changed func(string), submit, escape func()) *Select {
	s := &Select{leave: leaving{submit, escape}}
	s.Options, s.OnChanged, s.PlaceHolder = options, changed, "choose"
	s.ExtendBaseWidget(s)
	return s
}

// TypedKey passes Return and Escape on; Fyne calls it.
func (s *Select) TypedKey(k *fyne.KeyEvent) {
	if !s.leave.by(k) {
		s.Select.TypedKey(k)
	}
}

// leaving is what the keys do that end the work in a control.
type leaving struct{ submit, escape func() }

// by does what a key means, and reports whether it ends the work.
func (l leaving) by(k *fyne.KeyEvent) bool {
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		l.submit()
	case fyne.KeyEscape:
		l.escape()
	default:
		return false
	}
	return true
}
