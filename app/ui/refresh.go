package ui

import (
	"fmt"
	"path/filepath"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetpanel"
	"legwright/app/units"
	"legwright/canvas/overlay"
)

// changed shows what a change of the session touched.
func (b *Bench) changed(c session.Change) {
	b.probe.note(c.Step)
	b.set.setLast(b.s.Path())
	if c.What.Has(session.PlanReplaced) {
		b.pictures.looked = nil
		b.endImport() // it was worked out for the plan before
	}
	b.refreshAll()
	if c.What.Has(session.SelectionChanged) && !c.What.Has(session.AnySheet) {
		b.tellHome()
	}
	b.releaseKeys()
}

// refreshAll shows the whole plan again.
func (b *Bench) refreshAll() {
	if b.panel == nil {
		return // while the bench is being built
	}
	b.view.Redraw()
	b.routeP.refresh()
	b.showQuality()
	b.showTitle()
	b.start.refresh()
	b.refreshMenus()
	b.probe.touch()
}

// showQuality shows the calibration's quality and check in the foot line.
func (b *Bench) showQuality() {
	sheet, ok := b.s.Sheet()
	if !ok {
		b.foot.SetQuality(foot.Quality{})
		return
	}
	q := foot.Quality{Text: "not calibrated"}
	if c, err := b.s.Calibration(); err == nil {
		v := b.s.Verdict()
		q = foot.Quality{Text: qualityWords(sheet, c), Check: v.Short(c), Unchecked: !v.Checked, Stopped: v.StopShort(c) != ""}
		if q.Check == "unchecked" {
			q.Check = "sheet unchecked"
		}
	}
	if p := b.s.Plan(); len(p.Sheets) > 1 {
		q.Text = sheetpanel.CutMiddle(p.SheetName(sheet.ID), mostSheetName) + ": " + q.Text
	}
	switch {
	case b.pictures.shown.Copy:
		q.Text = "picture's file not there, " + q.Text
	case b.desk.Pyramid() == nil && !b.openingPicture():
		q.Text = "picture not shown, " + q.Text
	}
	b.foot.SetQuality(q)
}

// mostSheetName is how many letters of a sheet's name the foot line has room for beside
// the fit.
const mostSheetName = 24

// tellingPoints is how many control points leave residuals that say how good a fit
// is: fewer are met nearly exactly, whatever they are, because paper may stretch.
const tellingPoints = 4

// qualityWords says in a few words how good a calibration is. What the points
// that a file gave leave over says nothing of how well the file is placed.
func qualityWords(sheet plan.Sheet, c *calib.Calibration) string {
	switch {
	case sheet.PlacedByFile():
		return "placed by a file, ± " + units.ErrorM(overlay.WorstCornerM(c, sheet.Width, sheet.Height))
	case c.DOF() == 0:
		return fmt.Sprintf("%d points, none to spare", len(c.Points()))
	case len(c.Points()) < tellingPoints:
		return fmt.Sprintf("%d points", len(c.Points()))
	}
	return fmt.Sprintf("%d points, RMS %.1f m (%.1f px)", len(c.Points()), c.RMSM(), c.RMSPx())
}

// showTitle names the plan in the window's title, with a dot while there is
// something to save.
func (b *Bench) showTitle() {
	name := b.s.Plan().Title
	if p := b.s.Path(); p != "" {
		name = filepath.Base(p)
	}
	if name == "" {
		name = "new plan"
	}
	if b.s.Dirty() {
		name = "• " + name
	}
	b.window.SetTitle(name + " – Legwright")
}

// selectedID returns the selected thing's ID, or "".
func (b *Bench) selectedID() plan.ID { return b.s.Selection().ID }
