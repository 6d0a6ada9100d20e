package ui

import (
	"errors"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// sheetList lists the sheets of a plan that has several, each with what is
// known of it. It is not there for a plan of one sheet.
type sheetList struct {
	b    *Bench
	body *fyne.Container
	head *widgets.Heading
	rows *fyne.Container
	add  *widgets.Tool
	told []sheetRow // what the rows say
}

// sheetRow is what a row says.
type sheetRow struct {
	id         plan.ID
	name, note string
	shown      bool
}

func newSheetList(b *Bench) *sheetList {
	l := &sheetList{b: b, head: widgets.NewHeading("Sheets"), rows: container.NewVBox()}
	l.add = widgets.NewTextTool("", "Another sheet…", "Add a picture to this plan, such as the next panel of a folded map", b.askSheet)
	l.add.OnHint = b.hintTo
	l.body = container.NewVBox(l.head, l.rows, container.NewHBox(l.add))
	l.body.Hide()
	return l
}

// refresh shows the sheets as they are now.
func (l *sheetList) refresh() {
	told := l.b.sheetRows()
	if len(told) < 2 {
		l.told = nil
		l.body.Hide()
		return
	}
	l.body.Show()
	if sameRows(told, l.told) {
		return
	}
	l.told = told
	l.rows.RemoveAll()
	for _, r := range told {
		l.rows.Add(l.row(r))
	}
	l.head.SetNote(fmt.Sprintf("%d in this plan", len(told)))
	l.rows.Refresh()
}

func sameRows(a, b []sheetRow) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

func (l *sheetList) row(r sheetRow) fyne.CanvasObject {
	name := widgets.NewEntry("", r.name, "Show "+r.name+"  (Ctrl+Page Up, Ctrl+Page Down)", func() { l.b.showSheet(r.id, nil) })
	name.SetOn(r.shown)
	remove := widgets.NewTool(look.IconDelete, "Take "+r.name+" out of the plan", func() { l.b.removeSheet(r.id) })
	name.OnHint, remove.OnHint = l.b.hintTo, l.b.hintTo
	return container.New(&sheetRowLayout{name: r.name}, name, widgets.NewQuiet(r.note), remove)
}

// mostSheetName is how many letters of a sheet's name the foot line has room
// for beside the fit.
const mostSheetName = 24

// sheetRowLayout gives the note and the tool their room at the right, and the
// name, cut where it is too long, the rest.
type sheetRowLayout struct {
	name string  // all of it
	wide float32 // the room it was cut for
}

// MinSize is the row's height.
func (*sheetRowLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(120, max(o[0].MinSize().Height, o[2].MinSize().Height))
}

// Layout places the row from its right end.
func (l *sheetRowLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	tool, note := o[2].MinSize(), o[1].MinSize()
	widgets.Put(o[2], size.Width-tool.Width, (size.Height-tool.Height)/2, tool.Width, tool.Height)
	x := size.Width - tool.Width - note.Width
	widgets.Put(o[1], x, (size.Height-note.Height)/2, note.Width, note.Height)
	widgets.Put(o[0], 0, 0, x-2, size.Height)
	if name, ok := o[0].(*widgets.Tool); ok && l.wide != x {
		l.wide = x
		cutTo(name, l.name, x-2)
	}
}

// cutTo writes a name into a tool, as much of it as there is room for.
func cutTo(t *widgets.Tool, name string, width float32) {
	for n := len([]rune(name)); n > 4; n-- {
		t.SetText(cutMiddle(name, n))
		if t.MinSize().Width <= width {
			return
		}
	}
}

// cutMiddle shortens a name to n letters: names of panels differ at their
// beginning or at their end.
func cutMiddle(name string, n int) string {
	runes := []rune(name)
	if len(runes) <= n {
		return name
	}
	head := (n - 1) / 2
	return string(runes[:head]) + "…" + string(runes[len(runes)-(n-1-head):])
}

// sheetRows says what is known of each sheet.
func (b *Bench) sheetRows() []sheetRow {
	p := b.s.Plan()
	now, _ := b.s.Sheet()
	out := make([]sheetRow, len(p.Sheets))
	for i, s := range p.Sheets {
		out[i] = sheetRow{s.ID, p.SheetName(s.ID), b.sheetNote(s), s.ID == now.ID}
	}
	return out
}

// sheetNote says in a word or two how far a sheet can be trusted.
func (b *Bench) sheetNote(s plan.Sheet) string {
	c, err := b.s.Reader().CalibrationOf(s.ID)
	switch {
	case errors.Is(err, plan.ErrUncalibrated):
		return "not calibrated"
	case err != nil:
		return "no fit"
	}
	v := b.s.Reader().Verdict(s.ID)
	switch {
	case v.StopShort(c) != "":
		return "STOP"
	case v.Checked:
		return "checked"
	}
	return "unchecked"
}
