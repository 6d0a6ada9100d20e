package sheetpanel

import (
	"errors"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/calib/slips"
	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/ui/foot"
	"legwright/app/ui/look"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// verdict says whether the sheet in hand may be navigated by: stops first, each with
// the acts that mend it; then whether it is checked, to how many metres and by what, or
// what would check it; then the evidence, each piece with its result.
type verdict struct {
	n      *Needs
	body   *fyne.Container
	head   *widgets.Heading
	rows   *fyne.Container
	said   widgets.Sentences
	choose func(int) // a control point
}

func newVerdict(n *Needs, choose func(int)) *verdict {
	s := &verdict{n: n, head: widgets.NewHeading("Check"), rows: container.NewVBox(), choose: choose}
	s.body = container.NewVBox(s.head, s.rows)
	return s
}

// show shows what is known of the sheet: of its calibration c, or of the points that
// make none.
func (s *verdict) show(sheet plan.Sheet, c *calib.Calibration, err error, on bool) {
	var unfit *calib.Unfit
	none := errors.As(err, &unfit)
	show(s.body, on && (none || c != nil))
	s.rows.Objects = nil
	s.said.Again()
	defer widgets.Arrange(s.body)
	switch {
	case !on:
		return
	case none: // the hint says why
		s.head.SetNote("not calibrated")
		return
	case c == nil:
		return
	}
	v := s.n.Session.Verdict()
	s.head.SetNote(v.Short(c))
	s.addStops(v, c)
	if v.StopShort(c) == "" { // what is wrong is mended first
		s.addState(v)
		s.addNotes(c)
	}
	s.addEvidence(sheet, v)
}

func (s *verdict) add(o fyne.CanvasObject) { s.rows.Objects = append(s.rows.Objects, o) }

func (s *verdict) say(text string, tone widgets.Tone) { s.add(s.said.Next(text, tone)) }

// addStops shows the stops on the sheet.
func (s *verdict) addStops(v check.Verdict, c *calib.Calibration) {
	for _, k := range caution.OfGrade(v.CautionsWith(c), caution.Stop) {
		switch k.Code {
		case caution.SlipNamed:
			s.say(k.Text(), widgets.Fault)
			s.addMending(v.Named[0])
		case caution.SlipSet:
			s.addSet(v)
		default:
			s.say(k.Text(), widgets.Fault)
		}
	}
}

// mostMended is how many slips of a set are listed with their acts.
const mostMended = 6

// addSet lists the slips of which one is wrong.
func (s *verdict) addSet(v check.Verdict) {
	switch {
	case v.Guesses:
		s.say("A reference is wrong, but four points on a photograph do not show which. Compare all four with the map, or add a fifth point.", widgets.Fault)
		return // what is named is wrong more often than right
	case len(v.Named) == 1:
		s.say("Either the slip named below was made, or the points were not clicked exactly. Compare the points with the map.", widgets.Fault)
	default:
		s.say(fmt.Sprintf("One of these %d things is wrong. Compare each with the map, then correct what is wrong.", len(v.Named)), widgets.Fault)
	}
	for i, slip := range v.Named {
		if i == mostMended {
			s.say(fmt.Sprintf("And %d more.", len(v.Named)-mostMended), widgets.Note)
			break
		}
		s.say(foot.SentenceOf(slip.Words), widgets.Caution)
		s.addMending(slip)
	}
}

// addMending offers the acts that mend a slip.
func (s *verdict) addMending(slip slips.Slip) {
	if slip.Kind > slips.OfAll {
		return
	}
	one := 0 // all points: the first stands for them
	if len(slip.Points) > 0 {
		one = slip.Points[0]
	}
	row := container.NewHBox()
	if text := s.n.Session.CorrectedReference(slip, one); text != "" {
		row.Add(s.correct(slip, one, text))
	}
	row.Add(s.lookAt(one))
	if slip.Kind == slips.OfPoint && len(slip.Points) == 1 {
		row.Add(s.setAside(one))
	}
	for len(row.Objects) > 1 && row.MinSize().Width > widgets.RowWidth {
		last := row.Objects[len(row.Objects)-1]
		row.Objects = row.Objects[:len(row.Objects)-1]
		defer s.add(container.NewHBox(last))
	}
	s.add(row)
}

func (s *verdict) correct(slip slips.Slip, one int, text string) *widgets.Tool {
	words, hint := "Make it "+shortRef(text), fmt.Sprintf("Change control point %d to %s. Undo restores it.", one+1, text)
	switch {
	case slip.Kind == slips.OfPoint && len(slip.Points) == 2:
		words, hint = "Swap them back", "Give each of the two control points the other's reference. Undo restores them."
	case len(slip.Points) != 1:
		words, hint = "Correct them", fmt.Sprintf("Correct all these references: control point %d becomes %s. Undo restores them.", one+1, text)
	}
	return s.n.tool("", words, hint, func() { s.n.Foot.Try(s.n.Session.CorrectSlip(slip), "Corrected. Undo reverses this.") })
}

func (s *verdict) lookAt(i int) *widgets.Tool {
	return s.n.tool("", fmt.Sprintf("Look at point %d", i+1), "Show the control point, to move it or to type its reference again", func() { s.choose(i) })
}

func (s *verdict) setAside(i int) *widgets.Tool {
	return s.n.tool("", "Delete it", fmt.Sprintf("Calibrate without control point %d. Undo restores it.", i+1), func() {
		s.n.Foot.Try(s.n.Session.RemoveControlPoint(i), deletedPoint(i))
	})
}

// checkedWords say to how many metres, by what and for what a sheet is checked.
func checkedWords(v check.Verdict) string {
	scope := "the grid only; latitude and longitude are not checked"
	if v.Scope == check.WithLatLon {
		scope = "latitude and longitude too"
	}
	return fmt.Sprintf("Checked to ± %s by %s: %s.", units.ErrorM(v.WithinM), v.By, scope)
}

// addState says whether the sheet is checked.
func (s *verdict) addState(v check.Verdict) {
	if v.Checked {
		s.say(checkedWords(v), widgets.Good)
		return
	}
	for _, k := range v.Cautions {
		if k.Code != caution.Unchecked || v.Advice == "" && len(v.Cautions) == 1 {
			s.say(k.Text(), widgets.Caution)
		}
	}
	if v.Advice != "" {
		s.say("Unchecked. "+v.Advice, widgets.Caution)
	}
	if v.At != (calib.PicturePt{}) || v.Advice != "" {
		s.add(container.NewHBox(s.n.tool("", "Show where", "Move the map to this position", func() { s.n.show(v.At) })))
	}
}

// show moves the map to a position of the picture.
func (n *Needs) show(at calib.PicturePt) {
	if n.Pictures.Pyramid() == nil {
		n.Foot.Say("The picture is not shown.")
		return
	}
	n.Map.Area().CenterOn(sheetview.ViewPt(at))
	n.Map.Focus()
}

// addNotes adds the notes of the fit itself.
func (s *verdict) addNotes(c *calib.Calibration) {
	for _, k := range caution.OfGrade(c.Cautions(), caution.Note) {
		s.say(k.Text(), widgets.Caution)
	}
}

// addEvidence lists the evidence; found lines are one entry.
func (s *verdict) addEvidence(sheet plan.Sheet, v check.Verdict) {
	lines := 0
	for i, e := range sheet.Evidence {
		if e.SquareM > 0 {
			lines++
			continue
		}
		var r check.Result
		if i < len(v.Evidence) {
			r = v.Evidence[i]
		}
		words, tone := resultWords(r, v, e.Source == calib.FromTerrain)
		s.addPiece(originOf(e.Source).short+": "+e.Text, words, tone, e.At, func() {
			s.n.Foot.Try(s.n.Session.RemoveEvidence(i), "Check deleted. Undo restores it.")
		})
	}
	if lines > 0 {
		s.addPiece("Printed grid", counted(lines, "intersection")+" found, but not named.", widgets.Note, sheet.Evidence[0].At, func() {
			s.n.Foot.Try(s.n.Session.RemoveFoundLines(), "Printed grid lines deleted. Undo restores them.")
		})
	}
}

// resultWords say how evidence compares with the calibration.
func resultWords(r check.Result, v check.Verdict, height bool) (string, widgets.Tone) {
	switch {
	case v.Waits:
		return "Not compared yet.", widgets.Note
	case !r.Counts && caution.Has(v.Cautions, caution.RestsOnUnchecked):
		return "Not compared: this check comes from a sheet that is unchecked.", widgets.Caution
	case !r.Counts && height:
		return "Not compared: a check by contours needs six heights, each at a position that the terrain covers.", widgets.Note
	case !r.Counts:
		return "Not compared: the reference of this check cannot be read on this grid.", widgets.Caution
	case !r.Agrees():
		return fmt.Sprintf("Disagrees: %s out; up to %s is allowed.", units.ErrorM(r.OffM), units.ErrorM(r.MostM)), widgets.Fault
	}
	tone := widgets.Good
	if !v.Checked { // agreement on a sheet with a stop, or with a slip left open, assures nobody
		tone = widgets.Note
	}
	return fmt.Sprintf("Agrees: %s out; up to %s is allowed.", units.ErrorM(r.OffM), units.ErrorM(r.MostM)), tone
}

func (s *verdict) addPiece(name, words string, tone widgets.Tone, at calib.PicturePt, remove func()) {
	show := s.n.entry(name, "Show on the map: "+name, func() { s.n.show(at) })
	drop := s.n.iconTool(look.IconDelete, "Delete this check", remove)
	s.add(container.New(&rowLayout{name: name}, show, widgets.NewQuiet(""), drop))
	s.say(words, tone)
}
