package ui

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"legwright/app/ui/sheetview"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/foot"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// refresh shows the state of the sheet: what to do next, the points, the fit,
// the cautions and the evidence.
func (p *sheetPost) refresh() {
	sheet, has := p.b.s.Sheet()
	c, err := p.b.s.Calibration()
	p.evidence.show(fitted(c, err) != nil)
	p.hint.Set(p.next(sheet, has, c, err), widgets.Note)
	if p.on && p.b.picture.pyramid != nil {
		p.aim.Look(p.b.picture.pyramid, p.at)
		p.place.SetText(p.placeWords())
	} else {
		p.aim.Clear()
		p.place.SetText("")
	}
	p.showControls()
	p.checks.show(sheet, c, err, !p.on)
	p.knows.refresh(sheet, fitted(c, err), p.on)
	p.showGrid(sheet)
	p.showPoints(sheet, c, err)
	p.live()
	p.top.Refresh() // lays out anew where lines come and go but the sum stays
	p.b.probe.touch()
}

// next says in one sentence what to do next.
func (p *sheetPost) next(sheet plan.Sheet, has bool, c *calib.Calibration, err error) string {
	n := len(sheet.Points)
	switch {
	case p.b.glimpsed():
		return sheetview.PreviewHint
	case !has || p.b.picture.pyramid == nil:
		return "Open the picture of a map: drop it on the window, or press Ctrl+O."
	case p.on:
		return p.nextAiming(c)
	case p.b.printed.words(p.b) != "":
		return p.b.printed.words(p.b)
	case n == 0 && c == nil:
		return "Click an intersection of two grid lines whose reference you can read in the margin, or let the printed grid be found  (Ctrl+R)."
	case n == 1:
		return "Click a second grid intersection, as far from the first as the sheet allows."
	case err != nil:
		return foot.Sentence(err)
	}
	return p.nextOf(sheet, c)
}

// nextAiming is next while a place is aimed at.
func (p *sheetPost) nextAiming(c *calib.Calibration) string {
	switch {
	case !p.b.picture.pyramid.Ready(0):
		return "The picture is still being read. Its enlargement, to set the point by, comes in a moment."
	case p.evidence.source() == calib.FromSheet:
		return p.evidence.besideHint()
	case p.chosen >= 0:
		return p.chosenHint(p.chosen)
	case p.ref.Text == "" && c != nil:
		return "Bring the hairlines onto the feature with the arrow keys. Type the reference of a grid intersection to keep it as control point, or of a feature to check the sheet by."
	case p.ref.Text == "":
		return "Bring the hairlines onto the grid intersection with the arrow keys, then type its reference."
	case c != nil:
		return "Press Return to keep the point. To check the sheet by it, say where the reference comes from and choose Use as check."
	}
	return "Press Return to keep the point."
}

// nextOf is next for a calibrated sheet.
func (p *sheetPost) nextOf(sheet plan.Sheet, c *calib.Calibration) string {
	switch {
	case maybePhoto(c) && len(p.b.s.Verdict().Named) == 0:
		return "The control points do not agree. Is the picture a photograph of the map? Then choose Photograph below; otherwise correct what is named below."
	case p.b.s.Verdict().StopShort(c) != "":
		return "Do not use this sheet yet. Read below what is wrong, and correct it."
	case reachHint(c) != "":
		return reachHint(c)
	case c.DOF() == 0 && !c.Given():
		return "Look at the thin lines: do they lie on the printed grid? Click a third grid intersection, so that a slip would show."
	case p.b.s.Verdict().Checked:
		return "The sheet is calibrated and checked. Go to Route to drag bearings."
	case caution.Has(p.b.s.Verdict().Cautions, caution.OpenSlip) && !sheet.SlipChosen:
		return "Add the control point that is named below, or check the sheet now by a feature that you know from elsewhere."
	case byMatrix(sheet) && len(sheet.Evidence) == 0:
		return "Now check the sheet. Find the printed grid  (Ctrl+R) and name three of its intersections, then click a corner and type its latitude and longitude."
	}
	return "Now check the sheet. Click a corner whose latitude and longitude the margin prints, type them (56°10'N 6°20'W) and choose Use as check."
}

// chosenHint says what can be done with a control point.
func (p *sheetPost) chosenHint(i int) string {
	text := fmt.Sprintf("Control point %d: move it with the arrow keys, or type another reference.", i+1)
	if _, err := p.b.s.Calibration(); err == nil && !p.b.s.Verdict().Checked {
		text += " The latitude and longitude printed here can check the sheet."
	}
	return text
}

// fitted is the calibration where there is one.
func fitted(c *calib.Calibration, err error) *calib.Calibration {
	if err != nil {
		return nil
	}
	return c
}

// maybePhoto reports whether a perspective might explain points that fit no
// linear map.
func maybePhoto(c *calib.Calibration) bool {
	return caution.Has(c.Cautions(), caution.PoorFit) && c.Medium() != calib.Photograph && len(c.Points()) >= 4
}

// missWords writes what the fit leaves over at a point, in few letters however
// large it is.
func missWords(m, px float64) string {
	text := fmt.Sprintf("%.1f m", m)
	switch {
	case m >= 10_000:
		text = fmt.Sprintf("%.0f km", m/1000)
	case m >= 100:
		text = fmt.Sprintf("%.0f m", m)
	}
	if px >= 100 {
		return text + fmt.Sprintf("  %.0f px", px)
	}
	return text + fmt.Sprintf("  %.1f px", px)
}

