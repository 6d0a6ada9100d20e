package escapepanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
)

// Host is what the panel needs of the window.
type Host interface {
	Find(id plan.ID) // brings a thing into sight
}

// Needs is what the panel is made from.
type Needs struct {
	Session *session.Session
	Foot    *foot.Line
	View    *sheetview.View
	Host    Host
	Outer   func() *container.Scroll // the scroll that the panel stands in; it may return nil
}

// wheeled is a field over which the wheel scrolls what the panel stands in.
func (n *Needs) wheeled(field fyne.CanvasObject) fyne.CanvasObject {
	return widgets.NewWheeled(field, func(e *fyne.ScrollEvent) {
		if outer := n.Outer(); outer != nil {
			outer.Scrolled(e)
		}
	})
}

// Section is a part of the panel; one is seen at a time.
type Section int

// The sections from left to right.
const (
	Hazards Section = iota
	Havens
	Lines
	Areas
	Marks
	Escapes
)

// section is one part of the panel.
type section interface {
	title() string
	body() fyne.CanvasObject
	shows() session.Aspect // what its contents depend on
	fill()
	next() string // what to do next, in a sentence
}

// Panel is the Escape panel. Make it with New.
type Panel struct {
	n        *Needs
	body     fyne.CanvasObject
	hint     *widgets.Sentence
	choice   *widgets.Chooser
	sections []section
	stale    []bool // something of a section has changed since it was filled
	seen     Section
	draw     *drawer
	vertex   *vertex
	slips    *slips
	front    bool
}

// hintLines is the most lines of what any section says to do next, so that the controls below do not
// move from section to section.
const hintLines = 3

// New returns the panel.
func New(needs Needs) *Panel {
	n := &needs
	p := &Panel{n: n, hint: widgets.NewSentence("", widgets.Note)}
	p.hint.HoldLines(hintLines) // what stands below it is clicked at while the words change
	p.draw = newDrawer(n, p.toolChanged)
	p.vertex = newVertex(n)
	p.slips = newSlips(p)
	p.sections = p.list()
	p.stale = make([]bool, len(p.sections))
	var titles []string
	var bodies []fyne.CanvasObject
	for i, s := range p.sections {
		titles, bodies = append(titles, s.title()), append(bodies, s.body())
		p.stale[i] = true
	}
	p.choice = widgets.NewChooser(titles, func(i int) { p.ShowSection(Section(i)) })
	head := container.New(&widgets.Pad{Right: 12, Bottom: 6}, container.NewVBox(p.choice, p.hint))
	p.body = container.New(&widgets.Pad{Left: 12, Top: 8}, container.NewBorder(head, nil, nil, nil, container.NewStack(bodies...)))
	n.Session.OnChange(p.changed)
	n.View.AddMenu(p.vertex.entries)
	n.View.AddMenu(p.markEntries)
	p.ShowSection(Hazards)
	return p
}

// list makes the sections in the order of their constants.
func (p *Panel) list() []section {
	return []section{newHazards(p), newHavens(p), newLines(p), newAreas(p), newMarks(p), newWaysOff(p)}
}

// Body is what the window shows.
func (p *Panel) Body() fyne.CanvasObject { return p.body }

// ShowSection shows one section in place of the others.
func (p *Panel) ShowSection(which Section) {
	changed := p.seen != which
	if changed {
		p.draw.cancel()
	}
	p.seen = which
	p.choice.SetChosen(int(which))
	for i, s := range p.sections {
		visible(s.body(), Section(i) == which)
	}
	p.fillSeen()
	if p.ShowHint(); changed {
		p.toolChanged()
	}
}

// Show tells the panel that it came to the front, or went. What is being drawn is
// discarded when it goes.
func (p *Panel) Show(on bool) {
	if p.front = on; !on {
		p.draw.cancel()
	}
	p.fillSeen()
	p.ShowHint()
}

// changed fills the section that is seen, if what it shows has changed, and marks the
// others. What is selected brings its section to the front.
func (p *Panel) changed(c session.Change) {
	if c.Passing() {
		return
	}
	if c.What.Has(session.SheetShown | session.CalibrationChanged | session.PlanReplaced) {
		p.draw.cancel()
	}
	for i, s := range p.sections {
		p.stale[i] = p.stale[i] || c.What.Has(s.shows())
	}
	p.vertex.follow()
	if which, ok := p.sectionOf(p.n.Session.Selection().Kind); ok && p.front && c.What.Has(session.SelectionChanged) {
		p.ShowSection(which)
	}
	p.fillSeen()
	p.ShowHint()
}

