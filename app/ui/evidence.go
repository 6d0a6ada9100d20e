package ui

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/ui/sheetview"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// origin is where a reference may come from, as the form offers it and as a list
// names it.
type origin struct {
	source       calib.EvidenceSource
	label, short string
}

func origins() []origin {
	return []origin{
		{calib.FromMargin, "the map's margin", "Margin"},
		{calib.FromList, "a published list", "List"},
		{calib.FromReceiver, "a GPS receiver", "Receiver"},
		{calib.FromSheet, "another sheet", "Other sheet"},
		{calib.FromFile, "a georeferenced file", "File"},
		{calib.FromOwnGrid, "this map's own grid", "Own grid"},
	}
}

func originOf(source calib.EvidenceSource) origin {
	for _, o := range origins() {
		if o.source == source {
			return o
		}
	}
	return origin{source: source, short: "Evidence"}
}

// evidenceForm asks where the reference comes from by which a sheet is checked. A
// feature on another sheet has no reference to type: its mark is chosen, and both
// pictures stand side by side.
type evidenceForm struct {
	p       *sheetPost
	origin  *widget.Select
	mark    *widget.Select
	row     *fyne.Container // where from
	markRow *fyne.Container // which mark
	use     *widgets.Tool
	marks   []plan.Mark // in the order of mark's options
	none    string      // why there are no marks
	beside  *beside
}

func newEvidenceForm(p *sheetPost) *evidenceForm {
	f := &evidenceForm{p: p, beside: newBeside(p.b)}
	var labels []string
	for _, o := range origins() {
		labels = append(labels, o.label)
	}
	f.origin = widget.NewSelect(labels, func(string) { f.chosen() })
	f.origin.PlaceHolder = "choose, to check by it"
	f.mark = widget.NewSelect(nil, func(string) { f.chosen() })
	f.mark.PlaceHolder = "choose a mark"
	f.use = widgets.NewTextTool("", "Use as check", "Compare the calibration with this feature, which it was not made from  (Ctrl+Return)", p.addEvidence)
	f.use.OnHint = p.b.hintTo
	f.row = container.NewBorder(nil, nil, widget.NewLabel("From"), nil, f.origin)
	f.markRow = container.NewBorder(nil, nil, widget.NewLabel("Same as"), nil, f.mark)
	return f
}

// source is where the reference comes from, "" while nothing is chosen.
func (f *evidenceForm) source() calib.EvidenceSource {
	for _, o := range origins() {
		if o.label == f.origin.Selected {
			return o.source
		}
	}
	return ""
}

// typed chooses the margin for latitude and longitude, which they most often come from.
func (f *evidenceForm) typed(kind geodesy.RefKind) {
	if f.origin.Selected == "" && kind == geodesy.RefLatLon && f.row.Visible() {
		f.origin.SetSelected(originOf(calib.FromMargin).label)
	}
}

// chosen follows a choice: the other sheet's picture comes and goes.
func (f *evidenceForm) chosen() {
	i := f.mark.SelectedIndex()
	switch {
	case f.source() != calib.FromSheet || i < 0 || i >= len(f.marks):
		f.beside.clear()
	case f.beside.mark.ID != f.marks[i].ID:
		f.beside.take(f.marks[i], f.p.refresh)
	}
	f.p.refresh()
}

// forget forgets what was chosen.
func (f *evidenceForm) forget() {
	f.beside.clear()
	f.origin.Selected, f.mark.Selected = "", ""
	f.origin.Refresh()
	f.mark.Refresh()
}

// show shows the form while a place is aimed at on a calibrated sheet.
func (f *evidenceForm) show(calibrated bool) {
	on := f.p.on && calibrated
	visible(f.row, on)
	visible(f.use, on)
	other := on && f.source() == calib.FromSheet
	visible(f.markRow, other)
	if other {
		f.offerMarks()
	}
	f.beside.show(other && f.beside.mark.ID != "", f.p.at)
	f.p.aim.Share(other && f.beside.mark.ID != "")
}

// longestOption is how many letters of a mark's and of a sheet's name the list of marks
// has room for.
const longestOption = 18

