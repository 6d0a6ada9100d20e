package sheetpanel

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
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
		{calib.FromTerrain, "a contour and the terrain", "Contour"},
		{calib.FromOwnGrid, "this map's own grid", "Own grid"},
	}
}

func originOf(source calib.EvidenceSource) origin {
	for _, o := range origins() {
		if o.source == source {
			return o
		}
	}
	return origin{source: source, short: "Feature"}
}

// evidenceForm asks where the reference of the feature aimed at comes from, so that
// the sheet can be checked by it. A feature on another sheet has no reference to
// type: its mark is chosen, and both pictures stand side by side.
type evidenceForm struct {
	n       *Needs
	form    *form
	origin  *widgets.Select
	mark    *widgets.Select
	row     *fyne.Container // where from
	markRow *fyne.Container // which mark
	use     *widgets.Tool
	marks   []plan.Mark // in the order of mark's options
	none    string      // why there are no marks
	beside  *beside
	changed func()
}

// evidenceActs are what the form calls.
type evidenceActs struct {
	use     func()
	changed func() // another choice was made
	first   func() // what Return means
	cancel  func()
}

func newEvidenceForm(n *Needs, form *form, do evidenceActs) *evidenceForm {
	f := &evidenceForm{n: n, form: form, beside: newBeside(n), changed: do.changed}
	f.origin = widgets.NewSelect(nil, func(string) { f.chosen() }, do.first, do.cancel)
	f.origin.PlaceHolder = "choose, to check the sheet"
	f.mark = widgets.NewSelect(nil, func(string) { f.chosen() }, do.first, do.cancel)
	f.mark.PlaceHolder = "choose a mark"
	f.use = n.tool("", "Use as check", "Check the calibration against this feature (not one of the control points)  (Ctrl+Return)", do.use)
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

// guess chooses the margin for latitude and longitude on a sheet that was calibrated
// by grid references: they most often come from there.
func (f *evidenceForm) guess(latLon bool, sheet plan.Sheet) {
	if latLon && f.origin.Selected == "" && f.row.Visible() && !f.byLatLon(sheet) {
		f.origin.SetSelected(originOf(calib.FromMargin).label)
	}
}

// byLatLon reports whether latitude and longitude calibrated the sheet: a corner's would
// be read from the same printed lines.
func (f *evidenceForm) byLatLon(sheet plan.Sheet) bool {
	return slices.ContainsFunc(sheet.Points, func(c calib.ControlPoint) bool {
		r, err := f.n.Session.CheckReference(c.Text)
		return err == nil && r.Read.Kind == geodesy.RefLatLon
	})
}

// chosen follows a choice: the other sheet's picture comes and goes.
func (f *evidenceForm) chosen() {
	i := f.mark.SelectedIndex()
	switch {
	case f.source() != calib.FromSheet || i < 0 || i >= len(f.marks):
		f.beside.clear()
	case f.beside.mark.ID != f.marks[i].ID:
		f.beside.take(f.marks[i], f.changed)
	}
	f.changed()
}

// forget forgets what was chosen.
func (f *evidenceForm) forget() {
	f.beside.clear()
	f.origin.Selected, f.mark.Selected = "", ""
	f.origin.Refresh()
	f.mark.Refresh()
}

// show shows the form while a position is aimed at on a calibrated sheet.
func (f *evidenceForm) show(calibrated bool) {
	on := f.form.on && calibrated
	show(f.row, on)
	show(f.use, on)
	if on {
		f.offerOrigins()
	}
	other := on && f.source() == calib.FromSheet
	show(f.markRow, other)
	if other {
		f.offerMarks()
	}
	f.beside.show(other && f.beside.mark.ID != "", f.form.at)
	f.form.aim.Share(other && f.beside.mark.ID != "")
}

// offerOrigins offers where a reference may come from; another sheet only where there is one.
func (f *evidenceForm) offerOrigins() {
	var labels []string
	for _, o := range origins() {
		p := f.n.Session.Plan()
		if (o.source != calib.FromSheet || len(p.Sheets) > 1) && (o.source != calib.FromTerrain || len(p.Terrain) > 0) {
			labels = append(labels, o.label)
		}
	}
	if !slices.Equal(labels, f.origin.Options) {
		f.origin.SetOptions(labels)
	}
}

// longestOption is how many letters of a mark's and of a sheet's name the list of marks
// has room for.
const longestOption = 18

// offerMarks offers the marks of checked sheets that lie near the sheet in hand.
func (f *evidenceForm) offerMarks() {
	f.marks, f.none = f.comparable()
	var names []string
	for i, m := range f.marks {
		name := fmt.Sprintf("%s  (%s)", widgets.CutMiddle(m.Name, longestOption), widgets.CutMiddle(f.n.Session.Plan().SheetName(m.Position.Sheet), longestOption))
		if slices.Contains(names, name) { // two long names cut to the same
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

// hint says what to do with another sheet's picture.
func (f *evidenceForm) hint() string {
	switch {
	case len(f.marks) == 0:
		return f.none
	case f.beside.mark.ID == "":
		return "Choose a mark on a feature that this sheet shows too. The other sheet's picture then appears next to this one."
	case f.beside.why != "":
		return f.beside.why
	}
	return "Click this sheet, or use the arrow keys, until both pictures show the same feature under the hairlines. Then choose Use as check."
}

// comparable lists the marks that were picked on other, checked sheets and lie on the
// sheet in hand or near it: an unchecked sheet may be out by more than it is wide, so
// near is as far again. none says why there is none.
func (f *evidenceForm) comparable() (list []plan.Mark, none string) {
	s := f.n.Session
	hand := sheetOf(s)
	c, err := s.Calibration()
	none = "There is no mark to compare. On another sheet, mark a feature that this sheet shows too."
	for _, m := range s.Plan().Marks {
		at := m.Position
		if _, there := s.Plan().SheetByID(at.Sheet); !there || at.Origin != plan.Picked || at.Sheet == hand.ID || err != nil {
			continue
		}
		if !s.Reader().Verdict(at.Sheet).Checked {
			none = "There are marks on " + s.Plan().SheetName(at.Sheet) + ", but it is unchecked. Check that sheet first."
			continue
		}
		here, w, h := c.ToPicture(at.Grid), float64(hand.Width), float64(hand.Height)
		if math.Abs(here.Col-w/2) <= 1.5*w && math.Abs(here.Row-h/2) <= 1.5*h {
			list = append(list, m)
		}
	}
	return list, none
}

// add keeps the feature aimed at as evidence and returns what the sheet is with it.
// The error says why it cannot be used.
func (f *evidenceForm) add(sheet plan.Sheet) (check.Verdict, error) {
	at, source, text := sheetview.PicturePt(f.form.at), f.source(), f.form.ref.Text
	if i := f.form.chosen; i >= 0 {
		at = sheet.Points[i].At
	}
	if source == calib.FromSheet {
		if err := f.beside.compare(sheetview.ViewPt(at)); err != nil {
			return check.Verdict{}, err
		}
		text = f.beside.mark.Name
	}
	return f.n.Session.AddEvidence(source, at, text, f.n.Map.PickSigma())
}
