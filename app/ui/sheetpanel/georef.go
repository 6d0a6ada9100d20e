package sheetpanel

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/plan"
	"legwright/app/ui/widgets"
	"legwright/app/units"
	"legwright/canvas/overlay"
	"legwright/mapio/georef"
)

// georefCheck says where a sheet has its position from when its own file gives it, and
// compares the printed grid with that. Lines alone never check it: a person names
// intersections, which become evidence.
type georefCheck struct {
	n       *Needs
	body    *fyne.Container
	from    *widgets.Sentence
	verdict *widgets.Sentence

	on    bool                 // the sheet in hand has its position from a file
	says  *georef.Georeference // what the picture's file says, as it was opened last
	of    plan.Sheet           // what follows is of it
	agree *lattice.Agreement   // nil while nothing was compared
	why   string               // nothing could be
}

func newGeorefCheck(n *Needs) *georefCheck {
	j := &georefCheck{n: n, from: widgets.NewSentence("", widgets.Note), verdict: widgets.NewSentence("", widgets.Note)}
	j.body = container.NewVBox(widgets.NewHeading("Positioned by its file"), j.from, j.verdict)
	return j
}

// placed reports whether the sheet's calibration is what a file gave.
func (j *georefCheck) placed(sheet plan.Sheet) bool { return sheet.ByMatrix() || j.byPoints(sheet) }

// byPoints reports whether the control points are those of the file.
func (j *georefCheck) byPoints(sheet plan.Sheet) bool {
	return j.says != nil && len(j.says.Points) > 0 && slices.EqualFunc(j.says.Points, sheet.Points, func(a, b calib.ControlPoint) bool {
		return a.Source == b.Source && a.Ref == b.Ref && a.Text == b.Text && samePoint(a.At, b.At)
	})
}

// byMatrix reports whether the sheet lies where the file's matrix has it.
func (j *georefCheck) byMatrix(sheet plan.Sheet) bool {
	if j.says.Matrix == nil || !sheet.ByMatrix() {
		return false
	}
	says, err := calib.FromMatrix(*j.says.Matrix, 0, 0)
	is, err2 := calib.FromMatrix(*sheet.World, 0, 0)
	if err != nil || err2 != nil {
		return false
	}
	w, h := float64(sheet.Width), float64(sheet.Height)
	for _, at := range [...]calib.PicturePt{{}, {Col: w}, {Row: h}} {
		if !samePoint(at, is.ToPicture(says.ToGrid(at))) {
			return false
		}
	}
	return true
}

// samePoint reports whether two points of a picture are one, but for the rounding of
// another resolution.
func samePoint(a, b calib.PicturePt) bool {
	const samePx = 0.01
	return math.Hypot(a.Col-b.Col, a.Row-b.Row) <= samePx
}

// show shows what is known of the sheet; c is its calibration or nil.
func (j *georefCheck) show(sheet plan.Sheet, c *calib.Calibration, aiming bool) {
	j.on = c != nil && j.placed(sheet)
	show(j.body, j.on && !aiming)
	if !j.on || !sameFit(j.of, sheet) {
		j.of, j.agree, j.why = sheet, nil, ""
	}
	if !j.on {
		return
	}
	j.from.Set(j.fromWords(sheet, c), widgets.Note)
	j.verdict.Set(j.verdictWords(sheet))
	show(j.verdict, j.verdict.Text() != "")
}

// fromWords say where the sheet has its position from, and how exact that is.
func (j *georefCheck) fromWords(sheet plan.Sheet, c *calib.Calibration) string {
	source, sigmaM, states := "a file that came with the picture", 0.0, false
	if p := j.says; p != nil && (j.byPoints(sheet) || j.byMatrix(sheet)) {
		source, sigmaM, states = p.Source, p.SigmaM, p.States
	}
	text := "From " + source
	if n := len(sheet.Points); !sheet.ByMatrix() {
		text += fmt.Sprintf(", with %s", counted(n, "point"))
	}
	corner := overlay.WorstCornerM(c, sheet.Width, sheet.Height)
	good := units.ErrorM(corner)
	switch {
	case !sheet.ByMatrix() && 2*sigmaM > corner/2: // most of it, or all
		return text + fmt.Sprintf(". The file's points are known to ± %s (95 %%) at best.", units.ErrorM(2*sigmaM))
	case !sheet.ByMatrix():
		return text + fmt.Sprintf(". Going by the residuals at these points, the sheet's corners are good to ± %s (95 %%).", good)
	case sigmaM > 0 && !states:
		return text + fmt.Sprintf(". The file gives no accuracy; ± %s (95 %%) is only the error of converting its coordinates to the grid.", good)
	case sigmaM > 0:
		return text + fmt.Sprintf(", which states ± %s (95 %%).", units.ErrorM(2*sigmaM))
	}
	return text + fmt.Sprintf(". The file gives no accuracy; ± %s (95 %%) is assumed.", good)
}

