package ui

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/app/ui/part"
)

// origins are where a typed reference may come from, as the form offers them.
func origins() []struct {
	source calib.EvidenceSource
	label  string
} {
	return []struct {
		source calib.EvidenceSource
		label  string
	}{
		{calib.FromMargin, "the map's margin"},
		{calib.FromList, "a published list"},
		{calib.FromReceiver, "a GPS receiver"},
		{calib.FromOwnGrid, "this map's own grid"},
	}
}

func originLabels() []string {
	var out []string
	for _, o := range origins() {
		out = append(out, o.label)
	}
	return out
}

// evidenceForm asks where the reference comes from that a sheet is checked by, and
// lists what it is checked by.
type evidenceForm struct {
	p      *sheetPost
	origin *widget.Select
	row    *fyne.Container // the question
	use    *part.Tool
	state  *part.Sentence
	advice *part.Sentence
	list   *fyne.Container
}

func newEvidenceForm(p *sheetPost) *evidenceForm {
	f := &evidenceForm{p: p, origin: widget.NewSelect(originLabels(), nil)}
	f.origin.PlaceHolder = "Choose"
	f.use = part.NewTextTool("", "Use as check", "Compare the calibration with this feature, which it was not made from", p.addEvidence)
	f.use.OnHint = p.b.hintTo
	f.row = container.NewBorder(nil, nil, widget.NewLabel("Reference from"), nil, f.origin)
	f.state, f.advice = part.NewSentence("", part.Note), part.NewSentence("", part.Note)
	f.list = container.NewVBox()
	return f
}

// source is where the reference comes from: chosen, or by what was typed. Latitude and
// longitude are most often a margin's; a mark's name is of the sheet it was picked on.
func (f *evidenceForm) source() calib.EvidenceSource {
	text := f.p.ref.Text
	if i := slices.Index(originLabels(), f.origin.Selected); i >= 0 {
		return origins()[i].source
	}
	ref, err := f.p.b.s.CheckReference(text)
	switch {
	case err == nil && ref.Read.Kind == geodesy.RefLatLon:
		return calib.FromMargin
	case err != nil:
		if _, ok := f.p.b.otherMark(text); ok {
			return calib.FromSheet
		}
	}
	return ""
}

// addEvidence keeps the place aimed at as evidence.
func (p *sheetPost) addEvidence() {
	if !p.on {
		return
	}
	at := picturePt(p.at)
	if p.chosen >= 0 {
		sheet, _ := p.b.s.Sheet()
		at = sheet.Points[p.chosen].At
	}
	v, err := p.b.s.AddEvidence(p.evidence.source(), at, p.ref.Text, p.b.pickSigma())
	if err != nil {
		p.check.Show()
		p.check.Set(sentence(err), part.Fault)
		p.b.fail(err)
		return
	}
	p.b.say(addedWords(v))
	p.forgetAndRefresh()
	p.b.focusSheet()
}

func addedWords(v check.Verdict) string {
	stops := caution.OfGrade(v.Cautions, caution.Stop)
	switch {
	case v.Checked:
		return "It agrees: the sheet is checked to ± " + errorFigure(v.WithinM) + "."
	case len(stops) > 0:
		return stops[0].Text()
	}
	return "Kept. The sheet is not checked yet: " + v.Advice
}

// show shows what checks the sheet, or what would.
func (f *evidenceForm) show(sheet plan.Sheet, c *calib.Calibration, err error) {
	visible(f.row, f.p.on && c != nil && err == nil)
	visible(f.use, f.p.on && c != nil && err == nil)
	f.showList(sheet)
	if c == nil || err != nil {
		f.state.Hide()
		f.advice.Hide()
		return
	}
	v := f.p.b.s.Verdict()
	text, tone := verdictWords(v)
	f.state.Show()
	f.state.Set(text, tone)
	f.advice.Set(adviceWords(v), part.Note)
	visible(f.advice, adviceWords(v) != "")
}

// verdictWords say in a sentence whether a sheet is checked.
func verdictWords(v check.Verdict) (string, part.Tone) {
	if v.Checked {
		return fmt.Sprintf("Checked to ± %s by %s.", errorFigure(v.WithinM), v.By), part.Good
	}
	if stops := caution.OfGrade(v.Cautions, caution.Stop); len(stops) > 0 {
		return stops[0].Text(), part.Fault
	}
	return "Sheet unchecked.", part.Caution
}

