package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// welcome is the card of the first run: three lines that say what to try.
type welcome struct {
	around around
	help   *help
	body   *widgets.Surface
	begin  *widgets.Tool
}

func newWelcome(h *help, surroundings around) *welcome {
	w := &welcome{around: surroundings, help: h}
	w.begin = widgets.NewTextTool(look.IconConfirm, "Begin", "Close this card", w.close)
	lines := container.NewVBox(widgets.NewHeading("Welcome to the bench"))
	for _, t := range []string{
		"1   In the demo, press the mouse button on Skelvig quay, hold it, and drag north to the cairn. Read the bearing on the right.",
		"2   Release the mouse button. Press L to keep the line as a leg, then drag on from its end.",
		"3   For your own map, drop its picture on the window and calibrate it in the Sheet panel.",
	} {
		line := widget.NewLabel(t)
		line.Wrapping = fyne.TextWrapWord
		lines.Add(line)
	}
	lines.Add(container.NewHBox(w.begin))
	w.body = widgets.NewStrip(container.New(&widgets.Pad{Left: 10, Top: 6, Right: 10, Bottom: 4}, lines))
	w.body.Hide()
	return w
}

// show shows the card.
func (w *welcome) show() {
	w.body.Show()
	w.around.arrange()
}

// close closes the card, and shows the cautions until they are understood.
func (w *welcome) close() {
	w.body.Hide()
	w.around.arrange() // the strip has its usual place again
	if !w.help.set.welcomed() {
		w.help.cautions()
	}
	w.around.focus(nil)
}
