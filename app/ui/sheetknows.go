package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
)

// sheetKnows is what the Sheet post tells of the calibration while no place is
// aimed at, in the room of the fine aim: the answers to a grid that was found and
// the map of errors. The row that changes how long the arrows are
// stands with the points.
type sheetKnows struct {
	b    *Bench
	body *fyne.Container

	finds      *fyne.Container // answers to a grid that was found
	take, drop *widgets.Tool

	error *errorMap
	judge *fileJudge

	arrows *fyne.Container
	times  *widget.Label
	asked  float64 // by how much arrows are lengthened; 0 as suits the view
	scene  overlay.Scene
}

func newSheetKnows(b *Bench) *sheetKnows {
	k := &sheetKnows{b: b, times: widgets.NewQuiet("")}
	k.take = widgets.NewTextTool(look.IconConfirm, "Use the intersections", "Make the intersections of the printed grid the control points", b.takeFound)
	k.drop = widgets.NewTextTool("", "Discard", "Discard the grid found  (Esc)", func() { b.letGridGo() })
	k.finds = container.NewHBox(k.take, k.drop)
	longer := widgets.NewTool(look.IconAdd, "Longer arrows  (Ctrl+Shift+Up)", func() { b.stepArrows(1) })
	shorter := widgets.NewTool(look.IconRemove, "Shorter arrows  (Ctrl+Shift+Down)", func() { b.stepArrows(-1) })
	k.arrows = container.NewBorder(nil, nil, k.times, container.NewHBox(shorter, longer))
	k.error = newErrorMap(b)
	k.judge = newFileJudge(b)
	k.body = container.NewVBox(k.finds, k.judge.body, k.error.body)
	for _, t := range []*widgets.Tool{k.take, k.drop, longer, shorter} {
		t.OnHint = b.hintTo
	}
	return k
}

// refresh shows what is known. aiming hides it in favour of the fine aim.
func (k *sheetKnows) refresh(sheet plan.Sheet, c *calib.Calibration, aiming bool) {
	g := &k.b.printed
	visible(k.finds, g.cancel != nil || g.found != nil)
	k.judge.follow(sheet, c)
	visible(k.take, g.found != nil && !k.judge.placed(sheet) && len(k.b.crossingNames()) > 0)
	k.drop.SetText("Discard")
	if g.cancel != nil {
		k.drop.SetText("Cancel")
	}
	k.error.follow(sheet, c)
	visible(k.arrows, c != nil && c.DOF() > 0)
	visible(k.body, !aiming)
}

// addTo puts what the post knows into the scene.
func (k *sheetKnows) addTo(s *overlay.Scene) {
	s.ResidualTimes = k.asked
	if f := k.b.printed.drawn; len(f.Lines) > 0 {
		s.Found, s.Grid = f, nil // two grids would hide the printed one
	}
	s.Local = k.error.shown()
	k.judge.addTo(s)
	k.scene = *s
	k.showTimes()
}

// showTimes says beside the points how long the arrows are. It follows the view.
func (k *sheetKnows) showTimes() {
	if k.b.post != postSheet {
		return
	}
	text := "No arrows: the points fit"
	if n := k.magnified(); n > 0 {
		text = "Arrows: residuals " + overlay.TimesWords(n)
	}
	if k.times.Text != text {
		k.times.SetText(text)
	}
}

// magnified is by how much the arrows on the sheet are lengthened.
func (k *sheetKnows) magnified() float64 {
	if k.b.sheet == nil || k.b.sheet.View().IsZero() {
		return 0
	}
	return k.scene.Magnified(k.b.sheet.View(), float64(k.b.window.Canvas().Scale()))
}

// most and least by which a person may lengthen the arrows.
const (
	mostArrow  = 100_000
	leastArrow = 1
)

// stepArrows makes the arrows longer or shorter by a round figure.
func (b *Bench) stepArrows(way int) {
	k := b.sheetP.knows
	now := k.magnified()
	if b.post != postSheet || now == 0 {
		b.say("No arrows to show: they mark the residual at each control point, in the Sheet panel.")
		return
	}
	next := overlay.RoundFigure(2.2 * now)
	if way < 0 {
		next = overlay.RoundFigure(now / 2.2)
	}
	b.setArrows(min(max(next, leastArrow), mostArrow))
}

// setArrows lengthens the arrows so many times, 0 for as suits the view.
func (b *Bench) setArrows(times float64) {
	b.sheetP.knows.asked = times
	b.refreshAll()
	if times == 0 {
		b.say("The arrows are as long as suits the view.")
		return
	}
	b.say("The arrows are " + overlay.TimesWords(times) + " the residuals.")
}
