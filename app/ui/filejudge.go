package ui

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/plan"
	"legwright/app/ui/part"
	"legwright/canvas/overlay"
	"legwright/mapio/scan"
)

// fileJudge says of a sheet that its own file places from what and how exactly,
// and holds the printed grid against that. Lines alone never prove it: a person
// names crossings (see lattice.Proves).
type fileJudge struct {
	b       *Bench
	body    *fyne.Container
	from    *part.Sentence
	verdict *part.Sentence
	aside   *part.Tool // takes the verdict back where the lines are another grid's

	place *scan.Place        // what the picture's file says, as it was opened last
	of    plan.Sheet         // what follows is of it
	agree *lattice.Agreement // nil while nothing was compared
	why   string             // nothing could be
	names []lattice.Name     // by the person
	texts []string           // as they were typed
}

func newFileJudge(b *Bench) *fileJudge {
	j := &fileJudge{b: b, from: part.NewSentence("", part.Note), verdict: part.NewSentence("", part.Note)}
	j.aside = part.NewTextTool("", "The lines are another grid's", "Drop the doubt: the dashed lines are those of another grid, or none at all. The sheet stays unproved.", j.setAside)
	j.aside.OnHint = b.hintTo
	j.body = container.NewVBox(part.NewHeading("Placed by its file"), j.from, j.verdict, container.NewHBox(j.aside))
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
		j.of, j.agree, j.why, j.names, j.texts = sheet, nil, "", nil, nil
	}
	if !on {
		return
	}
	j.from.Set(j.fromWords(sheet, c), part.Note)
	text, tone := j.verdictWords(sheet)
	j.verdict.Set(text, tone)
	visible(j.verdict, text != "")
	visible(j.aside, sheet.Contradicted.Found())
}

// setAside takes back what the printed grid said against the place.
func (j *fileJudge) setAside() {
	if j.b.try(j.b.s.SetAside(), "The doubt about the place is dropped. The sheet stays unproved. Undo brings the doubt back.") {
		j.agree, j.why = nil, "the lines that were found are another grid's"
		j.b.sheetP.refresh()
	}
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
	good := errorFigure(cornersError(sheet, c))
	switch {
	case !byMatrix(sheet) && 2*sigmaM > cornersError(sheet, c)/2: // most of it, or all
		return text + fmt.Sprintf(". By what is known of how it was placed it is good to ± %s (95 %%).", errorFigure(2*sigmaM))
	case !byMatrix(sheet):
		return text + fmt.Sprintf(". By what the points leave over, its corners are good to ± %s (95 %%).", good)
	case sigmaM > 0 && !states:
		return text + fmt.Sprintf(". It does not say how exact it is: ± %s (95 %%) is only what getting from its figures to the grid adds.", good)
	case sigmaM > 0:
		return text + fmt.Sprintf(", which states ± %s (95 %%).", errorFigure(2*sigmaM))
	}
	return text + fmt.Sprintf(". It does not say how exact it is: ± %s is taken (95 %%).", good)
}

// cornersError is the error at the worst corner, in metres.
func cornersError(sheet plan.Sheet, c *calib.Calibration) float64 {
	w, h := float64(sheet.Width), float64(sheet.Height)
	worst := 0.0
	for _, p := range []calib.PicturePt{{}, {Col: w}, {Row: h}, {Col: w, Row: h}} {
		worst = math.Max(worst, overlay.ErrorAt(c, p))
	}
	return worst
}

// verdictWords say how the printed grid agrees, if it was asked.
func (j *fileJudge) verdictWords(sheet plan.Sheet) (string, part.Tone) {
	a := j.agree
	switch {
	case sheet.Contradicted.Found():
		return sentenceText(sheet.Contradicted.Words()), part.Fault
	case a == nil && j.why != "":
		return "Not compared with the printed grid: " + j.why + ".", part.Caution
	case a == nil:
		return "", part.Note
	case !a.Agrees(): // and the doubt was dropped
		return "", part.Note
	}
	text := fmt.Sprintf("The printed grid agrees within %.1f px in the median, %.1f px at the worst of %d crossings, %s apart.",
		a.WithinPx(), a.WorstPx, a.Crossings, lengthLabel(a.SquareM))
	if !sheet.Proof.Proved() {
		return text + " That is no proof: a file that is whole squares out agrees as well.", part.Note
	}
	return text, part.Good
}

