package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/caution"
	"legwright/app/ui/widgets"
)

// The name in a row of the lists of marks and sights never runs under its note.
func TestNamesDoNotRunUnderTheirNotes(t *testing.T) {
	b := calibrated(t)
	l := newThingList(b)
	stop := []caution.Caution{caution.Of(caution.PoorFit)}
	for _, name := range []string{"Cairn", "Bealach nan Ròp – Beinn Orrach pillar", strings.Repeat("Bealach ", 20), "山道と渓流の分岐点と滝の上の大岩の北側 – Cairn"} {
		for _, note := range []string{"NL 2745 4314", "252° grid, 249° mag", "56.166667°N 6.166667°W"} {
			l.show(1, func(int) thing { return thing{id: "x", name: name, note: note, cautions: stop} }, "")
			row := container.New(&rowLayout{}, widgets.NewEntry("", "", "", nil), widgets.NewQuiet(""))
			row.Resize(fyne.NewSize(widgets.RowWidth, 36))
			l.update(0, row)
			tool, label := row.Objects[0].(*widgets.Tool), row.Objects[1].(*widget.Label)
			if end := tool.Position().X + tool.MinSize().Width; end > label.Position().X+1 {
				t.Errorf("%q with %q: the name ends at %v, the note begins at %v", name, note, end, label.Position().X)
			}
			if end := label.Position().X + label.MinSize().Width; end > widgets.RowWidth {
				t.Errorf("%q with %q: the note ends at %v of %v", name, note, end, widgets.RowWidth)
			}
		}
	}
}
