package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/look"
	"legwright/app/ui/part"
)

// routePost is the lower part of the Route post: what is selected, a leg typed
// instead of dragged, the marks, the sights, and the outing.
type routePost struct {
	b     *Bench
	lower fyne.CanvasObject

	hint     *part.Sentence
	selected *fyne.Container
	name     *widget.Entry // of the selected mark, leg or sight
	ref      *widget.Entry // of the selected mark
	note     *widget.Entry

	from, bearing, length *widget.Entry
	north                 *part.Chooser

	marks, sights *fyne.Container
	marksHead     *part.Heading
	sightsHead    *part.Heading
	date          *widget.Entry
	title         *widget.Entry
	party         *part.Tool
}

func newRoutePost(b *Bench) *routePost {
	p := &routePost{b: b}
	p.hint = part.NewSentence("", part.Note)
	p.name = entry("name", func(t string) { p.setName(t) })
	p.ref = entry("grid reference", func(t string) { b.try(b.s.SetMarkReference(b.selectedID(), t), "Mark moved.") })
	p.note = entry("note", func(t string) { p.setNote(t) })
	p.selected = container.NewVBox()
	p.from = entry("from: mark or reference", func(string) { p.typedLeg() })
	p.bearing = entry("bearing", func(string) { p.typedLeg() })
	p.length = entry("850 m", func(string) { p.typedLeg() })
	p.north = part.NewChooser([]string{"grid", "magnetic", "true"}, nil)
	p.marks, p.sights = container.NewVBox(), container.NewVBox()
	p.marksHead, p.sightsHead = part.NewHeading("Marks"), part.NewHeading("Sights")
	p.date = entry("2026-11-25", func(t string) { b.try(b.s.SetDate(t), "Date set: the magnetic angle is that of the day.") })
	p.title = entry("title of the plan", func(t string) { b.try(b.s.SetTitle(t), "") })
	p.party = part.NewTextTool("", "Party and compass…", "Compass, speeds and paces of the party", b.askParty)
	p.party.OnHint = b.hintTo
	p.build()
	return p
}

func (p *routePost) build() {
	keep := part.NewTextTool(look.IconAdd, "Add leg", "Add a leg by bearing and distance", p.typedLeg)
	mark := part.NewTextTool(look.IconMark, "Mark…", "Set a mark at a typed reference", p.b.askMark)
	keep.OnHint, mark.OnHint = p.b.hintTo, p.b.hintTo
	typed := container.NewVBox(part.NewHeading("Typed leg"), p.from,
		container.NewGridWithColumns(2, p.bearing, p.length),
		p.north, container.NewHBox(keep))
	p.lower = container.New(&padLayout{right: 12, bottom: 12}, container.NewVBox(
		p.hint, p.selected, typed,
		p.marksHead, p.marks, container.NewHBox(mark),
		p.sightsHead, p.sights,
		part.NewHeading("Outing"), p.title,
		container.NewBorder(nil, nil, widget.NewLabel("Date"), nil, p.date), p.party))
}

// refresh shows the plan's marks, sights and outing again.
func (p *routePost) refresh() {
	pl := p.b.s.Plan()
	p.hint.Set(p.next(pl), part.Note)
	p.showSelected()
	p.marks.RemoveAll()
	for _, m := range pl.Marks {
		ref, err := p.b.s.ReferenceOf(m.Position, 8)
		if err != nil {
			ref = "off the grid"
		}
		p.marks.Add(p.row(m.ID, m.Name, ref))
	}
	p.marksHead.SetNote(countWords(len(pl.Marks)))
	p.sights.RemoveAll()
	for _, r := range p.b.s.Reader().Sights() {
		p.sights.Add(p.row(r.ID, r.From+" – "+r.To, p.sightFigures(r)))
	}
	p.sightsHead.SetNote(countWords(len(pl.Sights)))
	setQuiet(p.date, pl.Date.String())
	setQuiet(p.title, pl.Title)
}

func countWords(n int) string {
	if n == 0 {
		return "none yet"
	}
	return fmt.Sprint(n)
}

// setQuiet sets a field's text unless it is being typed into.
func setQuiet(e *widget.Entry, text string) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(e); c != nil && c.Focused() == e {
		return
	}
	if e.Text != text {
		e.SetText(text)
	}
}

func (p *routePost) sightFigures(r leg.Row) string {
	if r.Err != nil {
		return "no reading"
	}
	closed := r.Reading.Closed(p.b.circle())
	if !r.Reading.HasMagnetic {
		return closed.Grid + " grid"
	}
	return closed.Grid + " grid, " + closed.Magnetic + " mag"
}

