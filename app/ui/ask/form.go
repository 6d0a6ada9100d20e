package ask

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
)

// Form asks for several things at once.
type Form struct {
	Title string
	Verb  string // on the button that submits
	Body  fyne.CanvasObject
	Size  fyne.Size      // in DIP
	Focus fyne.Focusable // field to begin with, or nil for the button
	// Submit takes what was entered. Its error stays in the form, for the person
	// to mend the entry; nil closes it.
	Submit    func() error
	Cancelled func() // called when the person cancels; nil does nothing
}

// Form shows a form. Its fields are those of Entry, Select and Check.
func (d *Dialogs) Form(f Form) *Question {
	q := &Question{d: d, otherwise: f.Cancelled}
	why := widgets.NewSentence("", widgets.Fault)
	why.Hide()
	submit := q.button(f.Verb, true, func() {
		if err := f.Submit(); err != nil {
			why.Set(foot.Sentence(err), widgets.Fault)
			why.Show()
			return
		}
		q.answered = true
		q.hide()
	})
	cancel := newKeyButton("Cancel", false, d.escape, q.hide)
	body := container.NewBorder(nil, why, nil, nil, f.Body)
	q.show(f.Title, body, f.Size, []fyne.CanvasObject{cancel, submit})
	if f.Focus != nil {
		d.window.Canvas().Focus(f.Focus)
	}
	return q
}
