package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/geomag"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// routePost is the lower part of the Route post: what to do next, and one of
// four sections: the leg, the marks, the sights, the outing. Only the section
// that is wanted is there: what is not seen costs every frame.
type routePost struct {
	b     *Bench
	lower fyne.CanvasObject

	hint     *widgets.Sentence
	choice   *widgets.Chooser
	sections [4]fyne.CanvasObject

	selected *fyne.Container
	name     *widgets.EditField // of the selected mark, leg or sight
	ref      *widgets.EditField // of the selected mark
	lent     *widgets.Sentence  // where the letters of its reference came from
	note     *widgets.EditField
	tick     *widgets.EditField // of the selected leg: what is passed on the way
	tooFar   *widgets.EditField // and what says that it was missed

	from, bearing, length *widget.Entry
	north                 *widgets.Chooser
	typed                 *fyne.Container       // the form of a typed leg
	legScroll             *widgets.NestedScroll // what it scrolls in, below the selected thing

	marks, sights *thingList
	date          *widgets.EditField
	title         *widgets.EditField
	party         *widgets.Tool
}

// The sections in the chooser's order.
const (
	sectionLeg = iota
	sectionMarks
	sectionSights
	sectionOuting
)

func newRoutePost(b *Bench) *routePost {
	p := &routePost{b: b}
	p.hint = widgets.NewSentence("", widgets.Note)
	p.choice = widgets.NewChooser([]string{"Selected", "Marks", "Sights", "Outing"}, p.showSection)
	p.name = widgets.NewEditField("name", p.setName, b.focusSheet)
	p.ref = widgets.NewEditField("grid reference", func(t string) bool {
		err := b.s.SetMarkReference(b.selectedID(), t)
		return b.try(err, b.told("Mark moved.", b.selectedID()))
	}, b.focusSheet)
	p.lent = widgets.NewSentence("", widgets.Note)
	p.note = widgets.NewEditField("note", p.setNote, b.focusSheet)
	p.tick = widgets.NewEditField("tick off on the way", p.setLegText(session.FieldTickOff), b.focusSheet)
	p.tooFar = widgets.NewEditField("gone too far if", p.setLegText(session.FieldTooFar), b.focusSheet)
	p.selected = container.NewVBox()
	p.from = widgets.NewField("from: mark or reference", func(string) { p.typedLeg() })
	p.bearing = widgets.NewField("bearing", func(string) { p.typedLeg() })
	p.length = widgets.NewField("850 m", func(string) { p.typedLeg() })
	p.north = widgets.NewChooser([]string{"grid", "magnetic", "true"}, nil)
	p.marks, p.sights = newThingList(b), newThingList(b)
	p.date = widgets.NewEditField("2026-11-25", func(t string) bool {
		return b.try(b.s.SetDate(t), b.dateWords())
	}, b.focusSheet)
	p.title = widgets.NewEditField("title of the plan", func(t string) bool { return b.try(b.s.SetTitle(t), "") }, b.focusSheet)
	p.party = widgets.NewTextTool("", "Party and compass…", "Compass, speeds and paces of the party", b.askParty)
	p.party.OnHint = b.hintTo
	p.build()
	return p
}

func (p *routePost) build() {
	keep := widgets.NewTextTool(look.IconAdd, "Add leg", "Add a leg by bearing and distance", p.typedLeg)
	mark := widgets.NewTextTool(look.IconMark, "Mark at a reference…", "Set a mark at a typed reference  (Ctrl+M)", p.b.askMark)
	keep.OnHint, mark.OnHint = p.b.hintTo, p.b.hintTo
	p.typed = container.NewVBox(widgets.NewHeading("Typed leg"), p.from,
		container.NewGridWithColumns(2, p.bearing, p.length),
		p.north, container.NewHBox(keep))
	inset := func(o fyne.CanvasObject) *widgets.NestedScroll {
		return widgets.NewNestedScroll(container.New(&widgets.Pad{Right: 12, Bottom: 12}, o), p.b.panelScroll)
	}
	p.legScroll = inset(container.NewVBox(p.selected, p.typed))
	p.sections = [4]fyne.CanvasObject{
		p.legScroll,
		container.NewBorder(container.NewHBox(mark), nil, nil, nil, p.marks),
		p.sights,
		inset(container.NewVBox(p.title, container.NewBorder(nil, nil, widget.NewLabel("Date"), nil, p.date), p.party)),
	}
	head := container.New(&widgets.Pad{Right: 12, Bottom: 6}, container.NewVBox(p.hint, p.choice))
	p.lower = container.NewBorder(head, nil, nil, nil, container.NewStack(p.sections[:]...))
	p.showSection(sectionLeg)
}