// adviceWords say what else there is to know of a verdict and what to do.
func adviceWords(v check.Verdict) string {
	var out []string
	for _, c := range v.Cautions {
		if !c.Stop() && c.Code != caution.Unchecked {
			out = append(out, c.Text())
		}
	}
	if v.Advice != "" {
		out = append(out, v.Advice)
	}
	return strings.Join(out, " ")
}

// verdictNote says it in a word or two.
func verdictNote(v check.Verdict) string {
	switch {
	case v.Checked:
		return "checked"
	case caution.Stops(v.Cautions, caution.All):
		return caution.Shorts(v.Cautions)[0]
	}
	return "unchecked"
}

// showList lists the evidence, each piece with a button that removes it; found lines
// are one entry.
func (f *evidenceForm) showList(sheet plan.Sheet) {
	f.list.RemoveAll()
	lines := 0
	for i, e := range sheet.Evidence {
		if e.SquareM > 0 {
			lines++
			continue
		}
		f.add(originWord(e)+": "+e.Text, func() {
			f.p.b.try(f.p.b.s.RemoveEvidence(i), "Evidence removed. Undo brings it back.")
		})
	}
	if lines > 0 {
		f.add(fmt.Sprintf("printed grid: %d intersections", lines), func() {
			f.p.b.try(f.p.b.s.RemoveFoundLines(), "The printed lines are removed. Undo brings them back.")
		})
	}
}

func (f *evidenceForm) add(text string, remove func()) {
	tool := part.NewTool(look.IconDelete, "Remove this evidence", remove)
	tool.OnHint = f.p.b.hintTo
	label := widget.NewLabel(text)
	label.Truncation = fyne.TextTruncateEllipsis
	f.list.Add(container.NewBorder(nil, nil, nil, tool, label))
}

func originWord(e calib.Evidence) string {
	return map[calib.EvidenceSource]string{
		calib.FromMargin: "margin", calib.FromList: "list", calib.FromReceiver: "receiver", calib.FromSheet: "other sheet",
		calib.FromFile: "file", calib.FromTerrain: "terrain", calib.FromOwnGrid: "own grid",
	}[e.Source]
}

// otherMark returns the mark of a name that was picked on another sheet of the
// plan: where two sheets overlap, such a mark of a checked one checks this one.
func (b *Bench) otherMark(name string) (plan.Mark, bool) {
	m, ok := b.s.Plan().MarkByName(name)
	hand, _ := b.s.Sheet()
	if _, there := b.s.Plan().SheetByID(m.Position.Sheet); !there || m.Position.Origin != plan.Picked {
		return m, false
	}
	return m, ok && m.Position.Sheet != hand.ID
}

// markWords says what a mark's name means where a reference is typed, for a
// text that is none.
func (b *Bench) markWords(text string) (words string, ok bool) {
	m, ok := b.otherMark(text)
	if !ok {
		return "", false
	}
	name := b.s.Plan().SheetName(m.Position.Sheet)
	if !b.s.Reader().Verdict(m.Position.Sheet).Checked {
		return fmt.Sprintf("The mark %s is on %s, which is unchecked: check that sheet first.", m.Name, name), true
	}
	return fmt.Sprintf("The mark %s is on %s, which is checked: use it as check where this sheet shows the same feature  (Return).", m.Name, name), true
}

// checkHint says how the sheet in hand can be checked, the cheapest way first.
func (b *Bench) checkHint() string {
	if advice := b.s.Verdict().Advice; advice != "" && len(b.sheetNow().Evidence) > 0 {
		return advice
	}
	hint := "Now check the sheet: where the margin prints latitude and longitude, as at a corner, click that corner, type them, such as 56°10'N 6°20'W, and use them as check. " +
		"Or click a feature whose reference you know from elsewhere."
	for _, m := range b.s.Plan().Marks {
		if _, ok := b.otherMark(m.Name); ok && b.s.Reader().Verdict(m.Position.Sheet).Checked {
			return hint + " Or click the feature of a mark of " + b.s.Plan().SheetName(m.Position.Sheet) + ", where the two overlap, and type the mark's name."
		}
	}
	return hint
}
