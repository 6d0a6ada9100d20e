package ui

import (
	"errors"
	"fmt"

	"fyne.io/fyne/v2/container"

	"legwright/app/calib"
	"legwright/app/ui/part"
)

// showFlags shows what the calibration's own checks found, and below each that
// names a control point the offer to leave that one out: until then the fit
// goes by it, and every reading is marked.
func (p *sheetPost) showFlags(c *calib.Calibration, err error) {
	p.flags.RemoveAll()
	var unfit *calib.Unfit
	if errors.As(err, &unfit) { // the sentence says it already
		for _, w := range unfit.Slips {
			p.offerLeavingOut(w)
		}
	}
	if err == nil && c != nil {
		for _, w := range c.Warnings() {
			p.flags.Add(part.NewSentence(sentenceText(w.Text), part.Caution))
			p.offerLeavingOut(w)
		}
	}
	p.flags.Refresh()
}

// offerLeavingOut adds the answers to a warning that names control points.
func (p *sheetPost) offerLeavingOut(w calib.Warning) {
	row := container.NewHBox()
	for _, n := range w.Points {
		if n == 0 {
			continue
		}
		look := part.NewTextTool("", fmt.Sprintf("Look at point %d", n), "Take the control point up, to move it or to type its reference again", func() { p.choose(n - 1) })
		out := part.NewTextTool("", "Leave it out", fmt.Sprintf("Calibrate without control point %d. Undo brings it back.", n), func() { p.leaveOut(n - 1) })
		look.OnHint, out.OnHint = p.b.hintTo, p.b.hintTo
		row.Add(look)
		row.Add(out)
	}
	if len(row.Objects) > 2 { // a second point has its own row: the panel is narrow
		p.flags.Add(container.NewHBox(row.Objects[:2]...))
		row = container.NewHBox(row.Objects[2:]...)
	}
	if len(row.Objects) > 0 {
		p.flags.Add(row)
	}
}

// leaveOut takes a control point away that the others disown.
func (p *sheetPost) leaveOut(i int) {
	p.b.try(p.b.s.RemoveControlPoint(i), fmt.Sprintf("Control point %d is left out. Undo brings it back.", i+1))
	p.forgetAndRefresh()
}
