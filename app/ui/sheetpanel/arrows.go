package sheetpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/calib"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
)

// Arrows says how much longer than life the arrows at the control points are drawn,
// and changes it.
type Arrows struct {
	n     *Needs
	row   *fyne.Container
	times *widgets.Quiet
	on    bool          // the panel is in front
	asked float64       // by how much they are lengthened; 0 is automatic
	scene overlay.Scene // as it was drawn last
}

func newArrows(n *Needs) *Arrows {
	a := &Arrows{n: n, times: widgets.NewQuiet("")}
	longer := n.iconTool(look.IconAdd, "Longer arrows  (Ctrl+Shift+Up)", func() { a.Step(1) })
	shorter := n.iconTool(look.IconRemove, "Shorter arrows  (Ctrl+Shift+Down)", func() { a.Step(-1) })
	a.row = container.NewBorder(nil, nil, a.times, container.NewHBox(shorter, longer))
	return a
}

func (a *Arrows) show(c *calib.Calibration) { show(a.row, c != nil && c.DOF() > 0) }

func (a *Arrows) addTo(s *overlay.Scene) {
	s.ResidualTimes = a.asked
	a.scene = *s
	a.showTimes()
}

// showTimes says how long the arrows are. It follows the view.
func (a *Arrows) showTimes() {
	if !a.on {
		return
	}
	text := "No arrows: residuals too small"
	if n := a.magnified(); n > 0 {
		text = "Arrows: residuals " + overlay.TimesWords(n)
	}
	if a.times.Text != text {
		a.times.SetText(text)
	}
}

// magnified is how many times longer than life the arrows are drawn, 0 where there are
// none.
func (a *Arrows) magnified() float64 {
	if a.n.Map.Area().View().IsZero() {
		return 0
	}
	s := a.scene
	s.ResidualTimes = a.asked // it may not be drawn yet
	return s.Magnified(a.n.Map.Area().View(), float64(a.n.Canvas.Scale()))
}

// The most and least by which a person may lengthen the arrows.
const (
	mostArrow  = 100_000
	leastArrow = 1
)

// Step makes the arrows longer by a round figure, or shorter with −1.
func (a *Arrows) Step(way int) {
	now := a.magnified()
	switch {
	case !a.on:
		a.n.Foot.Say("The arrows of the residuals show in the Sheet panel only.")
		return
	case now == 0:
		a.n.Foot.Say("No arrows are shown: there are no residuals, or they are too small.")
		return
	}
	next := overlay.RoundFigure(2.2 * now)
	if way < 0 {
		next = overlay.RoundFigure(now / 2.2)
	}
	a.set(min(max(next, leastArrow), mostArrow))
}

// Automatic makes the arrows as long as suits the view.
func (a *Arrows) Automatic() { a.set(0) }

// set lengthens the arrows so many times, 0 for as suits the view.
func (a *Arrows) set(times float64) {
	a.asked = times
	a.n.Map.Redraw()
	if times == 0 {
		a.n.Foot.Say("The arrow length is automatic.")
		return
	}
	a.n.Foot.Say("The arrows show the residuals " + overlay.TimesWords(times) + ".")
}
