package teachpanel

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/teach"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// training declares a GMA for the lesson where the real one is too small to teach with.
type training struct {
	n     *Needs
	stage *stage
	body  fyne.CanvasObject
	field *widgets.EditField
	note  *widgets.Quiet
}

func newTraining(n *Needs, st *stage) *training {
	x := &training{n: n, stage: st, note: widgets.NewWrappedQuiet("")}
	x.field = widgets.NewEditField("none, or for example 12 east", x.set, n.View.Focus)
	x.body = container.NewVBox(labelled("training GMA", widgets.NewWheeled(x.field, n.wheel)), x.note)
	return x
}

// set declares what was typed; nothing goes back to the GMA of the ground.
func (x *training) set(text string) bool {
	if strings.TrimSpace(text) == "" {
		x.n.Lesson.ClearTraining()
		x.n.View.Offer().Again()
		x.n.Foot.Say("The real grid-magnetic angle is used again.")
		return true
	}
	g, err := units.ParseGMA(text, x.stage.circle(), teach.MostTraining)
	if err == nil {
		err = x.n.Lesson.SetTraining(g)
	}
	if !x.n.Foot.Try(err, "") {
		return false
	}
	x.n.View.Offer().Again()
	x.n.Foot.Say("Training GMA " + x.stage.circle().GMAFigure(g) + ". Do not walk on a figure made with it.")
	return true
}

// focus goes to the field.
func (x *training) focus() {
	x.n.Host.Reveal(x.field)
	x.n.focus(x.field)
}

// fill shows what is declared, and what the GMA of the ground is.
func (x *training) fill() {
	text := ""
	if g, ok := x.n.Lesson.Training(); ok {
		text = x.stage.circle().GMAFigure(g)
	}
	x.field.ShowText("", text)
	write(&x.note.Label, x.words())
}

// words say what a training GMA is for. While figures are hidden the ground's own is
// left away: on a grid that bends bearings it depends on the line.
func (x *training) words() string {
	real := "The real grid-magnetic angle (GMA) may be too small to see here."
	if line, ok := x.n.Lesson.Line(); ok && !x.stage.concealed {
		if r, err := x.n.Session.LiveEnds(line.From, line.To); err == nil && r.HasMagnetic {
			real = "The grid-magnetic angle (GMA) here is " + r.Closed(x.stage.circle()).GMA + "."
		}
	}
	return real + " Type a larger one to teach with. Only the lesson uses it: the plan, the ledger and any GPX file keep the real GMA."
}
