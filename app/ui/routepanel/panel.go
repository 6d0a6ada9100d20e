package routepanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
)

// Host is what the panel needs of the window.
type Host interface {
	Show()        // brings the Route panel to the front
	Moving() bool // dragging moves marks and ends, and reads no bearing
	// ShowSheet shows another sheet of the plan, and finds a thing once it is seen.
	ShowSheet(id, thing plan.ID)
}

// Needs is what the panel is made from.
type Needs struct {
	Session *session.Session
	Foot    *foot.Line
	Ask     *ask.Dialogs
	View    *sheetview.View
	Host    Host
	Dates   Dates
	Outer   func() *container.Scroll // the scroll that the panel stands in; it may return nil

	wheel func(*fyne.ScrollEvent) // over a field scrolls the section that is seen
}

// Section is a part of the panel; one is seen at a time.
type Section int

// The sections from left to right.
const (
	Selected Section = iota
	Profile
	Marks
	Sights
	Tracks
	Plan
)

// section is one part of the panel.
type section struct {
	title string
	body  fyne.CanvasObject
	shows session.Aspect // what its contents depend on
	fill  func()
	stale bool // something of it has changed since it was filled
}

// Panel is the lower part of the Route panel.
type Panel struct {
	n        *Needs
	body     fyne.CanvasObject
	hint     *widgets.Sentence
	choice   *widgets.Chooser
	seen     Section
	sections []*section
	selected *selected
	typed    *typedLeg
	about    *about
	finder   *finder
	walk     *walk

	concealed bool
}

// New returns the panel.
func New(needs Needs) *Panel {
	n := &needs
	p := &Panel{n: n, hint: widgets.NewSentence("", widgets.Note), finder: &finder{n}}
	n.wheel = p.scrolled
	p.typed = newTypedLeg(n)
	p.selected = newSelected(n, p.finder.find, p.CanSee, p.typed)
	p.about = newAbout(n)
	p.walk = newWalk(n, p.finder)
	p.sections = p.list()
	titles := make([]string, len(p.sections))
	bodies := make([]fyne.CanvasObject, len(p.sections))
	for i, s := range p.sections {
		titles[i], bodies[i], s.stale = s.title, s.body, true
	}
	p.hint.Hold(true) // the fields below it are typed into
	p.choice = widgets.NewChooser(titles, func(i int) { p.ShowSection(Section(i)) })
	head := container.New(&widgets.Pad{Right: 12, Bottom: 6}, container.NewVBox(p.choice, p.hint))
	p.body = container.NewBorder(head, nil, nil, nil, container.NewStack(bodies...))
	n.Session.OnChange(p.changed)
	n.View.Offer().OnChange(p.offered)
	n.View.AddMenu(p.nameEntries)
	p.ShowSection(Selected)
	return p
}

// list makes the sections in the order of their constants.
func (p *Panel) list() []*section {
	const things = session.Readings | session.SelectionChanged
	marks, sights, tracks := p.newMarks(), p.newSights(), p.newTracks()
	return []*section{
		{title: "Selected", body: p.selected.body, shows: session.Readings | session.AnyThing | session.NotesChanged | session.SelectionChanged, fill: p.selected.fill},
		{title: "Profile", body: p.walk.body, shows: session.Readings | session.TerrainChanged | session.SelectionChanged, fill: p.walk.fill},
		{title: "Marks", body: marks.Body(), shows: things, fill: marks.fill},
		{title: "Sights", body: sights.Body(), shows: things, fill: sights.fill},
		{title: "Tracks", body: tracks.Body(), shows: session.AnyThing | session.SelectionChanged, fill: tracks.fill},
		{title: "Plan", body: p.about.body, shows: session.Readings | session.TitleChanged | session.PlanReplaced, fill: p.about.fill},
	}
}

// scrolled scrolls the section that is seen.
func (p *Panel) scrolled(e *fyne.ScrollEvent) {
	if area, ok := p.sections[p.seen].body.(fyne.Scrollable); ok {
		area.Scrolled(e)
	}
}

// wheeled is a field over which the wheel scrolls the section.
func wheeled(n *Needs, field fyne.CanvasObject) fyne.CanvasObject {
	return widgets.NewWheeled(field, func(e *fyne.ScrollEvent) { n.wheel(e) })
}

// Body is what the window shows.
func (p *Panel) Body() fyne.CanvasObject { return p.body }

// Show tells the panel that it came to the front, or went.
func (p *Panel) Show(bool) { p.fillSeen() }

