package ui

import (
	"fmt"
	"slices"

	"legwright/app/ui/sheetview"

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

// fileJudge says of a sheet that its own file places from what and how exactly,
// and compares the printed grid with that. Lines alone never check it: a person
// names intersections, which become evidence.
type fileJudge struct {
	b       *Bench
	body    *fyne.Container
	from    *widgets.Sentence
	verdict *widgets.Sentence

	place *georef.Georeference // what the picture's file says, as it was opened last
	of    plan.Sheet           // what follows is of it
	agree *lattice.Agreement   // nil while nothing was compared
	why   string               // nothing could be
}

func newFileJudge(b *Bench) *fileJudge {
	j := &fileJudge{b: b, from: widgets.NewSentence("", widgets.Note), verdict: widgets.NewSentence("", widgets.Note)}
	j.body = container.NewVBox(widgets.NewHeading("Placed by its file"), j.from, j.verdict)
	return j
}

// sheetNow is the sheet in hand, empty without one.
func (b *Bench) sheetNow() plan.Sheet {
	sheet, _ := b.s.Sheet()
	return sheet
}

// placed reports whether the sheet's calibration is what a file gave.
func (j *fileJudge) placed(sheet plan.Sheet) bool {
	return byMatrix(sheet) || j.byPoints(sheet)
}

// byMatrix reports whether a file gave the sheet's matrix.
func byMatrix(sheet plan.Sheet) bool { return sheet.ByMatrix() }

// byPoints reports whether the control points are those of the file.
func (j *fileJudge) byPoints(sheet plan.Sheet) bool {
	return j.place != nil && len(j.place.Points) > 0 && slices.Equal(j.place.Points, sheet.Points)
}

// follow shows what is known of the sheet; c is its calibration or nil.
func (j *fileJudge) follow(sheet plan.Sheet, c *calib.Calibration) {
	on := c != nil && j.placed(sheet)
	visible(j.body, on)
	j.b.sheetP.finder.SetText("Find the printed grid")
	if on {
		j.b.sheetP.finder.SetText("Check against the printed grid")
	}
	if !on || !sameFit(j.of, sheet) {
		j.of, j.agree, j.why = sheet, nil, ""
	}
	if !on {
		return
	}
	j.from.Set(j.fromWords(sheet, c), widgets.Note)
	text, tone := j.verdictWords(sheet)
	j.verdict.Set(text, tone)
	visible(j.verdict, text != "")
}

// fromWords says from what the sheet has its place, and how exact that is.
func (j *fileJudge) fromWords(sheet plan.Sheet, c *calib.Calibration) string {
	source, sigmaM, states := "a file that came with the picture", 0.0, false
	if p := j.place; p != nil && (j.byPoints(sheet) || p.Matrix != nil && *p.Matrix == *sheet.World) {
		source, sigmaM, states = p.Source, p.SigmaM, p.States
	}
	text := "From " + source
	if n := len(sheet.Points); !byMatrix(sheet) {
		text += fmt.Sprintf(", by %s", countWords(n, "point"))
	}
	good := units.ErrorM(overlay.WorstCornerM(c, sheet.Width, sheet.Height))
	switch {
	case !byMatrix(sheet) && 2*sigmaM > overlay.WorstCornerM(c, sheet.Width, sheet.Height)/2: // most of it, or all
		return text + fmt.Sprintf(". By what is known of how it was placed it is good to ± %s (95 %%).", units.ErrorM(2*sigmaM))
	case !byMatrix(sheet):
		return text + fmt.Sprintf(". By what the points leave over, its corners are good to ± %s (95 %%).", good)
	case sigmaM > 0 && !states:
		return text + fmt.Sprintf(". It does not say how exact it is: ± %s (95 %%) is only the error of converting its figures to the grid.", good)
	case sigmaM > 0:
		return text + fmt.Sprintf(", which states ± %s (95 %%).", units.ErrorM(2*sigmaM))
	}
	return text + fmt.Sprintf(". It does not say how exact it is: ± %s is taken (95 %%).", good)
}

// verdictWords say how the printed grid agrees, if it was asked.
func (j *fileJudge) verdictWords(sheet plan.Sheet) (string, widgets.Tone) {
	a := j.agree
	switch {
	case a == nil && j.why != "":
		return "Not compared with the printed grid: " + j.why + ".", widgets.Caution
	case a == nil:
		return "", widgets.Note
	case !a.Agrees() && !foundLines(sheet): // and the lines were removed
		return "", widgets.Note
	case !a.Agrees():
		return fmt.Sprintf("The printed grid disagrees with the file: its intersections lie about %.1f px off. The file is wrong, or the lines are another grid's: then remove them below.", a.MedianPx), widgets.Fault
	}
	text := fmt.Sprintf("The printed grid agrees: of its %d intersections, %s apart, none is more than %.1f px off.",
		a.Intersections, units.RoundLength(a.SquareM), max(a.WithinPx(), a.WorstPx))
	if !j.b.s.Verdict().Checked {
		return text + " That does not check the sheet: a file that is whole squares out agrees as well.", widgets.Note
	}
	return text, widgets.Good
}

// foundLines reports whether printed lines are kept as evidence.
func foundLines(sheet plan.Sheet) bool {
	return slices.ContainsFunc(sheet.Evidence, func(e calib.Evidence) bool { return e.SquareM > 0 })
}

// judge compares the grid that was found with the file's georeference. Lines that
// disagree are kept as evidence.
func (j *fileJudge) judge(l *lattice.Lattice) {
	sheet, _ := j.b.s.Sheet()
	if _, err := j.b.s.Calibration(); err != nil || !j.placed(sheet) {
		return
	}
	var err error
	j.of = sheet
	j.agree, j.why, err = j.b.s.CompareWithLines(l)
	j.b.fail(err)
}

// refused notes that there is no printed grid to ask.
func (j *fileJudge) refused(why string) {
	if sheet, ok := j.b.s.Sheet(); ok && j.placed(sheet) {
		j.of, j.agree, j.why = sheet, nil, "none was found, for "+why
	}
}

// naming reports whether intersections that are named now become evidence.
func (j *fileJudge) naming() bool {
	sheet, _ := j.b.s.Sheet()
	return j.b.printed.found != nil && j.placed(sheet) && j.agree != nil && j.agree.Agrees() && !j.b.s.Verdict().Checked
}

// namesWanted is how many intersections, not in one line, show what a file has wrong
// but for the name of its grid.
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

// words say what to do about a found grid on a sheet that is placed by a file.
func (j *fileJudge) words(sheet plan.Sheet) string {
	switch {
	case j.naming() && namedCount(sheet) >= namesWanted:
		return j.b.s.Verdict().Advice
	case j.naming():
		return fmt.Sprintf("Click three intersections of the dashed lines that are not in one line, and type what the map says of each. Named: %d of %d.",
			namedCount(sheet), namesWanted)
	case j.agree != nil && !j.agree.Agrees():
		return "Look at the dashed lines: are they the printed ones? Then calibrate by them: click an intersection, type its reference, and the others follow. Else discard them  (Esc)."
	}
	return "Look at the dashed lines, then discard them  (Esc)."
}

// nameIntersection takes the place aimed at and the reference typed as an intersection
// that the person read off the map.
func (p *sheetPost) nameIntersection() {
	at := sheetview.PicturePt(p.at)
	if x, ok := p.b.printed.found.Nearest(at); ok {
		at = calib.PicturePt{Col: x.Col, Row: x.Row}
	}
	v, err := p.b.s.AddEvidence(calib.FromOwnGrid, at, p.ref.Text, calib.DefaultSigmaPx)
	if err != nil {
		p.complain(err)
		return
	}
	if v.Checked {
		p.b.printed.forget()
	}
	p.b.say(addedWords(v))
	p.forgetAndRefresh()
	p.b.focusSheet()
}

// addTo shows the intersections that were named.
func (j *fileJudge) addTo(s *overlay.Scene) {
	if !j.naming() {
		return
	}
	for _, e := range j.b.sheetNow().Evidence {
		if e.SquareM == 0 {
			s.Controls = append(s.Controls, overlay.Control{At: sheetview.ViewPt(e.At), Text: e.Text})
		}
	}
}