// showSection shows one section and hides the others.
func (p *routePost) showSection(which int) {
	p.choice.SetChosen(which)
	for i, s := range p.sections {
		visible(s, i == which)
	}
	p.b.probe.touch()
}

// refresh shows the plan's marks, sights and outing again.
func (p *routePost) refresh() {
	pl := p.b.s.Plan()
	p.hint.Set(p.next(pl), widgets.Note)
	p.showSelected()
	p.marks.show(len(pl.Marks), func(i int) thing { return p.markThing(pl.Marks[i]) }, "No marks yet. Double click on the sheet to set one.")
	sights := p.b.s.Reader().Sights()
	p.sights.show(len(sights), func(i int) thing { return p.sightThing(sights[i]) }, "No sights yet. Drag a bearing and press S.")
	p.date.ShowText("", pl.Date.String())
	p.title.ShowText("", pl.Title)
}

func (p *routePost) markThing(m plan.Mark) thing {
	ref, err := p.b.s.Reader().Reference(m.Position)
	if err != nil {
		ref = "off the grid"
	}
	return thing{m.ID, m.Name, ref, p.b.s.Reader().CautionsOf(m.Position)}
}

func (p *routePost) sightThing(r leg.Row) thing {
	return thing{r.ID, r.From + " – " + r.To, p.sightFigures(r), r.Reading.Cautions}
}

func (p *routePost) sightFigures(r leg.Row) string {
	if r.Err != nil {
		return "no reading"
	}
	return r.Reading.SetFigures(p.b.s.Plan().Party.Compass.Circle)
}

// next says in one sentence what to do next.
func (p *routePost) next(pl *plan.Plan) string {
	if p.b.desk.Pyramid() == nil {
		return "Open the picture of a map: drop it on the window, or press Ctrl+O."
	}
	if _, err := p.b.s.Calibration(); err != nil {
		return "Calibrate the sheet first: go to Sheet."
	}
	if p.b.moving {
		return "Drag a mark or an end to its place. Esc ends moving."
	}
	if len(pl.Legs) == 0 {
		return "Press on a position, drag to a feature, and keep the line as a leg."
	}
	return "Drag on from the end of the last leg. Double click sets a mark."
}

// showSelected shows the fields of what is selected.
func (p *routePost) showSelected() {
	sel, pl := p.b.s.Selection(), p.b.s.Plan()
	id := string(sel.ID)
	p.selected.RemoveAll()
	p.showOffered()
	switch sel.Kind {
	case session.OfMark:
		m, _ := pl.MarkByID(sel.ID)
		p.name.ShowText(id, m.Name)
		p.ref.ShowText(id, p.b.typedRef(m.Position))
		p.note.ShowText(id, m.Note)
		note := p.b.lentNote(m.Position)
		p.lent.Set(p.b.readPosition(m.Position)+" "+note, widgets.Note)
		visible(p.lent, note != "")
		p.fillSelected("Mark", p.name, p.ref, p.lent, p.note)
	case session.OfLeg:
		l, _ := pl.LegByID(sel.ID)
		p.name.ShowText(id, l.Name)
		p.note.ShowText(id, l.Note)
		p.tick.ShowText(id, l.TickOff)
		p.tooFar.ShowText(id, l.TooFar)
		p.fillSelected(fmt.Sprintf("Leg %d", pl.LegIndex(sel.ID)+1), p.name, p.tick, p.tooFar, p.note)
	case session.OfSight:
		s, _ := pl.SightByID(sel.ID)
		p.name.ShowText(id, s.Name)
		p.note.ShowText(id, s.Note)
		p.fillSelected("Sight", p.name, p.note)
	}
	if sel.Kind == session.Nothing {
		for _, f := range []*widgets.EditField{p.name, p.ref, p.note, p.tick, p.tooFar} {
			f.ShowText("", "")
		}
		p.selected.Add(widgets.NewWrappedQuiet("Nothing is selected. Click a leg, a sight or a mark."))
	}
	p.selected.Refresh()
}