// judge holds the grid that was found against the file's place. What speaks
// against that is kept with the sheet.
func (j *fileJudge) judge(l *lattice.Lattice) {
	sheet, _ := j.b.s.Sheet()
	if _, err := j.b.s.Calibration(); err != nil || !j.placed(sheet) {
		return
	}
	var err error
	j.of, j.names, j.texts = sheet, nil, nil
	j.agree, j.why, err = j.b.s.HoldAgainst(l)
	j.b.fail(err)
}

// refused notes that there is no printed grid to ask.
func (j *fileJudge) refused(why string) {
	if sheet, ok := j.b.s.Sheet(); ok && j.placed(sheet) {
		j.of, j.agree, j.why = sheet, nil, "none was found, for "+why
	}
}

// naming reports whether crossings that are named now count towards a proof.
func (j *fileJudge) naming() bool {
	sheet, _ := j.b.s.Sheet()
	return j.b.printed.found != nil && j.placed(sheet) && j.agree != nil && j.agree.Agrees() && !sheet.Proof.Proved()
}

// words say what to do about a found grid on a sheet that is placed by a file.
func (j *fileJudge) words(sheet plan.Sheet) string {
	switch {
	case j.naming() && len(j.names) >= calib.NamesForProof:
		return fmt.Sprintf("%d crossings named, which lie in one line: name one off it.", len(j.names))
	case j.naming():
		return fmt.Sprintf("To prove the sheet click three crossings of the dashed lines that are not in one line, and type what the map says of each. Named: %d of %d.",
			len(j.names), calib.NamesForProof)
	case j.agree != nil && !j.agree.Agrees():
		return "Look at the dashed lines: are they the printed ones? Then calibrate by them: click a crossing, type its reference, and the others follow. Else let go  (Esc)."
	}
	return "Look at the dashed lines, then let go  (Esc)."
}

// points are those that the picture's file gives.
func (j *fileJudge) points() []calib.ControlPoint {
	if j.place == nil {
		return nil
	}
	return j.place.Points
}

// nameCrossing takes the place aimed at and the reference typed as a crossing
// that the person read off the map.
func (p *sheetPost) nameCrossing() {
	j, found := p.knows.judge, p.b.printed.found
	fault := func(err error) {
		p.check.Show()
		p.check.Set(sentence(err), part.Fault)
		p.b.fail(err)
	}
	ref, err := p.b.s.CheckWitness(p.ref.Text)
	if err != nil {
		fault(err)
		return
	}
	at := picturePt(p.at)
	names, texts := j.without(found, at)
	names, texts = append(names, lattice.Name{At: at, Ref: ref.Grid}), append(texts, p.ref.Text)
	proved, err := p.b.s.NameCrossings(found, names, j.points())
	if err != nil {
		fault(err)
		return
	}
	j.names, j.texts = names, texts
	p.b.say(fmt.Sprintf("Crossing named, %d so far.", len(names)))
	if proved {
		p.b.printed.forget()
		p.b.say("The printed grid is where the file has it: the sheet is proved.")
	}
	p.forgetAndRefresh()
	p.b.focusSheet()
}

// without gives the names without one of the same crossing.
func (j *fileJudge) without(l *lattice.Lattice, at calib.PicturePt) (names []lattice.Name, texts []string) {
	x, _ := l.Nearest(at)
	for i, n := range j.names {
		if y, ok := l.Nearest(n.At); !ok || y.I != x.I || y.J != x.J {
			names, texts = append(names, n), append(texts, j.texts[i])
		}
	}
	return names, texts
}

// addTo shows the crossings that were named.
func (j *fileJudge) addTo(s *overlay.Scene) {
	if !j.naming() {
		return
	}
	for i, n := range j.names {
		s.Controls = append(s.Controls, overlay.Control{At: viewPt(n.At), Text: j.texts[i]})
	}
}
