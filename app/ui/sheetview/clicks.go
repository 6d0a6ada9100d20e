package sheetview

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// clicker answers clicks on the sheet.
type clicker struct {
	*sheet
	host   Host
	offer  *Offer
	take   func(at tool.Spot, double bool) // of the panel that holds the tool; may be nil
	accept func() bool                     // what Return means; may be nil
	more   []func(at tool.Spot) []*fyne.MenuItem
}

// click selects, or with two clicks finds a thing or sets a mark, unless the panel
// that holds the tool takes clicks.
func (c *clicker) click(at tool.Spot, double bool) {
	c.focus()
	if c.state == preview {
		return
	}
	if c.take != nil {
		c.take(at, double)
		return
	}
	if c.offer.on {
		c.offer.discard()
	}
	switch {
	case double && at.Target.Part == tool.Nothing:
		c.newMark(at.At)
	case double:
		c.host.Find(plan.ID(at.Target.ID))
	default:
		c.s.Select(plan.ID(at.Target.ID))
	}
}

// newMark sets a mark at a point of the picture and goes to its name.
func (c *clicker) newMark(at view.PicPt) {
	if c.state == preview {
		c.line.Say(PreviewHint)
		return
	}
	pos, err := c.positionAt(at)
	if err != nil {
		c.line.Fail(err)
		return
	}
	if _, err := c.s.AddMark("", pos); c.line.Try(err, "Mark set. Type its name, or leave the letter.") {
		c.host.NameMark()
	}
}

// openMenu opens the menu of what lies under the pointer.
func (c *clicker) openMenu(at tool.Spot, pos fyne.Position) {
	if c.state != usable {
		return
	}
	items := []*fyne.MenuItem{fyne.NewMenuItem("New mark here", func() { c.newMark(at.At) })}
	if !c.concealed {
		ref, _ := c.words(at.At)
		items = append(items, fyne.NewMenuItem("Copy "+ref, func() { c.copyReference(at.At) }))
	}
	if id := plan.ID(at.Target.ID); id != "" {
		c.s.Select(id)
		items = append(items, fyne.NewMenuItemSeparator(), fyne.NewMenuItem("Find on the sheet", func() { c.host.Find(id) }))
		if c.s.Selection().Kind == plan.OfLeg {
			items = append(items, fyne.NewMenuItem("Reverse the leg", func() { c.line.Try(c.s.ReverseLeg(id), "") }))
		}
		items = append(items, fyne.NewMenuItem("Delete", func() { c.line.Try(c.s.Remove(id), "Deleted. Undo restores it.") }))
	}
	for _, more := range c.more {
		items = append(items, more(at)...)
	}
	if over := fyne.CurrentApp().Driver().CanvasForObject(c.area); over != nil {
		widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), over, pos)
	}
}

// copyReference puts the reference of a point of the picture on the clipboard, with
// the stops against it before it and the notes behind it.
func (c *clicker) copyReference(at view.PicPt) {
	if c.concealed {
		c.line.Say("The figures are hidden. Show them before you copy a reference.")
		return
	}
	ref, _ := c.words(at)
	text := withCautions(ref, c.cautionsAt(at))
	fyne.CurrentApp().Clipboard().SetContent(text)
	c.line.Say("Copied " + text + ".")
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
