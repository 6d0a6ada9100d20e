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

// click selects, or with two clicks sets a mark or finds a thing, unless the panel
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
	if double {
		c.double(at)
		return
	}
	c.s.Select(at.Target.ID)
}

// double sets a mark at a point or at the end of a leg or sight that has none, and finds
// anything else.
func (c *clicker) double(at tool.Spot) {
	t := at.Target
	switch {
	case t.Part == tool.Nothing:
		c.newMark(at.At)
	case t.Part == tool.Point && (t.Kind == plan.OfLeg || t.Kind == plan.OfSight):
		c.markEnd(t.ID, plan.Which(t.Index))
	default:
		c.host.Find(t.ID)
	}
}

// markSet asks for the name of a mark that was just set.
const markSet = "Mark set. Type a name, or keep the letter."

// markEnd makes a mark of an end of a leg or sight and goes to its name.
func (c *clicker) markEnd(id plan.ID, which plan.Which) {
	name := c.s.Plan().NextMarkName()
	if !c.line.Try(c.s.NameEnd(id, which, name), markSet) {
		return
	}
	if m, ok := c.s.Plan().MarkByName(name); ok {
		c.s.Select(m.ID)
		c.host.NameMark()
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
	if _, err := c.s.AddMark("", pos); c.line.Try(err, markSet) {
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
		items = append(items, fyne.NewMenuItem("Delete", func() { Remove(c.s, c.line, id) }))
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
