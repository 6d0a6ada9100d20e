package ui

import (
	"strings"

	"fyne.io/fyne/v2/container"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// welcome is the card of the first run: three lines that say what to try. It stands over
// the ledger, so that it covers nothing that they name.
type welcome struct {
	around around
	help   *help
	body   *widgets.Surface
	begin  *widgets.Tool
}

func newWelcome(h *help, surroundings around) *welcome {
	w := &welcome{around: surroundings, help: h}
	w.begin = widgets.NewTextTool(look.IconConfirm, "Begin", "Close this card", w.close)
	steps := strings.Join([]string{
		"1   Drag from Skelvig quay to the cairn. The dial shows the bearing.",
		"2   Press L to keep the line as a leg.",
		"3   For your own map, drop its picture on the window.",
	}, "\n")
	head := container.NewBorder(nil, nil, nil, w.begin, widgets.NewHeading("Welcome to the bench"))
	w.body = widgets.NewStrip(container.New(&widgets.Pad{Left: 8, Top: 2, Right: 8}, container.NewVBox(head, widgets.NewWrapped(steps))))
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
	w.around.arrange()
	if !w.help.set.welcomed() {
		w.help.cautions()
	}
	w.around.focus(nil)
}
