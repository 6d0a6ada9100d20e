package routepanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
)

// card is the parts from which a thing is shown, one below the other. They are used again
// for the next thing: to make them takes the toolkit longer than a frame.
type card struct {
	box       *fyne.Container
	title     *widgets.Heading
	rows      map[fyne.CanvasObject]fyne.CanvasObject // fields with what they are for before them
	acts      *fyne.Container
	look      *widgets.Tool // says which marks can be seen from a mark
	sentences widgets.Sentences
}

// newCard returns a card with the acts on the selected thing.
func newCard(n *Needs, find func(plan.ID), canSee func()) *card {
	id := func() plan.ID { return n.Session.Selection().ID }
	return &card{
		box: container.NewVBox(), title: widgets.NewHeading(""), rows: map[fyne.CanvasObject]fyne.CanvasObject{},
		look: button(n, "", "In sight…", "List the marks that can be seen from this one", canSee),
		acts: container.NewHBox(
			button(n, look.IconSearch, "Find", "Show it on the sheet  (Ctrl+F)", func() { find(id()) }),
			button(n, look.IconDelete, "Delete", "Delete it  (Delete)", func() { sheetview.Remove(n.Session, n.Foot, id()) })),
	}
}

// clear takes all parts away.
func (c *card) clear() {
	c.box.Objects = nil
	c.sentences.Again()
}

// label puts before a field what it is for.
func (c *card) label(n *Needs, text string, field fyne.CanvasObject) {
	c.rows[field] = widgets.NewLabelled(text, wheeled(n, field))
}

// put adds a part, or the row of a field; nil for none.
func (c *card) put(o fyne.CanvasObject) {
	if row, ok := c.rows[o]; ok {
		o = row
	}
	if o != nil {
		c.box.Objects = append(c.box.Objects, o)
	}
}

// say adds a sentence.
func (c *card) say(text string, tone widgets.Tone) { c.put(c.sentences.Next(text, tone)) }

// end adds what can be done with the thing; fromHere says that marks may be in sight from it.
func (c *card) end(fromHere bool) {
	c.acts.Objects = c.acts.Objects[:2]
	if fromHere {
		c.acts.Objects = append(c.acts.Objects, c.look)
	}
	c.put(c.acts)
}