func (p *routePost) fillSelected(title string, fields ...fyne.CanvasObject) {
	p.selected.Add(widgets.NewHeading(title))
	p.addCautions(p.b.selectedCautions())
	for _, f := range fields {
		p.selected.Add(f)
	}
	id := p.b.selectedID()
	find := widgets.NewTextTool(look.IconSearch, "Find", "Show it on the sheet", func() { p.b.findThing(id) })
	remove := widgets.NewTextTool(look.IconDelete, "Remove", "Remove it  (Delete)", p.b.removeSelected)
	find.OnHint, remove.OnHint = p.b.hintTo, p.b.hintTo
	p.selected.Add(container.NewHBox(find, remove))
}

func (p *routePost) setName(text string) bool {
	sel := p.b.s.Selection()
	if sel.Kind == session.OfMark {
		return p.b.try(p.b.s.Rename(sel.ID, text), "Renamed.")
	}
	return p.b.try(p.b.s.SetLegField(sel.ID, session.FieldName, text), "Renamed.")
}

func (p *routePost) setNote(text string) bool {
	sel := p.b.s.Selection()
	if sel.Kind == session.OfMark {
		return p.b.try(p.b.s.SetMarkNote(sel.ID, text), "")
	}
	return p.b.try(p.b.s.SetLegField(sel.ID, session.FieldNote, text), "")
}

// setLegText returns what sets one text of the selected leg.
func (p *routePost) setLegText(field session.Field) func(string) bool {
	return func(text string) bool {
		return p.b.try(p.b.s.SetLegField(p.b.selectedID(), field, text), "")
	}
}

// dateWords says what a new date means for the magnetic bearings.
func (b *Bench) dateWords() string {
	if _, err := geomag.ForYear(geomag.DecimalYear(b.s.Plan().Date.Time())); err != nil {
		return "Date set, but there is no magnetic bearing: " + err.Error() + "."
	}
	return "Date set: the magnetic angle is that of the day."
}

// focusName goes to the name of what is selected.
func (p *routePost) focusName() {
	p.showSection(sectionLeg)
	p.b.window.Canvas().Focus(p.name)
	p.name.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// typedLeg adds a leg from the typed fields.
func (p *routePost) typedLeg() {
	from, err := p.typedFrom()
	if err != nil {
		p.b.fail(err)
		return
	}
	north := []session.North{session.GridNorth, session.MagneticNorth, session.TrueNorth}[max(p.north.Chosen(), 0)]
	stood := p.typed.Position().Y - p.legScroll.Offset.Y
	id, err := p.b.s.LegFromTyped(from, p.bearing.Text, north, p.length.Text)
	if p.b.try(err, p.b.told("Leg added.", id)) {
		p.from.SetText("")
		p.bearing.SetText("")
		p.length.SetText("")
		p.holdTyped(stood)
		if f := p.b.window.Canvas().Focused(); f == p.length || f == p.from {
			p.b.window.Canvas().Focus(p.bearing) // the next leg is typed on from the end
		}
	}
}

// showTyped goes to the form of a typed leg, wherever the selected thing has
// pushed it.
func (p *routePost) showTyped() {
	p.showSection(sectionLeg)
	p.holdTyped(0)
	p.b.window.Canvas().Focus(p.bearing)
}

// holdTyped scrolls so that the form of a typed leg stands as far below the
// upper edge as it stood, or as near to that as there is room: the leg that was
// just added is selected, and its fields come above the form.
func (p *routePost) holdTyped(stood float32) {
	p.legScroll.Content.Refresh() // the form's place is that of before otherwise
	p.legScroll.Refresh()
	most := max(p.legScroll.Content.Size().Height-p.legScroll.Size().Height, 0)
	p.legScroll.ScrollToOffset(fyne.NewPos(0, min(max(p.typed.Position().Y-stood, 0), most)))
}

// typedFrom is where a typed leg starts: the field, or where it is empty the
// end of the route.
func (p *routePost) typedFrom() (plan.End, error) {
	if legs := p.b.s.Plan().Legs; p.from.Text == "" && len(legs) > 0 {
		return legs[len(legs)-1].To, nil
	}
	return p.b.s.ParseEnd(p.from.Text)
}
