package ui

import (
	"fmt"

	"legwright/app/ui/sheetview"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/ui/aim"
	"legwright/app/ui/foot"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// sheetPost is the Sheet post: it leads through the calibration of a picture.
// Its upper part stands in the dial's place: what to do next, the fine aim,
// and the reference of the place aimed at. Its lower part has the grid, the
// picture's medium, the control points and the evidence.
type sheetPost struct {
	b     *Bench
	top   fyne.CanvasObject
	lower fyne.CanvasObject

	hint     *widgets.Sentence
	aim      *aim.Aim
	place    *widget.Label
	ref      *widgets.EscapeEntry
	check    *widgets.Sentence
	keep     *widgets.Tool
	drop     *widgets.Tool
	grid     *widgets.Tool
	finder   *widgets.Tool
	medium   *widgets.Chooser  // how the picture came about
	mediumIs *widgets.Sentence // what that means
	knows    *sheetKnows
	sheets   *sheetList
	points   *fyne.Container
	state    *widgets.Heading

	evidence *evidenceForm
	checks   *sheetCheck

	on     bool       // a place is aimed at
	at     view.PicPt // that place
	chosen int        // the control point that is being changed, −1 for a new one
}

// media are how a picture may have come about, in the chooser's order.
func media() []calib.Medium { return []calib.Medium{calib.Scan, calib.Photograph, calib.Drawn} }

func newSheetPost(b *Bench) *sheetPost {
	p := &sheetPost{b: b, chosen: -1}
	p.hint = widgets.NewSentence("", widgets.Note)
	p.aim = aim.New(p.aimed, p.toReference)
	p.aim.OnRune(p.typeReference)
	p.aim.OnEscape(b.escape)
	p.place = widget.NewLabel("")
	p.place.Importance = widget.LowImportance
	p.ref = widgets.NewEscapeEntry("grid reference, such as NN 123 456", p.keepPoint, p.forgetAndRefresh)
	p.ref.OnChanged = func(string) { p.live() }
	p.check = widgets.NewSentence("", widgets.Note)
	p.keep = widgets.NewTextTool(look.IconConfirm, "Keep point", "Keep this as a control point  (Return)", p.keepPoint)
	p.drop = widgets.NewTextTool("", "Cancel", "Leave this place as it is  (Esc)", p.forgetAndRefresh)
	p.grid = widgets.NewTextTool(look.IconSearch, "", "Choose the grid of the sheet", b.askGrid)
	p.finder = widgets.NewTextTool(look.IconSearch, "Find the printed grid", "Look for the grid's lines in the picture: one that you name then names them all  (Ctrl+R)", b.findPrintedGrid)
	p.medium = widgets.NewChooser([]string{"Scan", "Photograph", "Drawn"}, func(i int) { b.try(b.s.SetMedium(media()[i]), "") })
	p.mediumIs = widgets.NewSentence("", widgets.Note)
	p.knows = newSheetKnows(b)
	p.sheets = newSheetList(b)
	p.points = container.NewVBox()
	p.state = widgets.NewHeading("Control points")
	p.evidence, p.checks = newEvidenceForm(p), newSheetCheck(b)
	for _, t := range []*widgets.Tool{p.keep, p.drop, p.grid, p.finder} {
		t.OnHint = b.hintTo
	}
	p.build()
	return p
}

func (p *sheetPost) build() {
	acts := container.NewHBox(p.keep, p.evidence.use, p.drop)
	sights := container.NewHBox(container.NewVBox(p.aim, p.place), p.evidence.beside.body)
	p.top = container.New(&widgets.Pad{Left: 12, Top: 10, Right: 12, Bottom: 4}, container.NewVBox(
		widgets.NewHeading("Calibrate"), p.hint, p.checks.body, p.knows.body, container.NewCenter(sights),
		p.ref, p.check, acts, p.evidence.row, p.evidence.markRow))
	p.lower = container.New(&widgets.Pad{Right: 12, Bottom: 10}, container.NewVBox(
		p.sheets.body,
		container.NewBorder(nil, nil, widget.NewLabel("Grid"), nil, p.grid),
		p.medium, p.mediumIs,
		p.finder, p.state, p.knows.arrows, p.points))
}

// clicked takes a click on the sheet: a control point is chosen, any other
// place aimed at.
func (p *sheetPost) clicked(at tool.Spot) {
	if p.b.picture.pyramid == nil {
		return
	}
	p.chosen = -1
	p.at, p.on = p.b.printed.pulled(at.At, p.b.view.PickSigma()), true
	p.ref.SetText("")
	if at.Target.Part == tool.Control {
		p.choose(at.Target.Index)
		return
	}
	p.refresh()
	p.b.refreshAll()
	p.b.window.Canvas().Focus(p.aim)
}

// choose takes up a control point to change it.
func (p *sheetPost) choose(i int) {
	sheet, ok := p.b.s.Sheet()
	if !ok || i < 0 || i >= len(sheet.Points) {
		return
	}
	p.chosen, p.on, p.at = i, true, sheetview.ViewPt(sheet.Points[i].At)
	p.ref.SetText(sheet.Points[i].Text)
	p.refresh()
	p.b.refreshAll()
	if p.b.picture.pyramid != nil && !p.b.view.InView(p.at) {
		p.b.sheet.CenterOn(p.at)
	}
	p.b.window.Canvas().Focus(p.aim)
}

// follow takes the chosen control point as it is after an undo or a redo; one
// that is there no more is let go.
func (p *sheetPost) follow() {
	if p.chosen < 0 {
		return
	}
	sheet, _ := p.b.s.Sheet()
	if p.chosen >= len(sheet.Points) {
		p.forgetAndRefresh()
		return
	}
	c := sheet.Points[p.chosen]
	p.at = sheetview.ViewPt(c.At)
	p.ref.SetText(c.Text)
	p.refresh()
}

// aimed hears each new place of the fine aim.
func (p *sheetPost) aimed(at view.PicPt) {
	p.at = at
	p.place.SetText(p.placeWords())
	if p.chosen >= 0 {
		p.b.fail(p.b.s.NudgeControlPoint(p.chosen, sheetview.PicturePt(at)))
	}
	p.b.probe.touch()
}

// placeWords say which place is aimed at; beside another sheet's picture they say whose
// picture this is.
func (p *sheetPost) placeWords() string {
	if p.evidence.beside.mark.ID != "" {
		return "this sheet"
	}
	return fmt.Sprintf("col %.1f   row %.1f", p.at.X, p.at.Y)
}

// toReference goes from the aim to the reference.
func (p *sheetPost) toReference() { p.b.window.Canvas().Focus(p.ref) }

// typeReference lets the reference be typed straight after the click.
func (p *sheetPost) typeReference(r rune) {
	p.toReference()
	if p.chosen >= 0 { // another reference takes the old one's place
		p.ref.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
	p.ref.TypedRune(r)
}

// live checks the reference while it is typed.
func (p *sheetPost) live() {
	text := p.ref.Text
	if text == "" || !p.on {
		p.check.Set("", widgets.Note)
		p.check.Hide()
		return
	}
	p.check.Show()
	r, err := p.b.s.CheckReference(text)
	if err != nil {
		p.check.Set(foot.Sentence(err), widgets.Caution)
		return
	}
	p.evidence.typed(r.Read.Kind)
	text, tone := p.b.referenceWords(r)
	p.check.Set(text, tone)
}

// keepPoint keeps the place aimed at as a control point.
func (p *sheetPost) keepPoint() {
	if !p.on {
		p.b.say("Click an intersection of the grid first.")
		return
	}
	if p.chosen < 0 && p.knows.judge.naming() {
		p.nameIntersection()
		return
	}
	var err error
	if p.chosen >= 0 {
		_, err = p.b.s.SetControlReference(p.chosen, p.ref.Text)
	} else {
		_, err = p.b.s.AddControlPoint(sheetview.PicturePt(p.at), p.ref.Text)
	}
	if err != nil {
		p.complain(err)
		return
	}
	p.b.say("Control point kept.")
	p.forgetAndRefresh()
	p.b.focusSheet()
	if p.b.printed.found != nil {
		p.b.offerPrintedGrid()
	}
}

// forget lets go of the place aimed at.
func (p *sheetPost) forget() {
	p.on, p.chosen = false, -1
	p.ref.SetText("")
	p.evidence.forget()
	p.refresh()
}

func (p *sheetPost) forgetAndRefresh() {
	p.forget()
	p.b.refreshAll()
}
