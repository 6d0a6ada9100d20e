package sheetpanel

import (
	"fmt"
	"time"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/app/units"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
)

// Calibrator aims at positions of the picture and makes control points and checks of
// them.
type Calibrator struct {
	n        *Needs
	head     *widgets.Heading
	form     *form
	evidence *evidenceForm
	grid     *FoundGrid
	georef   *georefCheck
	refresh  func()       // shows the panel again
	say      func(string) // shows what to do next
	resting  *time.Timer
}

func newCalibrator(n *Needs, refresh func(), say func(string)) *Calibrator {
	c := &Calibrator{n: n, refresh: refresh, say: say, head: widgets.NewHeading("Calibrate"), georef: newGeorefCheck(n)}
	c.form = newForm(n, formActs{keep: c.KeepPoint, cancel: c.Cancel, first: c.submit, typed: c.typed, moved: c.moved})
	c.evidence = newEvidenceForm(n, c.form, evidenceActs{use: c.UseAsCheck, changed: refresh, first: c.submit, cancel: c.Cancel})
	c.grid = newFoundGrid(n, c.georef, gridActs{changed: c.redraw, taken: c.gridTaken})
	return c
}

// Aiming says whether a position is aimed at.
func (c *Calibrator) Aiming() bool { return c.form.on }

// Chosen is the number of the control point that is being changed, −1 for none.
func (c *Calibrator) Chosen() int { return c.form.chosen }

// redraw shows the panel and what it draws over the map again.
func (c *Calibrator) redraw() {
	c.refresh()
	c.n.Map.Redraw()
}

// calibration is that of the sheet in hand, nil without one.
func (c *Calibrator) calibration() *calib.Calibration {
	fit, err := c.n.Session.Calibration()
	if err != nil {
		return nil
	}
	return fit
}

// follow takes over the chosen control point as it is now: an undo or a drag may have
// moved it. Where points came or went its number may mean another one: then none is
// chosen.
func (c *Calibrator) follow() {
	points := sheetOf(c.n.Session).Points
	switch f := c.form; {
	case f.chosen < 0:
	case len(points) != f.of:
		c.forget()
	default:
		f.take(points[f.chosen])
	}
}

// addTo draws the position aimed at, the grid found, and the features that the sheet was
// checked by.
func (c *Calibrator) addTo(s *overlay.Scene) {
	if i := c.form.chosen; i >= 0 && i < len(s.Controls) {
		s.Controls[i].Selected = true
	} else if c.form.on {
		s.Spots = append(s.Spots, overlay.Spot{At: c.form.at, Kind: overlay.Aimed})
	}
	c.grid.addTo(s)
	results := c.n.Session.Verdict().Evidence
	for i, e := range sheetOf(c.n.Session).Evidence {
		if e.SquareM > 0 { // printed lines
			continue
		}
		kind := overlay.Unused
		switch {
		case i >= len(results) || !results[i].Counts:
		case results[i].Agrees():
			kind = overlay.Agrees
		default:
			kind = overlay.Disagrees
		}
		s.Spots = append(s.Spots, overlay.Spot{At: sheetview.ViewPt(e.At), Text: e.Text, Kind: kind})
	}
}

// Click takes a click on the map: it chooses a control point, and aims at any other
// position.
func (c *Calibrator) Click(at tool.Spot) {
	if c.n.Pictures.Pyramid() == nil {
		return
	}
	if at.Target.Part == tool.Control {
		c.Choose(at.Target.Index)
		return
	}
	if s := sheetOf(c.n.Session); at.At.X < 0 || at.At.Y < 0 || at.At.X > float64(s.Width) || at.At.Y > float64(s.Height) {
		c.n.Foot.Say("That is outside the picture. Click on the map itself.")
		return
	}
	c.form.aimAt(c.grid.pulled(at.At, c.n.Map.PickSigma()))
	c.aimed()
}

// Choose aims at a control point, to change it. A number without a point does nothing.
func (c *Calibrator) Choose(i int) {
	points := sheetOf(c.n.Session).Points
	if i < 0 || i >= len(points) {
		return
	}
	c.form.choose(i, points)
	c.aimed()
	if c.n.Pictures.Pyramid() != nil && !c.n.Map.InView(c.form.at) {
		c.n.Map.Area().CenterOn(c.form.at)
	}
}

// aimed shows the position aimed at, with the keys in the enlargement.
func (c *Calibrator) aimed() {
	c.form.read(c.meant())
	c.redraw()
	c.n.Reveal(c.form.acts)
	c.n.Reveal(c.form.check)
	c.n.Canvas.Focus(c.form.aim)
}

// moved takes a position to which the enlargement was moved.
func (c *Calibrator) moved() {
	if c.form.chosen >= 0 {
		c.n.Foot.Fail(c.n.Session.NudgeControlPoint(c.form.chosen, sheetview.PicturePt(c.form.at)))
		c.rest()
		return
	}
	c.n.Map.Redraw()
}

// nudgeRest is how long no key is pressed before a row of nudges has ended.
const nudgeRest = 200 * time.Millisecond

// rest ends a row of nudges once the keys rest: what they changed beside the dial and
// the map is shown then.
func (c *Calibrator) rest() {
	if c.resting == nil {
		c.resting = time.AfterFunc(nudgeRest, func() { c.n.Later(c.n.Session.EndNudge) })
		return
	}
	c.resting.Reset(nudgeRest)
}

