package sheetpanel

import (
	"cmp"
	"fmt"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/ui/sheetview"
)

// next says in a sentence or two what to do next.
func (a *Calibrator) next(sheet plan.Sheet, has bool, c *calib.Calibration, err error) string {
	n := len(sheet.Points)
	switch {
	case a.n.Pictures.Preview():
		return sheetview.PreviewHint
	case !has || a.n.Pictures.Pyramid() == nil:
		return cmp.Or(a.n.Map.Wanted(), sheetview.OpenHint)
	case a.form.on:
		return a.nextAiming(c)
	case a.grid.words(sheet) != "":
		return a.grid.words(sheet)
	case n == 0 && c == nil:
		return "Click an intersection of two grid lines whose reference you can read in the margin, or let the program find the printed grid  (Ctrl+R)."
	case n == 1:
		return "Click a second grid intersection, as far from the first as the sheet allows."
	case err != nil:
		return sentence(err)
	}
	return a.nextOf(sheet, c)
}

// nextAiming is next while a position is aimed at.
func (a *Calibrator) nextAiming(c *calib.Calibration) string {
	f := a.form
	switch {
	case !a.n.Pictures.Pyramid().Ready(0):
		return "The picture is still being read. In a moment you can set the point in the enlargement."
	case a.evidence.source() == calib.FromSheet:
		return a.evidence.hint()
	case f.refused(a.meant()):
		return "This entry cannot be used yet. Go on typing, or correct it as the line below the field says."
	case a.evidence.source() == calib.FromTerrain && f.ref.Text == "":
		return "Bring the hairlines onto a printed contour, then type its height in metres."
	case a.evidence.source() != "" && f.ref.Text == "":
		return "Bring the hairlines onto the feature, then type its reference."
	case a.evidence.source() != "":
		return "Press Return to check the sheet against this feature."
	case f.chosen >= 0:
		return a.chosenHint(f.chosen)
	case f.ref.Text == "" && c != nil:
		return "Bring the hairlines onto the feature, then type its reference. A grid intersection becomes a control point; any other feature checks the sheet."
	case f.ref.Text == "":
		return "Bring the hairlines onto the grid intersection, then type its reference."
	case c != nil:
		return "Press Return to keep the point. To check the sheet instead, say where the reference comes from."
	}
	return "Press Return to keep the point."
}

// nextOf is next for a calibrated sheet.
func (a *Calibrator) nextOf(sheet plan.Sheet, c *calib.Calibration) string {
	v := a.n.Session.Verdict()
	switch {
	case v.Waits:
		return "The control points have just moved. Wait a moment while the program judges the sheet again."
	case disagreeHint(c) != "" && len(v.Named) == 0:
		return disagreeHint(c)
	case photoHint(c, v) != "":
		return photoHint(c, v)
	case v.StopShort(c) != "":
		return "Don't navigate by this sheet yet: something is wrong with it. Correct it as described below."
	case reachHint(c) != "":
		return reachHint(c)
	case c.DOF() == 0 && !c.Given():
		return "Do the thin lines lie on the printed grid? Click a third grid intersection: two points fit even if one of them is wrong."
	case v.Checked:
		return "The sheet is calibrated and checked. Go to the Route panel to read bearings."
	case caution.Has(v.Cautions, caution.OpenSlip) && !sheet.SlipChosen:
		return "Add the control point named below, or check the sheet now against a feature whose position you know from elsewhere."
	}
	return a.checkHint(sheet)
}

// checkHint says how to check a calibrated sheet. Not every map prints a grid, or
// latitude and longitude.
func (a *Calibrator) checkHint(sheet plan.Sheet) string {
	const elsewhere = "click a feature whose reference comes from a published list or a GPS receiver"
	switch {
	case sheet.ByMatrix() && len(sheet.Evidence) == 0 && a.georef.why == "":
		return "Now check the sheet. Find the printed grid  (Ctrl+R) and name three of its intersections. If the picture shows no grid, " + elsewhere + "."
	case sheet.ByMatrix() && len(sheet.Evidence) == 0, a.evidence.byLatLon(sheet):
		return "Now check the sheet: " + elsewhere + ", type the reference, say where it comes from and choose Use as check."
	}
	return "Now check the sheet. Click a corner whose latitude and longitude are printed and type them, such as 56°10'N 6°20'W. If the map prints none, " + elsewhere + ". Then choose Use as check."
}

// chosenHint says what can be done with a control point.
func (a *Calibrator) chosenHint(i int) string {
	text := fmt.Sprintf("Control point %d: move it with the arrow keys, or type another reference.", i+1)
	if _, err := a.n.Session.Calibration(); err == nil && !a.n.Session.Verdict().Checked {
		text += " If latitude and longitude are printed here, you can check the sheet with them: type them, then choose Use as check."
	}
	return text
}

// disagreeHint says what might explain control points that do not agree, besides a wrong
// point: a perspective, or a photograph that is no whole one any more. "" for nothing.
func disagreeHint(c *calib.Calibration) string {
	const otherwise = "; otherwise correct or delete the wrong point (see below)."
	poor := caution.Has(c.Cautions(), caution.PoorFit)
	switch photo := c.Medium() == calib.Photograph; {
	case len(c.Points()) < 4:
	case photo && (poor || caution.Has(c.Cautions(), caution.Stretched)):
		return "The control points don't agree. If the photo was cropped or straightened, open it as the camera took it" + otherwise
	case !photo && poor:
		return "The control points don't agree. If this is a photo of a map, choose Photograph" + otherwise
	}
	return ""
}

// photoHint says where the next control point of a photograph belongs, "" where it has
// enough or something worse speaks against the sheet.
func photoHint(c *calib.Calibration, v check.Verdict) string {
	stops := caution.OfGrade(v.CautionsWith(c), caution.Stop)
	switch {
	case len(stops) != 1 || stops[0].Code != caution.PhotoNeedsFive:
		return ""
	case len(c.Points()) < 4:
		return "A photograph needs five control points: click a grid intersection near each corner, then one near the middle."
	}
	return "Four points on a photograph cannot reveal a mistake. Click a fifth grid intersection, near the middle, before you read any bearing."
}

// reachHint says what to do about control points that are sound but do not cover the
// whole picture, "" where they do.
func reachHint(c *calib.Calibration) string {
	if c.Trust().Code == caution.ShortReach {
		return "The control points are all in one part of the picture. Click a grid intersection far from them, or use the sheet only near them."
	}
	return ""
}