// sectionOf is where things of a kind are changed.
func (p *Panel) sectionOf(k plan.Kind) (Section, bool) {
	which, ok := map[plan.Kind]Section{plan.OfHazard: Hazards, plan.OfHaven: Havens, plan.OfLine: Lines, plan.OfArea: Areas, plan.OfEscape: Escapes}[k]
	return which, ok
}

func (p *Panel) fillSeen() {
	if p.front && p.stale[p.seen] {
		p.stale[p.seen] = false
		p.sections[p.seen].fill()
	}
}

// ShowHint says in one sentence what to do next.
func (p *Panel) ShowHint() {
	for _, s := range p.sections {
		if s, ok := s.(interface{ showDrawing(bool) }); ok {
			s.showDrawing(p.draw.on())
		}
	}
	p.hint.Set(p.next(), widgets.Note)
}

func (p *Panel) next() string {
	_, err := p.n.Session.Calibration()
	switch {
	case p.n.View.Wanted() != "":
		return p.n.View.Wanted()
	case err != nil:
		return "Calibrate the sheet first: go to the Sheet panel."
	case p.draw.on():
		return p.draw.next()
	}
	return p.sections[p.seen].next()
}

// DrawHazard begins to draw a hazard of the kind chosen last, an area or a line.
func (p *Panel) DrawHazard(area bool) {
	p.ShowSection(Hazards)
	p.sections[Hazards].(*hazards).begin(area)
}

// DrawHaven begins to draw a haven of the kind chosen last, a line or a point.
func (p *Panel) DrawHaven(line bool) {
	p.ShowSection(Havens)
	p.sections[Havens].(*havens).begin(line)
}

// DrawLine begins to draw a line of the kind chosen last.
func (p *Panel) DrawLine() {
	p.ShowSection(Lines)
	p.sections[Lines].(*lines).begin()
}

// DrawArea begins to draw an area of the ground chosen last.
func (p *Panel) DrawArea() {
	p.ShowSection(Areas)
	p.sections[Areas].(*areas).begin()
}

// waysOff is the section of the escapes.
func (p *Panel) waysOff() *waysOff { return p.sections[Escapes].(*waysOff) }

// TickMap begins to look along the legs of the selected escape, and to tick them.
func (p *Panel) TickMap() {
	p.ShowSection(Escapes)
	p.waysOff().tick.start()
}

// ToggleSlips shows where slips with the compass lead, of an escape one leg after the other, and hides
// that again.
func (p *Panel) ToggleSlips() { p.slips.toggle() }

// ShowsSlips reports whether it is shown.
func (p *Panel) ShowsSlips() bool { return p.slips.on }

// NameEscape goes to the field for the name of the selected escape.
func (p *Panel) NameEscape() {
	p.ShowSection(Escapes)
	name := p.waysOff().name
	if c := fyne.CurrentApp().Driver().CanvasForObject(name); c != nil && p.waysOff().form.Visible() {
		c.Focus(name)
	}
}

// Conceal hides every figure of the escapes, or shows them again.
func (p *Panel) Conceal(on bool) {
	p.waysOff().hidden = on
	p.waysOff().fill()
}

// Escape ends what is being drawn or ticked, and reports whether there was anything.
func (p *Panel) Escape() bool {
	on, ticking := p.draw.on(), p.waysOff().tick.on
	p.draw.cancel()
	p.waysOff().tick.stop()
	return on || ticking
}

// Key takes a key that nothing with the focus takes, and reports whether it means
// something here.
func (p *Panel) Key(e *fyne.KeyEvent) bool { return p.front && (p.draw.key(e) || p.deletePoint(e)) }

// deletePoint takes Delete where a point is chosen: without it the whole hazard would go.
func (p *Panel) deletePoint(e *fyne.KeyEvent) bool {
	which, _ := p.sectionOf(p.n.Session.Selection().Kind)
	if e.Name != fyne.KeyDelete && e.Name != fyne.KeyBackspace || p.vertex.at < 0 || which != p.seen {
		return false
	}
	p.vertex.remove()
	return true
}

func visible(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// button is a button of words whose hint stands in the foot line.
func button(n *Needs, icon fyne.ThemeIconName, text, hint string, do func()) *widgets.Tool {
	t := widgets.NewTextTool(icon, text, hint, do)
	t.OnHint = n.Foot.Hint
	return t
}
