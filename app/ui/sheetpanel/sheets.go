package sheetpanel

import (
	"errors"
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// sheetList lists the sheets of a plan that has several, each with how far it can be
// trusted. It is not there for a plan of one sheet.
type sheetList struct {
	n     *Needs
	body  *fyne.Container
	head  *widgets.Heading
	rows  *fyne.Container
	shown []sheetRow
}

// sheetRow is one sheet of the list.
type sheetRow struct {
	id         plan.ID
	name, note string
	inHand     bool
}

func newSheetList(n *Needs) *sheetList {
	l := &sheetList{n: n, head: widgets.NewHeading("Sheets"), rows: container.NewVBox()}
	add := n.tool("", "Another sheet…", "Add a picture to this plan, such as the next panel of a folded map", n.Host.AddSheet)
	l.body = container.NewVBox(l.head, l.rows, container.NewHBox(add))
	l.body.Hide()
	return l
}

// show shows the sheets as they are now.
func (l *sheetList) show() {
	rows := l.list()
	show(l.body, len(rows) > 1)
	if slices.Equal(rows, l.shown) {
		return
	}
	l.shown = rows
	l.rows.RemoveAll()
	for _, r := range rows {
		l.rows.Add(l.row(r))
	}
	l.head.SetNote(fmt.Sprintf("%d in this plan", len(rows)))
}

func (l *sheetList) row(r sheetRow) fyne.CanvasObject {
	name := l.n.entry(r.name, "Show "+r.name+"  (Ctrl+Page Up, Ctrl+Page Down)", func() { l.n.Host.ShowSheet(r.id) })
	name.SetOn(r.inHand)
	remove := l.n.iconTool(look.IconDelete, "Delete "+r.name+" from the plan; the picture's file stays on the disk", func() { l.n.Host.RemoveSheet(r.id) })
	return container.New(&rowLayout{name: r.name}, name, widgets.NewQuiet(r.note), remove)
}

// list says how far each sheet can be trusted.
func (l *sheetList) list() []sheetRow {
	p, now := l.n.Session.Plan(), sheetOf(l.n.Session)
	out := make([]sheetRow, len(p.Sheets))
	for i, s := range p.Sheets {
		out[i] = sheetRow{s.ID, p.SheetName(s.ID), l.note(s), s.ID == now.ID}
	}
	return out
}

// note says in a word or two how far a sheet can be trusted.
func (l *sheetList) note(s plan.Sheet) string {
	c, err := l.n.Session.Reader().CalibrationOf(s.ID)
	switch {
	case errors.Is(err, plan.ErrUncalibrated):
		return "not calibrated"
	case err != nil:
		return "not usable"
	}
	v := l.n.Session.Reader().Verdict(s.ID)
	switch {
	case v.StopShort(c) != "":
		return "STOP"
	case v.Checked:
		return "checked"
	}
	return "unchecked"
}

// rowLayout gives the note and the tool their room at the right, and the name, cut
// where it is too long, the rest.
type rowLayout struct {
	name string  // all of it
	wide float32 // the room it was cut for
}

// MinSize is the row's height.
func (*rowLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(120, max(o[0].MinSize().Height, o[2].MinSize().Height))
}

// Layout places the row from its right end.
func (l *rowLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
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

// cutTo writes as much of a name into a tool as there is room for.
func cutTo(t *widgets.Tool, name string, width float32) {
	for n := len([]rune(name)); n > 4; n-- {
		t.SetText(widgets.CutMiddle(name, n))
		if t.MinSize().Width <= width {
			return
		}
	}
}
