package sheetview

import (
	"fmt"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
	"legwright/app/units"
	"legwright/canvas/overlay"
)

// quality writes into the foot line how well the sheet is calibrated and whether it
// is checked.
type quality struct {
	*sheet
	note string // of its picture; "" for none
}

// mostSheetName is how many letters of a sheet's name the foot line has room for beside
// the fit.
const mostSheetName = 24

// show writes it.
func (q *quality) show() {
	sheet, ok := q.s.Sheet()
	if !ok {
		q.line.SetQuality(foot.Quality{})
		return
	}
	out := foot.Quality{Text: "not calibrated"}
	if c, err := q.s.Calibration(); err == nil {
		v := q.s.Verdict()
		out = foot.Quality{Text: fitWords(sheet, c), Check: v.Short(c), Unchecked: !v.Checked, Stopped: v.StopShort(c) != ""}
		if out.Check == "unchecked" {
			out.Check = "sheet unchecked"
		}
	}
	if p := q.s.Plan(); len(p.Sheets) > 1 {
		out.Text = widgets.CutMiddle(p.SheetName(sheet.ID), mostSheetName) + ": " + out.Text
	}
	if q.note != "" {
		out.Text = q.note + ", " + out.Text
	}
	q.line.SetQuality(out)
}

// tellingPoints is how many control points leave residuals that say how good a fit
// is: fewer are met nearly exactly, whatever they are, because paper may stretch.
const tellingPoints = 4

// fitWords says in a few words how good a calibration is. Residuals at points that a
// file gave say nothing of how well that file places the picture.
func fitWords(sheet plan.Sheet, c *calib.Calibration) string {
	switch {
	case sheet.PlacedByFile():
		return "positioned by its file, ± " + units.ErrorM(overlay.WorstCornerM(c, sheet.Width, sheet.Height))
	case c.DOF() == 0:
		return fmt.Sprintf("%d points, too few to reveal a mistake", len(c.Points()))
	case len(c.Points()) < tellingPoints:
		return fmt.Sprintf("%d points", len(c.Points()))
	}
	return fmt.Sprintf("%d points, typical residual %.1f m (%.1f px)", len(c.Points()), c.RMSM(), c.RMSPx())
}
