package card

import (
	"fmt"
	"math"
	"strings"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/units"
	"legwright/mapio/paper"
)

// SheetPage is what a page on the calibration of one sheet says.
type SheetPage struct {
	Name     string
	Grid     string   // with its datum
	Made     string   // from what the calibration was made, and how closely it fits
	Check    string   // "Checked to ± 15 m by …", or that it is unchecked and what would check it
	Points   []Placed // control points
	Evidence []Placed
	Cautions []string // sentences, stops first
}

// Placed is a control point or a piece of evidence on a page.
type Placed struct {
	Ref string // as it was typed, and where it comes from
	Px  string // where it lies in the picture: column and row
	Off string // how far off it lies
}

func (w writer) sheetPages() (out []SheetPage) {
	for _, s := range w.p.Sheets {
		out = append(out, w.sheetPage(s))
	}
	return out
}

// sheetPage writes the page of a sheet.
func (w writer) sheetPage(s plan.Sheet) SheetPage {
	out := SheetPage{Name: w.p.SheetName(s.ID), Grid: "no grid is chosen", Made: "Not calibrated.", Check: "UNCHECKED."}
	if sys, err := w.r.SystemOf(s.Code); err == nil {
		out.Grid = joined(", ", gridWords(sys), string(sys.Code()))
	}
	v, against := w.r.Verdict(s.ID), w.r.CautionsOfSheet(s.ID)
	if fit, err := w.r.CalibrationOf(s.ID); err == nil {
		out.Made, out.Points = madeWords(s, fit), placedPoints(fit)
		out.Check, out.Evidence = checkWords(v), placedEvidence(s, v)
		against = v.CautionsWith(fit)
	}
	for _, k := range caution.GravestFirst(against) {
		lead := ""
		if k.Stop() {
			lead = "STOP: "
		}
		out.Cautions = append(out.Cautions, lead+k.Text())
	}
	out.Cautions = append(out.Cautions, PlanningAid)
	return out
}

// madeWords say from what a calibration was made and how closely it fits.
func madeWords(s plan.Sheet, fit *calib.Calibration) string {
	words := fmt.Sprintf("Picture: %s, %d × %d pixels, %.2f m per pixel. ", s.Medium, s.Width, s.Height, fit.MetresPerPixel())
	if s.ByMatrix() {
		return words + "Calibrated from the picture's georeference: there are no control points and no residuals."
	}
	return words + fmt.Sprintf("Calibrated from %d control points; typical residual %s, %.1f px. Small residuals alone do not make a sheet right.",
		len(fit.Points()), unbroken(units.ErrorM(fit.RMSM())), fit.RMSPx())
}

// checkWords say to how many metres, by what and for what a sheet is checked, or that it is not.
func checkWords(v check.Verdict) string {
	if !v.Checked {
		return joined(" ", "UNCHECKED.", v.Advice)
	}
	scope := "on the map's grid only"
	if v.Scope == check.WithLatLon {
		scope = "latitude and longitude too"
	}
	return fmt.Sprintf("Checked to ± %s by %s: %s.", units.ErrorM(v.WithinM), v.By, scope)
}

// placedPoints are the control points with their residuals, reference less fit.
func placedPoints(fit *calib.Calibration) (out []Placed) {
	left := fit.Residuals()
	for i, p := range fit.Points() {
		ref := p.Text
		if ref == "" {
			ref = fmt.Sprintf("E %.0f N %.0f", p.Ref.E, p.Ref.N)
		}
		x := Placed{Ref: ref, Px: pixelWords(p.At)}
		if i < len(left) {
			r := left[i]
			x.Off = fmt.Sprintf("%s (%s, %s), %.1f px", units.ErrorM(math.Hypot(r.EastM, r.NorthM)), sideWords(r.EastM, "E", "W"), sideWords(r.NorthM, "N", "S"), r.Px)
		}
		out = append(out, x)
	}
	return out
}

// sideWords write a part of a residual with the side to which the reference lies: "1.2 E".
func sideWords(m float64, plus, minus string) string {
	if m < 0 {
		plus = minus
	}
	return fmt.Sprintf("%.1f %s", math.Abs(m), plus)
}

func pixelWords(at calib.PicturePt) string { return fmt.Sprintf("px %.0f, %.0f", at.Col, at.Row) }

// placedEvidence are the pieces of evidence with what they showed; found lines of the printed
// grid, which have no reference, are left to the verdict.
func placedEvidence(s plan.Sheet, v check.Verdict) (out []Placed) {
	for i, e := range s.Evidence {
		if e.SquareM > 0 {
			continue
		}
		x := Placed{Ref: joined(": ", string(e.Source), e.Text), Px: pixelWords(e.At), Off: "not compared"}
		if i < len(v.Evidence) && v.Evidence[i].Counts {
			r := v.Evidence[i]
			verdict := "agrees"
			if !r.Agrees() {
				verdict = "DISAGREES"
			}
			x.Off = fmt.Sprintf("%s; up to %s is allowed: %s", units.ErrorM(r.OffM), units.ErrorM(r.MostM), verdict)
		}
		out = append(out, x)
	}
	return out
}

// SheetPaper is a page on each sheet of the plan, as PDF: grid, control points with residuals,
// what it was checked by, and cautions. Errors are those of mapio/paper, and a plan without a
// sheet.
func (c *Content) SheetPaper(o Print) ([]byte, error) {
	if len(c.SheetPages) == 0 {
		return nil, fmt.Errorf("the plan has no sheet: open a map before you print its page")
	}
	d, err := paper.New(o.Size, c.info(SheetForm.Title()))
	if err != nil {
		return nil, err
	}
	for _, s := range c.SheetPages {
		s.onPage(newFlow(d), c)
	}
	return d.Bytes()
}

// onPage sets the page of a sheet, over several where it is long.
func (s SheetPage) onPage(f *flow, c *Content) {
	again := "Sheet " + s.Name + ", continued"
	f.say(titleType, again, "Sheet "+s.Name)
	f.say(boldType, again, s.Check)
	f.say(plainType, again, lines("Grid: "+s.Grid+".", s.Made))
	f.gap()
	f.placed("control point", "residual, towards the reference", s.Points)
	f.placed("checked by", "off", s.Evidence)
	c.section(f, "Cautions", s.Cautions...)
}

// sides keeps the side of a residual in the line of its figure.
var sides = strings.NewReplacer(" E,", "\u00a0E,", " W,", "\u00a0W,", " N)", "\u00a0N)", " S)", "\u00a0S)")

// placed draws a table of points, none for an empty list.
func (f *flow) placed(what, off string, list []Placed) {
	const number, least, pad = 8, 20, 2
	wide := 0.0
	for _, x := range list {
		wide = max(wide, f.d.Width(x.Ref, plainType), f.d.Width(x.Px, plainType))
	}
	t := paper.Table{Columns: []paper.Column{{Min: number}, {Head: what, Min: max(least, min(wide+pad, (f.rest.W-number)/2)), Grow: true}, {Head: off, Min: least, Ideal: 60, Grow: true}}}
	for i, x := range list {
		t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{{Text: fmt.Sprint(i + 1)}, {Text: lines(x.Ref, x.Px)}, {Text: sides.Replace(x.Off)}}})
	}
	if len(list) > 0 {
		f.table(t)
	}
}