// showControls makes the buttons fit what can be done now.
func (p *sheetPost) showControls() {
	visible(p.aim, p.on)
	visible(p.place, p.on)
	other := p.evidence.source() == calib.FromSheet // no reference is typed then
	visible(p.ref, p.on && !other)
	visible(p.keep, p.on && !other)
	visible(p.drop, p.on)
	text := "Keep point"
	switch {
	case p.chosen >= 0:
		text = "Change point"
	case p.knows.judge.naming():
		text = "Name intersection"
	}
	p.keep.SetText(text)
}

// mediumWords say in a line what a medium means for the sheet.
func mediumWords(m calib.Medium) string {
	switch m {
	case calib.Photograph:
		return "A photograph needs four control points, near the map's corners."
	case calib.Drawn:
		return "A page or picture that a program drew has not stretched."
	}
	return "Scanned paper has stretched and bent a little: the ± allows for it."
}

func (p *sheetPost) showGrid(sheet plan.Sheet) {
	text := "guessed from the first reference"
	if sheet.Code != "" {
		text = string(sheet.Code)
		if sys, err := p.b.s.Reader().SystemOf(sheet.Code); err == nil {
			text = sys.Name()
		}
	}
	p.grid.SetText(text)
	p.medium.SetChosen(slices.Index(media(), sheet.Medium))
	p.mediumIs.Set(mediumWords(sheet.Medium), widgets.Note)
	visible(p.medium, !sheet.ByMatrix())
	visible(p.mediumIs, !sheet.ByMatrix())
}

// showPoints lists the control points by their reference, with what the fit
// leaves over at each.
func (p *sheetPost) showPoints(sheet plan.Sheet, c *calib.Calibration, err error) {
	p.points.RemoveAll()
	var left []calib.Residual
	if err == nil && c != nil && !c.Given() {
		left = c.Residuals()
	}
	shown := shownPoints(sheet.Points, left, p.chosen)
	if words := shownWords(len(shown), len(sheet.Points), len(left) == len(sheet.Points)); words != "" {
		p.points.Add(widgets.NewSentence(words, widgets.Note))
	}
	for _, i := range shown {
		note := ""
		if i < len(left) && c.DOF() > 0 {
			note = missWords(math.Hypot(left[i].EastM, left[i].NorthM), left[i].Px)
		}
		p.points.Add(p.pointRow(i, sheet.Points[i].Text, note))
	}
	switch {
	case err == nil && c != nil && len(sheet.Points) >= tellingPoints && c.DOF() > 0:
		p.state.SetNote(fmt.Sprintf("RMS %s", missWords(c.RMSM(), c.RMSPx())))
	case len(sheet.Points) == 0:
		p.state.SetNote("none yet")
	default:
		p.state.SetNote("")
	}
	p.points.Refresh()
}

// shownWords says above the list that it does not hold all points, and which
// it holds.
func shownWords(shown, all int, fitted bool) string {
	switch {
	case shown == all:
		return ""
	case fitted:
		return fmt.Sprintf("The %d that fit worst, of %d. Click an intersection to see another.", shown, all)
	}
	return fmt.Sprintf("The first %d of %d. Click an intersection to see another.", shown, all)
}

// mostShown is how many control points are listed; a printed grid has hundreds.
const mostShown = 12

// shownPoints are the control points that are listed: all, or those that fit
// worst and the chosen one.
func shownPoints(points []calib.ControlPoint, left []calib.Residual, chosen int) []int {
	order := make([]int, len(points))
	for i := range order {
		order[i] = i
	}
	if len(points) <= mostShown || len(left) != len(points) {
		return order[:min(len(order), 4*mostShown)]
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case a == chosen:
			return -1
		case b == chosen:
			return 1
		}
		return cmp.Compare(left[b].Px, left[a].Px)
	})
	return order[:mostShown]
}

func (p *sheetPost) pointRow(i int, text, note string) fyne.CanvasObject {
	name := widgets.NewEntry("", "", "Change this control point: "+text, func() { p.choose(i) })
	name.SetOn(i == p.chosen)
	remove := widgets.NewTool(look.IconDelete, "Remove this control point", func() {
		p.b.try(p.b.s.RemoveControlPoint(i), "Control point removed. Undo brings it back.")
		p.forgetAndRefresh()
	})
	name.OnHint, remove.OnHint = p.b.hintTo, p.b.hintTo
	rest := widget.NewLabel(note)
	rest.Importance = widget.LowImportance
	beside := container.NewHBox(rest, remove)
	listReference(name, i, text, beside.MinSize().Width+theme.Padding())
	return container.NewBorder(nil, nil, nil, beside, name)
}

// referenceWords says how a reference was understood.
func (b *Bench) referenceWords(r session.Reference) (string, widgets.Tone) {
	text := fmt.Sprintf("E %.0f, N %.0f", r.Grid.E, r.Grid.N)
	if sys, err := b.s.Reader().SystemOf(r.Code); err == nil && sys.Unit().Name != "metre" {
		if ref, err := sys.FormatRef(r.Grid, 10); err == nil {
			text = ref
		}
	}
	if r.Read.SquareM > 0 {
		text += fmt.Sprintf(": the south-west corner of its square of %s", units.RoundLength(r.Read.SquareM))
	}
	if sys, err := b.s.Reader().SystemOf(r.Code); err == nil && r.GridGuessed {
		text += ". Grid taken to be " + sys.Name()
	}
	if r.LettersLent {
		words, tone := b.lentWords(r)
		return text + ". " + words, tone
	}
	return text + ".", widgets.Note
}
