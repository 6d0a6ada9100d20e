package ui

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/look"
	"legwright/app/ui/part"
)

// refresh shows the state of the sheet: what to do next, the points, the fit,
// the warnings and the evidence.
func (p *sheetPost) refresh() {
	sheet, has := p.b.s.Sheet()
	c, err := p.b.s.Calibration()
	p.hint.Set(p.next(sheet, has, c, err), part.Note)
	if p.on && p.b.picture.pyramid != nil {
		p.aim.Look(p.b.picture.pyramid, p.at)
		p.place.SetText(aimWords(p.at))
	} else {
		p.aim.Clear()
		p.place.SetText("")
	}
	p.showControls(c != nil && err == nil)
	p.knows.refresh(sheet, fitted(c, err), p.on)
	p.showGrid(sheet)
	p.showPoints(sheet, c, err)
	p.showFlags(c, err)
	p.evidence.show(sheet, c, err)
	p.live()
	p.b.probe.touch()
}

// next says in one sentence what to do next.
func (p *sheetPost) next(sheet plan.Sheet, has bool, c *calib.Calibration, err error) string {
	n := len(sheet.Points)
	switch {
	case p.b.glimpsed():
		return glimpseHint
	case !has || p.b.picture.pyramid == nil:
		return "Open the picture of a map: drop it on the window, or press Ctrl+O."
	case p.on && !p.b.picture.pyramid.Ready(0):
		return "The picture is still being read. Its enlargement, to set the point by, comes in a moment."
	case p.on && p.chosen >= 0:
		return p.chosenHint(p.chosen)
	case p.on && p.ref.Text == "":
		return "Bring the hairlines onto the crossing with the arrow keys, then type its reference."
	case p.on:
		return "Press Return to keep the point."
	case p.b.printed.words(p.b) != "":
		return p.b.printed.words(p.b)
	case n == 0 && c == nil:
		return "Click a crossing of two grid lines whose reference you can read in the margin, or let the printed grid be found  (Ctrl+R)."
	case n == 1:
		return "Click a second crossing, as far from the first as the sheet allows."
	case err != nil:
		return sentence(err)
	case doubtful(c) && maybePhoto(c):
		return "The control points do not fit each other. Is the picture a photograph of the map? Then choose Photograph under Picture. Else read the warning below: change the point that is wrong or leave it out."
	case doubtful(c):
		return "Something is wrong with the control points: read the warning below, and change the point or leave it out before you go on."
	case reachHint(c) != "":
		return reachHint(c)
	case c.DOF() == 0 && !c.Given():
		return "Look at the thin lines: do they lie on the printed grid? Click a third crossing, so that a slip would show."
	case caution.Stops(p.b.s.Verdict().Cautions, caution.All):
		return "Do not use this sheet yet: " + caution.OfGrade(p.b.s.Verdict().Cautions, caution.Stop)[0].Text()
	case !p.b.s.Verdict().Checked && byMatrix(sheet) && len(sheet.Evidence) == 0:
		return "Now check the sheet: compare it with the printed grid  (Ctrl+R), name three of its intersections, and check a corner by the latitude and longitude that the margin prints."
	case !p.b.s.Verdict().Checked:
		return p.b.checkHint()
	}
	return "The sheet is calibrated and checked. Go to Route to drag bearings."
}

// chosenHint says what can be done with a control point.
func (p *sheetPost) chosenHint(i int) string {
	if !p.b.s.Verdict().Checked {
		return fmt.Sprintf("Control point %d: arrow keys move it. Type another reference, or the latitude and longitude printed here, as check.", i+1)
	}
	return fmt.Sprintf("Control point %d: move it with the arrow keys, or type another reference.", i+1)
}

// fitted is the calibration where there is one.
func fitted(c *calib.Calibration, err error) *calib.Calibration {
	if err != nil {
		return nil
	}
	return c
}

// doubtful reports whether a calibration has warnings beyond those that every
// sheet has at first, that no point is to spare, and
// those of points that are sound but do not carry the whole picture.
func doubtful(c *calib.Calibration) bool {
	for _, w := range c.Warnings() {
		if w.Code != calib.CodeNoRedundancy && !ofReach(w.Code) {
			return true
		}
	}
	return false
}

// maybePhoto reports whether a perspective might explain points that fit no
// linear map, and no one of them is named as wrong.
func maybePhoto(c *calib.Calibration) bool {
	poor := false
	for _, w := range c.Warnings() {
		if w.Points != [2]int{} || w.Code == calib.CodeMirrored || w.Code == calib.CodeSwappedAll {
			return false
		}
		poor = poor || w.Code == calib.CodePoorFit
	}
	return poor && c.Medium() != calib.Photograph && len(c.Points()) >= 4
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
func (p *sheetPost) showControls(calibrated bool) {
	visible(p.aim, p.on)
	visible(p.place, p.on)
	visible(p.ref, p.on)
	visible(p.keep, p.on)
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
	visible(p.media, !sheet.ByMatrix())
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
		p.points.Add(part.NewSentence(words, part.Note))
	}
	for _, i := range shown {
		note := ""
		if i < len(left) && c.DOF() > 0 {
			note = missWords(math.Hypot(left[i].EastM, left[i].NorthM), left[i].Px)
		}
		p.points.Add(p.pointRow(i, sheet.Points[i].Text, note))
	}
	switch {
	case err == nil && c != nil && c.DOF() > 0:
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
		return fmt.Sprintf("The %d that fit worst, of %d. Click a crossing to see another.", shown, all)
	}
	return fmt.Sprintf("The first %d of %d. Click a crossing to see another.", shown, all)
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
	name := part.NewEntry("", "", "Change this control point: "+text, func() { p.choose(i) })
	name.SetOn(i == p.chosen)
	remove := part.NewTool(look.IconDelete, "Remove this control point", func() {
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
func (b *Bench) referenceWords(r session.Reference) (string, part.Tone) {
	text := fmt.Sprintf("E %.0f, N %.0f", r.Grid.E, r.Grid.N)
	if sys, err := b.s.Reader().SystemOf(r.Code); err == nil && sys.Unit().Name != "metre" {
		if ref, err := sys.FormatRef(r.Grid, 10); err == nil {
			text = ref
		}
	}
	if r.Read.SquareM > 0 {
		text += fmt.Sprintf(": the south-west corner of its square of %s", lengthLabel(r.Read.SquareM))
	}
	if sys, err := b.s.Reader().SystemOf(r.Code); err == nil && r.GridGuessed {
		text += ". Grid taken to be " + sys.Name()
	}
	if r.LettersLent {
		words, tone := b.lentWords(r)
		return text + ". " + words, tone
	}
	return text + ".", part.Note
}
