package sheetview

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// click selects, or with two clicks finds a thing or sets a mark, unless the panel
// that holds the tool takes clicks.
func (v *View) click(at tool.Spot, double bool) {
	v.Focus()
	if v.state == preview {
		return
	}
	if v.tool.Click != nil {
		v.tool.Click(at, double)
		return
	}
	if v.offer.on {
		v.Discard()
	}
	switch {
	case double && at.Target.Part == tool.Nothing:
		v.NewMark(at.At)
	case double:
		v.host.Find(plan.ID(at.Target.ID))
	default:
		v.s.Select(plan.ID(at.Target.ID))
	}
}

// NewMark sets a mark at a point of the picture and goes to its name.
func (v *View) NewMark(at view.PicPt) {
	pos, err := v.PositionAt(at)
	if err != nil {
		v.line.Fail(err)
		return
	}
	if _, err := v.s.AddMark("", pos); v.line.Try(err, "Mark set. Type its name, or leave the letter.") {
		v.host.NameMark()
	}
}

// AddMenu adds entries to the menu of a right click on the sheet.
func (v *View) AddMenu(entries func(at tool.Spot) []*fyne.MenuItem) {
	v.onMenu = append(v.onMenu, entries)
}

// openMenu opens the menu of what lies under the pointer.
func (v *View) openMenu(at tool.Spot, pos fyne.Position) {
	if v.state != usable {
		return
	}
	ref, _ := v.words(at.At)
	items := []*fyne.MenuItem{
		fyne.NewMenuItem("New mark here", func() { v.NewMark(at.At) }),
		fyne.NewMenuItem("Copy "+ref, func() { v.CopyReference(at.At) }),
	}
	if id := plan.ID(at.Target.ID); id != "" {
		v.s.Select(id)
		items = append(items, fyne.NewMenuItemSeparator(), fyne.NewMenuItem("Find on the sheet", func() { v.host.Find(id) }))
		if v.s.Selection().Kind == session.OfLeg {
			items = append(items, fyne.NewMenuItem("Reverse the leg", func() { v.line.Try(v.s.ReverseLeg(id), "") }))
		}
		items = append(items, fyne.NewMenuItem("Delete", func() { v.line.Try(v.s.Remove(id), "Deleted. Undo restores it.") }))
	}
	for _, more := range v.onMenu {
		items = append(items, more(at)...)
	}
	if c := fyne.CurrentApp().Driver().CanvasForObject(v.area); c != nil {
		widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), c, pos)
	}
}

// CopyReference puts the reference of a point of the picture on the clipboard, with
// the stops against it before it and the notes behind it.
func (v *View) CopyReference(at view.PicPt) {
	ref, _ := v.words(at)
	text := withCautions(ref, v.cautionsAt(at))
	fyne.CurrentApp().Clipboard().SetContent(text)
	v.line.Say("Copied " + text + ".")
}

// withCautions writes a reference with what speaks against it: "STOP: control
// points disagree; NL 2745 4314 (sheet unchecked)".
func withCautions(ref string, list []caution.Caution) string {
	var on []caution.Caution
	for _, c := range list {
		if c.Affects&caution.Position != 0 {
			on = append(on, c)
		}
	}
	if notes := caution.Shorts(caution.OfGrade(on, caution.Note)); notes != nil {
		ref += " (" + strings.Join(notes, ", ") + ")"
	}
	if lead := caution.Lead(on, caution.Position); lead != "" {
		ref = lead + "; " + ref
	}
	return ref
}