// ShowSection shows one section in place of the others.
func (p *Panel) ShowSection(which Section) {
	p.seen = which
	p.choice.SetChosen(int(which))
	for i, s := range p.sections {
		if Section(i) == which {
			s.body.Show()
		} else {
			s.body.Hide()
		}
	}
	p.fillSeen()
}

// changed fills the section that is seen, if what it shows has changed, and marks the
// others. While something is dragged it does nothing: the session tells all of it
// again at the end of the drag.
func (p *Panel) changed(c session.Change) {
	if c.Passing() {
		return
	}
	for _, s := range p.sections {
		s.stale = s.stale || c.What.Has(s.shows)
	}
	p.fillSeen()
	p.ShowHint()
	if c.What.Has(session.SelectionChanged) && !c.What.Has(session.SheetShown) {
		p.finder.tellElsewhere()
	}
}

// fillSeen fills the section that is seen. While another panel is in front none is.
func (p *Panel) fillSeen() {
	if s := p.sections[p.seen]; s.stale && p.body.Visible() {
		s.stale = false
		s.fill()
	}
}

// offered shows the cautions of the line that was just dragged, or takes them away.
func (p *Panel) offered() {
	p.sections[Selected].stale = true
	p.fillSeen()
}

// ShowHint says in one sentence what to do next.
func (p *Panel) ShowHint() { p.hint.Set(p.next(), widgets.Note) }

func (p *Panel) next() string {
	_, err := p.n.Session.Calibration()
	switch {
	case p.n.View.Wanted() != "":
		return p.n.View.Wanted()
	case err != nil:
		return "Calibrate the sheet first: go to the Sheet panel."
	case p.concealed:
		return hiddenHint
	case p.n.Host.Moving():
		return "Drag a mark or an end to where it belongs. Press Esc when you are done."
	case len(p.n.Session.Plan().Legs) == 0:
		return "Press on a position, drag to a feature, and keep the line as a leg."
	}
	return "Drag on from the end of the last leg. A double click sets a mark."
}

// FocusName goes to the name of what is selected.
func (p *Panel) FocusName() {
	p.n.Host.Show()
	p.ShowSection(Selected)
	focus(p.n, p.selected.name)
	p.selected.name.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// FocusStart goes to the start of the route by the clock.
func (p *Panel) FocusStart() {
	p.n.Host.Show()
	p.ShowSection(Plan)
	p.inSight(p.about.scroll, p.about.clock.start)
	focus(p.n, p.about.clock.start)
	p.about.clock.start.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// WalkProfile goes to the profile of the route, whose legs the arrow keys then walk.
func (p *Panel) WalkProfile() {
	p.n.Host.Show()
	p.ShowSection(Profile)
	p.walk.inSight()
	if p.walk.picture.Visible() {
		focus(p.n, p.walk.picture)
	}
}

// ShowTyped goes to the form of a leg by bearing and distance.
func (p *Panel) ShowTyped() {
	p.n.Host.Show()
	p.ShowSection(Selected)
	p.selected.holdForm(0)
	focus(p.n, p.typed.bearing)
}

// Find brings a leg, sight, mark or track into sight, on another sheet if it lies
// there alone.
func (p *Panel) Find(id plan.ID) { p.finder.find(id) }

// Controls names the fields that an automated test works with the mouse.
func (p *Panel) Controls() map[string]fyne.CanvasObject {
	return map[string]fyne.CanvasObject{
		"date": p.about.date, "start": p.about.clock.start, "time zone": p.about.clock.zone, "typed bearing": p.typed.bearing, "typed length": p.typed.length, "typed from": p.typed.from,
	}
}

// inSight scrolls a section until something in it is seen. It may never have been painted,
// so its position is counted from the section's own.
func (p *Panel) inSight(section *widgets.NestedScroll, o fyne.CanvasObject) {
	p.body.Refresh()
	section.Content.Refresh()
	section.Refresh()
	if y, ok := downTo(section.Content, o); ok {
		section.ScrollToOffset(fyne.NewPos(0, max(y+o.MinSize().Height-section.Size().Height, 0)))
	}
}

// downTo is how far below the upper edge of a container something in it stands.
func downTo(in, o fyne.CanvasObject) (y float32, ok bool) {
	if in == o {
		return 0, true
	}
	if c, is := in.(*fyne.Container); is {
		for _, x := range c.Objects {
			if y, ok := downTo(x, o); ok {
				return y + x.Position().Y, true
			}
		}
	}
	return 0, false
}

// focus goes to a field.
func focus(n *Needs, f fyne.Focusable) { n.Ask.Window().Canvas().Focus(f) }