// offerMarks offers the marks of checked sheets that lie near the sheet in hand.
func (f *evidenceForm) offerMarks() {
	f.marks, f.none = f.p.b.marksToCompare()
	var names []string
	for i, m := range f.marks {
		name := fmt.Sprintf("%s  (%s)", cutMiddle(m.Name, longestOption), cutMiddle(f.p.b.s.Plan().SheetName(m.Position.Sheet), longestOption))
		if slices.Contains(names, name) { // two long names cut alike
			name += fmt.Sprintf(" %d", i+1)
		}
		names = append(names, name)
	}
	if !slices.Equal(names, f.mark.Options) {
		f.mark.SetOptions(names)
	}
	if len(names) == 0 {
		f.markRow.Hide()
	}
}

// besideHint says what to do with another sheet's picture.
func (f *evidenceForm) besideHint() string {
	switch {
	case len(f.marks) == 0:
		return f.none
	case f.beside.mark.ID == "":
		return "Choose the mark of the feature that this sheet shows too. Its sheet's picture then stands beside this one."
	case f.beside.why != "":
		return f.beside.why
	}
	return "Click on this sheet, or move with the arrow keys, until both pictures show the same under the hairlines. Then choose Use as check."
}

// marksToCompare lists the marks that were picked on other, checked sheets and lie on
// the sheet in hand or near it: an unchecked sheet may be out by more than it is wide,
// so near is as far again. none says why there is none.
func (b *Bench) marksToCompare() (list []plan.Mark, none string) {
	hand, _ := b.s.Sheet()
	c, err := b.s.Calibration()
	none = "There is no mark on another sheet. Mark a feature there that this sheet shows too, then compare the two."
	for _, m := range b.s.Plan().Marks {
		at := m.Position
		if _, there := b.s.Plan().SheetByID(at.Sheet); !there || at.Origin != plan.Picked || at.Sheet == hand.ID || err != nil {
			continue
		}
		if !b.s.Reader().Verdict(at.Sheet).Checked {
			none = "The marks lie on " + b.s.Plan().SheetName(at.Sheet) + ", which is unchecked. Check that sheet first."
			continue
		}
		here, w, h := c.ToPicture(at.Grid), float64(hand.Width), float64(hand.Height)
		if math.Abs(here.Col-w/2) <= 1.5*w && math.Abs(here.Row-h/2) <= 1.5*h {
			list = append(list, m)
		}
	}
	return list, none
}

// addEvidence keeps the place aimed at as evidence.
func (p *sheetPost) addEvidence() {
	f := p.evidence
	if !p.on {
		p.b.say("Click the feature that you know from elsewhere first.")
		return
	}
	at, source, text := sheetview.PicturePt(p.at), f.source(), p.ref.Text
	if p.chosen >= 0 {
		sheet, _ := p.b.s.Sheet()
		at = sheet.Points[p.chosen].At
	}
	if source == calib.FromSheet {
		if err := f.beside.compare(sheetview.ViewPt(at)); err != nil {
			p.complain(err)
			return
		}
		text = f.beside.mark.Name
	}
	v, err := p.b.s.AddEvidence(source, at, text, p.b.view.PickSigma())
	if err != nil {
		p.complain(err)
		return
	}
	p.b.say(addedWords(v))
	p.forgetAndRefresh()
	p.b.focusSheet()
}

// complain shows why what was asked for was not done, where it was asked for.
func (p *sheetPost) complain(err error) {
	p.check.Show()
	p.check.Set(foot.Sentence(err), widgets.Fault)
	p.b.fail(err)
}

// addedWords say what a sheet is with one more piece of evidence.
func addedWords(v check.Verdict) string {
	switch {
	case v.Checked:
		return "It agrees: the sheet is checked to ± " + units.ErrorM(v.WithinM) + "."
	case caution.Stops(v.Cautions, caution.All):
		return caution.OfGrade(v.Cautions, caution.Stop)[0].Text()
	}
	return "Kept. It agrees, but the sheet is not checked yet: read in the Sheet panel what is missing."
}
