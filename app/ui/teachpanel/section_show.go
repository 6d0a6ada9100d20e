package teachpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
)

// show is the job that shows a line.
type show struct {
	n     *Needs
	inset fyne.CanvasObject
	hint  *widgets.Sentence
}

func newShow(n *Needs) *show {
	x := &show{n: n, hint: widgets.NewSentence("", widgets.Note)}
	x.inset = inset(n, container.NewVBox(x.hint))
	return x
}

// inset lets a section scroll, with some room at its edge.
func inset(n *Needs, o fyne.CanvasObject) fyne.CanvasObject {
	return widgets.NewNestedScroll(container.New(&widgets.Pad{Right: 12, Bottom: 12}, o), n.Outer)
}

func (x *show) body() fyne.CanvasObject { return x.inset }

func (x *show) tool() sheetview.Tool { return sheetview.Tool{Kind: tool.Sight} }

func (x *show) draw(*overlay.Scene) {}

func (x *show) show(on bool) {
	if on {
		x.hint.Set(x.next(), widgets.Note)
	}
}

func (x *show) key(*fyne.KeyEvent) bool { return false }

// next says what to do next.
func (x *show) next() string {
	_, err := x.n.Session.Calibration()
	switch {
	case !x.n.View.Usable():
		return "Open the picture of a map: drop it on the window, or press Ctrl+O."
	case err != nil:
		return "Calibrate the sheet first: go to the Sheet panel."
	}
	return "Press on a position and drag to a feature: the dial shows the bearing."
}
