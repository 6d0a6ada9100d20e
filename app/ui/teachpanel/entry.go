package teachpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/teach"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// entry takes guesses typed in a row.
type entry struct {
	n     *Needs
	stage *stage
	body  fyne.CanvasObject
	field *widgets.EscapeEntry
	label *widgets.Quiet
}

func newEntry(n *Needs, st *stage, turn fyne.CanvasObject, add func(string) bool) *entry {
	e := &entry{n: n, stage: st, label: widgets.NewQuiet("")}
	submit := func() {
		if add(e.field.Text) {
			e.field.SetText("")
		}
	}
	e.field = widgets.NewEscapeEntry("", submit, n.View.Focus)
	e.field.TakeKey = st.walk // a presenter's keys go through it
	e.field.Figures = true
	plus := widgets.NewTool(look.IconAdd, "Add the guesses  (Return)", submit)
	plus.OnHint = n.Foot.Hint
	e.body = container.New(&labelLayout{}, e.label, container.NewBorder(nil, nil, nil, container.NewHBox(plus, turn), widgets.NewWheeled(e.field, n.wheel)))
	return e
}

// fill says what the guesses are measured from.
func (e *entry) fill() {
	label, example := "from "+e.n.Lesson.GuessNorth().Long(), "040 055 70"
	switch e.n.Lesson.Ask() {
	case teach.AskDistance:
		label, example = "in metres", "850 900 1.2 km"
	case teach.AskClimb:
		label, example = "in metres", "40 60 120"
	case teach.AskTime:
		label, example = "in minutes", "25 40 1:10"
	}
	write(&e.label.Label, label)
	if e.field.PlaceHolder != example {
		e.field.SetPlaceHolder(example)
	}
}

// focus goes to the field.
func (e *entry) focus() { e.n.focus(e.field) }

// begin goes to the field and types a digit.
func (e *entry) begin(r rune) {
	e.focus()
	e.field.TypedRune(r)
}