// next says in one sentence what to do next.
func (p *routePost) next(pl *plan.Plan) string {
	if p.b.picture.pyramid == nil {
		return "Open the picture of a map: drop it on the window, or press Ctrl+O."
	}
	if _, err := p.b.s.Calibration(); err != nil {
		return "Calibrate the sheet first: go to Sheet."
	}
	if len(pl.Legs) == 0 {
		return "Press on a position, drag to a feature, and keep the line as a leg."
	}
	return "Drag on from the end of the last leg. Double click sets a mark."
}

// row is one line of the marks or the sights.
func (p *routePost) row(id plan.ID, name, note string) fyne.CanvasObject {
	t := part.NewEntry("", name, note, func() { p.b.s.Select(id) })
	t.SetOn(id == p.b.selectedID())
	t.OnHint = p.b.hintTo
	l := widget.NewLabel(note)
	l.Importance = widget.LowImportance
	return container.New(&rowLayout{}, t, l)
}

// showSelected shows the fields of what is selected.
func (p *routePost) showSelected() {
	sel, pl := p.b.s.Selection(), p.b.s.Plan()
	p.selected.RemoveAll()
	switch sel.Kind {
	case session.OfMark:
		m, _ := pl.MarkByID(sel.ID)
		ref, _ := p.b.s.ReferenceOf(m.Position, 10)
		setQuiet(p.name, m.Name)
		setQuiet(p.ref, ref)
		setQuiet(p.note, m.Note)
		p.fillSelected("Mark", p.name, p.ref, p.note)
	case session.OfLeg:
		l, _ := pl.LegByID(sel.ID)
		setQuiet(p.name, l.Name)
		setQuiet(p.note, l.Note)
		p.fillSelected(fmt.Sprintf("Leg %d", pl.LegIndex(sel.ID)+1), p.name, p.note)
	case session.OfSight:
		s, _ := pl.SightByID(sel.ID)
		setQuiet(p.name, s.Name)
		setQuiet(p.note, s.Note)
		p.fillSelected("Sight", p.name, p.note)
	}
	p.selected.Refresh()
}

func (p *routePost) fillSelected(title string, fields ...fyne.CanvasObject) {
	p.selected.Add(part.NewHeading(title))
	for _, f := range fields {
		p.selected.Add(f)
	}
	id := p.b.selectedID()
	find := part.NewTextTool(look.IconSearch, "Find", "Show it on the sheet", func() { p.b.findThing(id) })
	remove := part.NewTextTool(look.IconDelete, "Remove", "Remove it  (Delete)", p.b.removeSelected)
	find.OnHint, remove.OnHint = p.b.hintTo, p.b.hintTo
	p.selected.Add(container.NewHBox(find, remove))
}

func (p *routePost) setName(text string) {
	sel := p.b.s.Selection()
	if sel.Kind == session.OfMark {
		p.b.try(p.b.s.RenameMark(sel.ID, text), "Renamed.")
	} else {
		p.b.try(p.b.s.SetLegField(sel.ID, session.FieldName, text), "Renamed.")
	}
	p.b.focusSheet()
}

func (p *routePost) setNote(text string) {
	sel := p.b.s.Selection()
	if sel.Kind == session.OfMark {
		p.b.try(p.b.s.SetMarkNote(sel.ID, text), "")
	} else {
		p.b.try(p.b.s.SetLegField(sel.ID, session.FieldNote, text), "")
	}
	p.b.focusSheet()
}

// focusName goes to the name of what is selected.
func (p *routePost) focusName() {
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
	if _, err := p.b.s.LegFromTyped(from, p.bearing.Text, north, p.length.Text); p.b.try(err, "Leg added.") {
		p.from.SetText("")
		p.bearing.SetText("")
		p.length.SetText("")
	}
}

// typedFrom is where a typed leg starts: the field, or where it is empty the
// end of the route.
func (p *routePost) typedFrom() (plan.End, error) {
	if legs := p.b.s.Plan().Legs; p.from.Text == "" && len(legs) > 0 {
		return legs[len(legs)-1].To, nil
	}
	return p.b.s.ParseEnd(p.from.Text)
}

// rowLayout gives a list row its width, with a note at its right that the
// name never runs under.
type rowLayout struct{}

// MinSize is the row's height.
func (rowLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(120, o[0].MinSize().Height)
}

// Layout places the note first.
func (rowLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	note := min(o[1].MinSize().Width, size.Width*0.62)
	put(o[0], 0, 0, size.Width-note, size.Height)
	h := o[1].MinSize().Height
	put(o[1], size.Width-note, (size.Height-h)/2, note, h)
}