// verdictWords say how the printed grid agrees, if it was compared.
func (j *georefCheck) verdictWords(sheet plan.Sheet) (string, widgets.Tone) {
	a := j.agree
	switch {
	case a == nil && j.why != "":
		return "The file's position could not be compared with the printed grid: " + j.why + ".", widgets.Caution
	case a == nil, !a.Agrees() && !keepsLines(sheet): // and the lines were deleted
		return "", widgets.Note
	case !a.Agrees():
		return fmt.Sprintf("The printed grid disagrees with the file: its intersections are about %.1f px off. Either the file is wrong, or the lines belong to another grid. If they do, delete them below.", a.MedianPx), widgets.Fault
	}
	text := fmt.Sprintf("The printed grid agrees: none of its %d intersections, %s apart, is more than %.1f px off.",
		a.Intersections, units.RoundLength(a.SquareM), max(a.WithinPx(), a.WorstPx))
	if !j.n.Session.Verdict().Checked {
		return text + " That does not check the sheet: a file that is out by whole squares would agree just as well.", widgets.Note
	}
	return text, widgets.Good
}

// keepsLines reports whether printed lines are kept as evidence.
func keepsLines(sheet plan.Sheet) bool {
	return slices.ContainsFunc(sheet.Evidence, func(e calib.Evidence) bool { return e.SquareM > 0 })
}

// compare compares the grid found with the file's georeference. Lines that disagree
// are kept as evidence.
func (j *georefCheck) compare(l *lattice.Lattice) {
	sheet := sheetOf(j.n.Session)
	if _, err := j.n.Session.Calibration(); err != nil || !j.placed(sheet) {
		return
	}
	j.of = sheet
	agree, why, err := j.n.Session.CompareWithLines(l)
	j.of, j.agree, j.why = sheetOf(j.n.Session), agree, why
	j.n.Foot.Fail(err)
}

// refused notes that there is no printed grid to compare.
func (j *georefCheck) refused(why string) {
	if sheet := sheetOf(j.n.Session); j.placed(sheet) {
		j.of, j.agree, j.why = sheet, nil, why
	}
}

// naming reports whether intersections of the grid found, and named now, become
// evidence.
func (j *georefCheck) naming(found bool) bool {
	return found && j.placed(sheetOf(j.n.Session)) && j.agree != nil && j.agree.Agrees() && !j.n.Session.Verdict().Checked
}

// namesWanted is how many intersections, not in one line, show whatever a file has wrong
// but the name of its grid.
const namesWanted = 3

// namedCount counts the intersections that were named.
func namedCount(sheet plan.Sheet) int {
	n := 0
	for _, e := range sheet.Evidence {
		if e.Source == calib.FromOwnGrid && e.SquareM == 0 {
			n++
		}
	}
	return n
}

// words say what to do about a found grid on a sheet that a file positions.
func (j *georefCheck) words(sheet plan.Sheet) string {
	naming := j.naming(true)
	switch {
	case naming && namedCount(sheet) >= namesWanted:
		return j.n.Session.Verdict().Advice
	case naming:
		return fmt.Sprintf("To check the sheet, click three grid intersections that are not in a straight line and type the reference of each. Named: %d of %d.",
			namedCount(sheet), namesWanted)
	case j.agree != nil && !j.agree.Agrees():
		return "Do the dashed lines lie on the printed lines? If so, calibrate from them: click an intersection and type its reference, and the others follow. If not, discard the dashed lines  (Esc)."
	}
	return "Compare the dashed lines with the map, then discard them  (Esc)."
}
