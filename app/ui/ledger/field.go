package ledger

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// field is the entry that lies over a cell while it is edited. Return keeps
// what was typed, Escape lets it go, and so does leaving the field with text
// that is refused.
type field struct {
	widget.Entry
	keep   func(string) error
	close  func()
	active bool
}

func newField() *field {
	f := &field{}
	f.ExtendBaseWidget(f)
	f.OnSubmitted = func(string) { f.submit() }
	return f
}

// open fills the field and says what to do with the text.
func (f *field) open(text string, keep func(string) error, closing func()) {
	f.keep, f.close, f.active = keep, closing, true
	f.SetValidationError(nil)
	f.SetText(text)
	f.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// submit hands the text over once; a refusal keeps the field open and marked.
func (f *field) submit() {
	if !f.active {
		return
	}
	f.active = false // what keeping it sets off may take the focus away
	if err := f.keep(f.Text); err != nil {
		f.active = true
		f.SetValidationError(err)
		return
	}
	f.close()
}

func (f *field) shut() {
	if f.active {
		f.active = false
		f.close()
	}
}

// TypedKey lets Escape close the field.
func (f *field) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape {
		f.shut()
		return
	}
	f.Entry.TypedKey(e)
}

// FocusLost keeps what was typed where it is accepted.
func (f *field) FocusLost() {
	f.Entry.FocusLost()
	f.submit()
	f.shut() // a refusal was told to the person; the field closes
}