// typed shows what the reference that is being typed means, and what to do with it.
func (c *Calibrator) typed() {
	if r, ok := c.form.read(c.meant()); ok {
		c.evidence.guess(r.Read.Kind == geodesy.RefLatLon, sheetOf(c.n.Session))
	}
	c.sayNext()
}

// meant is where the reference comes from for what Return does: an intersection that is
// being named is read off the map's own grid.
func (c *Calibrator) meant() calib.EvidenceSource {
	if from := c.evidence.source(); from != "" || c.form.chosen >= 0 || !c.naming() {
		return from
	}
	return calib.FromOwnGrid
}

// sayNext says what to do next with the position aimed at.
func (c *Calibrator) sayNext() {
	if c.form.on && c.n.Pictures.Pyramid() != nil {
		c.say(c.nextAiming(c.calibration()))
	}
}

// complain shows why what was asked for was not done, and what to do next.
func (c *Calibrator) complain(err error) {
	c.form.complain(err)
	c.sayNext()
	c.n.Reveal(c.form.check)
}

// submit does what Return means in the form: its first act.
func (c *Calibrator) submit() {
	if c.evidence.row.Visible() && c.evidence.source() != "" {
		c.UseAsCheck()
		return
	}
	c.KeepPoint()
}

// KeepPoint keeps the position aimed at as a control point. While intersections of a
// found grid are being named to check the sheet, it names the one aimed at.
func (c *Calibrator) KeepPoint() {
	f := c.form
	switch {
	case !f.on:
		c.n.Foot.Say("Click a grid intersection on the map first.")
		return
	case f.chosen < 0 && c.naming():
		c.nameIntersection()
		return
	}
	var err error
	if f.chosen >= 0 {
		_, err = c.n.Session.SetControlReference(f.chosen, f.ref.Text)
	} else {
		_, err = c.n.Session.AddControlPoint(sheetview.PicturePt(f.at), f.ref.Text)
	}
	if err != nil {
		c.complain(err)
		return
	}
	c.done("Control point kept.")
	if c.grid.found != nil {
		c.grid.offerTake()
	}
}

// naming says whether naming an intersection of the grid found checks the sheet.
func (c *Calibrator) naming() bool { return c.georef.naming(c.grid.found != nil) }

// nameIntersection takes the reference typed as what the map says of the grid
// intersection aimed at.
func (c *Calibrator) nameIntersection() {
	at := sheetview.PicturePt(c.form.at)
	if x, ok := c.grid.found.Nearest(at); ok {
		at = calib.PicturePt{Col: x.Col, Row: x.Row}
	}
	v, err := c.n.Session.AddEvidence(calib.FromOwnGrid, at, c.form.ref.Text, calib.DefaultSigmaPx)
	if err != nil {
		c.complain(err)
		return
	}
	if v.Checked {
		c.grid.forget()
	}
	c.done(addedWords(v))
}

// UseAsCheck compares the sheet with the feature aimed at and keeps that as evidence.
func (c *Calibrator) UseAsCheck() {
	if !c.form.on {
		c.n.Foot.Say("First click a feature on the map whose position you know from elsewhere.")
		return
	}
	v, err := c.evidence.add(sheetOf(c.n.Session))
	if err != nil {
		c.complain(err)
		return
	}
	again := c.evidence.source() == calib.FromTerrain && !compared(v)
	c.done(addedWords(v))
	if again { // it needs six heights
		c.evidence.origin.SetSelected(originOf(calib.FromTerrain).label)
	}
}

// done ends what the form was for, with the keys back on the map.
func (c *Calibrator) done(words string) {
	c.n.Foot.Say(words)
	c.Cancel()
}

// addedWords say what a sheet is with one more piece of evidence.
// RemoveChosen deletes the control point that is being changed, and reports whether
// one is.
func (c *Calibrator) RemoveChosen() bool {
	i := c.form.chosen
	if i < 0 {
		c.n.Foot.Say("Choose a control point first: click it on the map.")
		return false
	}
	c.n.Foot.Try(c.n.Session.RemoveControlPoint(i), deletedPoint(i))
	c.Cancel()
	return true
}

func deletedPoint(i int) string {
	return fmt.Sprintf("Control point %d deleted. Undo restores it.", i+1)
}

// Cancel stops aiming, and leaves the keys to the map: a field that cannot be seen must
// not keep them.
func (c *Calibrator) Cancel() {
	c.forget()
	c.n.Reveal(c.head)
	c.n.Map.Redraw()
	c.n.Map.Focus()
}

// forget stops aiming.
func (c *Calibrator) forget() {
	c.n.Session.EndNudge()
	c.form.forget()
	c.evidence.forget()
	c.refresh()
}

// gridTaken follows the intersections of the grid having become the control points.
func (c *Calibrator) gridTaken() {
	c.grid.forget()
	c.Cancel()
}

// addedWords say what a sheet is with one more piece of evidence.
func addedWords(v check.Verdict) string {
	switch {
	case caution.Stops(v.Cautions, caution.All):
		return caution.OfGrade(v.Cautions, caution.Stop)[0].Text()
	case !compared(v):
		return "Kept, but not compared: the Sheet panel says why."
	case v.Checked:
		return "It agrees: the sheet is checked to ± " + units.ErrorM(v.WithinM) + "."
	}
	return "Kept. It agrees, but the sheet is not checked yet: the Sheet panel says what is missing."
}

// compared reports whether the latest evidence could be compared: too few heights, say,
// cannot.
func compared(v check.Verdict) bool {
	n := len(v.Evidence)
	return n > 0 && v.Evidence[n-1].Counts
}
