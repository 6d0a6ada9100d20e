package sheetpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
)

// Panel is the Sheet panel. Make it with New.
type Panel struct {
	n    *Needs
	body *fyne.Container

	hint     *widgets.Sentence
	points   *Calibrator
	verdict  *verdict
	accuracy *Accuracy
	arrows   *Arrows
	sheets   *sheetList
	setup    *setup
	list     *pointList

	shown bool // the panel is in front
	stale bool // something changed while it was not
}

// New returns the panel of a session. It listens to the session from then on.
func New(n Needs) *Panel {
	p := &Panel{n: &n, stale: true}
	p.hint = widgets.NewSentence("", widgets.Note)
	p.points = newCalibrator(p.n, p.Refresh, func(text string) { p.hint.Set(text, widgets.Note) })
	p.verdict = newVerdict(p.n, p.points.Choose)
	p.accuracy = newAccuracy(p.n, p.redraw)
	p.arrows = newArrows(p.n)
	p.sheets = newSheetList(p.n)
	p.setup = newSetup(p.n, p.points.grid.Find, p.ChooseGrid)
	p.list = newPointList(p.n, p.points.Choose)
	p.build()
	n.Map.AddLayer(p.draw)
	p.n.Session.OnChange(p.changed)
	return p
}

func (p *Panel) build() {
	f, e := p.points.form, p.points.evidence
	f.acts.Objects = []fyne.CanvasObject{f.keep, e.use, f.drop}
	f.entry.Objects = []fyne.CanvasObject{f.ref, e.row, e.markRow, f.acts, f.check}
	p.body = container.New(&widgets.Pad{Left: 12, Top: 10, Right: 12, Bottom: 10}, container.NewVBox(
		p.points.head, p.setup.made, p.hint,
		p.points.grid.row, p.points.georef.body,
		container.NewCenter(container.NewHBox(f.view, e.beside.body)), f.entry,
		p.verdict.body, p.accuracy.body,
		p.sheets.body, p.setup.body, p.list.head, p.arrows.row, p.list.rows))
	p.list.top = func() float32 { return p.body.Objects[0].Position().Y + p.list.rows.Position().Y }
}

// Body is all of the panel. It is as high as what it holds.
func (p *Panel) Body() fyne.CanvasObject { return p.body }

// Hint is what the panel says is to be done next.
func (p *Panel) Hint() string { return p.hint.Text() }

// Show tells the panel that it came to the front, or went. A panel that went cancels
// what was aimed at.
func (p *Panel) Show(on bool) {
	p.shown = on
	p.arrows.on, p.accuracy.front = on, on
	switch {
	case !on:
		p.points.forget()
	case p.stale:
		p.Refresh()
	}
}

// changed shows what a change of the session touched.
func (p *Panel) changed(c session.Change) {
	switch {
	case c.Passing() || !c.What.Has(session.AnySheet|session.PlanReplaced):
	case c.Moving && p.shown:
		p.showJudgement()
		widgets.Arrange(p.body)
	default:
		p.points.follow()
		p.Refresh()
	}
}

// showJudgement shows what is known of how far the sheets can be trusted.
func (p *Panel) showJudgement() {
	sheet, _ := p.n.Session.Sheet()
	c, err := p.n.Session.Calibration()
	p.verdict.show(sheet, c, err, !p.points.form.on)
	p.sheets.show()
}

// Refresh shows the state of the sheet: what to do next, the points, the fit, the
// cautions and the evidence.
func (p *Panel) Refresh() {
	if !p.shown {
		p.stale = true
		return
	}
	p.stale = false
	sheet, has := p.n.Session.Sheet()
	c, err := p.n.Session.Calibration()
	if err != nil {
		c = nil
	}
	aiming := p.points.form.on
	p.points.evidence.show(c != nil)
	p.points.form.show(p.n.Pictures.Pyramid(), p.points.evidence.source(), p.points.naming())
	p.hint.Set(p.points.next(sheet, has, c, err), widgets.Note)
	p.hint.Hold(aiming) // what stands below it is being typed into
	p.showJudgement()
	p.points.georef.show(sheet, c, aiming)
	p.points.grid.show(sheet, aiming)
	p.accuracy.show(sheet, c, aiming)
	p.arrows.show(c)
	p.setup.show(sheet, p.points.georef.on, aiming)
	p.list.show(sheet, c, p.points.form.chosen)
	p.points.typed()
	widgets.Arrange(p.body)
}

// redraw shows the panel and what it draws over the map again.
func (p *Panel) redraw() { p.points.redraw() }

// Tool is what the panel makes of the map while it is in front.
func (p *Panel) Tool() sheetview.Tool {
	return sheetview.Tool{
		Kind: tool.Calibrate, Calibrating: true,
		Click:  func(at tool.Spot, _ bool) { p.points.Click(at) },
		Accept: p.FirstAct,
	}
}

// draw adds to the drawing of the map what the panel knows.
func (p *Panel) draw(s *overlay.Scene) {
	if !p.shown {
		return
	}
	p.points.addTo(s)
	p.accuracy.addTo(s)
	p.arrows.addTo(s)
}

// PictureChanged tells the panel that another picture is shown, or none: what was
// aimed at and the grid found belonged to the one before.
func (p *Panel) PictureChanged() {
	p.points.grid.forget()
	p.points.forget()
}

// LevelReady tells the panel that the picture was read in full.
func (p *Panel) LevelReady() {
	if p.points.form.on {
		p.Refresh()
		p.points.form.aim.Refresh() // the enlargement is of that level
	}
}

// ViewChanged tells the panel that the map is seen otherwise.
func (p *Panel) ViewChanged() { p.arrows.showTimes() }

// sheetOf is the sheet in hand, empty without one.
func sheetOf(s *session.Session) plan.Sheet {
	sheet, _ := s.Sheet()
	return sheet
}

// show shows or hides a part.
func show(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// tool returns a button whose hint the foot line shows.
func (n *Needs) tool(icon fyne.ThemeIconName, text, hint string, do func()) *widgets.Tool {
	t := widgets.NewTextTool(icon, text, hint, do)
	t.OnHint = n.Foot.Hint
	return t
}

// iconTool returns a button of an icon alone.
func (n *Needs) iconTool(icon fyne.ThemeIconName, hint string, do func()) *widgets.Tool {
	t := widgets.NewTool(icon, hint, do)
	t.OnHint = n.Foot.Hint
	return t
}

// entry returns an entry of a list.
func (n *Needs) entry(text, hint string, do func()) *widgets.Tool {
	t := widgets.NewEntry("", text, hint, do)
	t.OnHint = n.Foot.Hint
	return t
}

// Controls are the parts that automated tests of the window work, by name.
func (p *Panel) Controls() map[string]fyne.CanvasObject {
	return map[string]fyne.CanvasObject{"reference": p.points.form.ref, "aim": p.points.form.aim, "keep point": p.points.form.keep, "use as check": p.points.evidence.use}
}

// Points are the acts on control points and checks.
func (p *Panel) Points() *Calibrator { return p.points }

// Grid is the finder of the printed grid.
func (p *Panel) Grid() *FoundGrid { return p.points.grid }

// Accuracy shades the map.
func (p *Panel) Accuracy() *Accuracy { return p.accuracy }

// Arrows are the arrows at the control points.
func (p *Panel) Arrows() *Arrows { return p.arrows }
