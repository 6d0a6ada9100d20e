package sheetpanel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/aim"
	"legwright/app/ui/look"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// form takes one position on the picture and its reference.
type form struct {
	n     *Needs
	view  *fyne.Container // the enlargement and what it shows
	entry *fyne.Container // the reference and what it means
	acts  *fyne.Container // what can be done with both
	aim   *aim.Aim
	under *widgets.Quiet
	ref   *widgets.EscapeEntry
	check *widgets.Sentence
	keep  *widgets.Tool
	drop  *widgets.Tool

	on     bool       // a position is aimed at
	at     view.PicPt // that position
	chosen int        // the number of the control point that is being changed, −1 for a new one
	of     int        // how many control points there were when it was chosen
	known  string     // the reference of that control point in the plan
}

// formActs are what the form calls.
type formActs struct {
	keep, cancel func()
	first        func() // what Return means
	typed        func() // another reference stands in the field
	moved        func() // another position is aimed at by keys
}

func newForm(n *Needs, do formActs) *form {
	f := &form{n: n, chosen: -1}
	f.aim = aim.New(func(at view.PicPt) {
		f.at = at
		do.moved()
	}, func() { f.accept(do.first) })
	f.aim.OnRune(f.typeReference)
	f.aim.OnEscape(do.cancel)
	f.aim.OnHint(n.Foot.Hint)
	f.under = widgets.NewQuiet("")
	f.under.Alignment = fyne.TextAlignCenter
	f.ref = widgets.NewEscapeEntry(askReference, do.first, do.cancel)
	f.ref.OnChanged = func(string) { do.typed() }
	f.check = widgets.NewSentence("", widgets.Note)
	f.keep = n.tool(look.IconConfirm, "", "", do.keep)
	f.drop = n.tool("", "", "", do.cancel)
	f.view = container.NewVBox(f.aim, f.under)
	f.acts, f.entry = container.NewHBox(), container.NewVBox() // filled with what belongs to checks, too
	return f
}

// aimAt aims at a position that is no control point.
func (f *form) aimAt(at view.PicPt) {
	f.on, f.at, f.chosen, f.known = true, at, -1, ""
	f.ref.SetText("")
}

// choose aims at a control point, to change it.
func (f *form) choose(i int, points []calib.ControlPoint) {
	c := points[i]
	f.on, f.at, f.chosen, f.of, f.known = true, sheetview.ViewPt(c.At), i, len(points), c.Text
	f.ref.SetText(c.Text)
}

// take takes the chosen control point as it now is in the plan. What is being typed
// stays, unless the plan has another reference than before.
func (f *form) take(c calib.ControlPoint) {
	f.at = sheetview.ViewPt(c.At)
	if c.Text != f.known {
		f.known = c.Text
		f.ref.SetText(c.Text)
	}
}

func (f *form) forget() {
	f.on, f.chosen, f.known = false, -1, ""
	f.ref.SetText("")
	f.read("")
}

// lowWindow is the height below which not all of the form shows with a large enlargement, in
// units of the window.
const lowWindow = 620

// What the field asks for.
const (
	askReference = "grid reference, such as NN 123 456"
	askHeight    = "height in metres, such as 250"
)

// show makes the form fit what can be done now.
func (f *form) show(p *pyramid.Pyramid, from calib.EvidenceSource, naming bool) {
	f.aim.Low(f.n.Canvas.Size().Height < lowWindow)
	if f.on && p != nil {
		f.aim.Look(p, f.at)
		if words := f.underWords(); f.under.Text != words {
			f.under.SetText(words)
		}
	} else {
		f.aim.Clear()
	}
	asks := askReference
	if from == calib.FromTerrain {
		asks = askHeight
	}
	if f.ref.PlaceHolder != asks {
		f.ref.SetPlaceHolder(asks)
	}
	other := from == calib.FromSheet // no reference is typed then
	show(f.view, f.on)
	show(f.entry, f.on)
	show(f.ref, !other)
	show(f.keep, f.on && !other)
	show(f.drop, f.on)
	f.label(naming)
}

// label says what the buttons do. The arrow keys have moved a chosen point already.
func (f *form) label(naming bool) {
	keep, hint := "Keep point", "Keep this as a control point  (Return)"
	drop, stays := "Cancel", "Leave the control points unchanged  (Esc)"
	switch {
	case f.chosen >= 0:
		keep, hint = "Change point", "Give this control point the reference that you typed  (Return)"
		drop, stays = "Close", "Stop changing this point; Undo reverses a move  (Esc)"
	case naming:
		keep, hint = "Name intersection", "Check the sheet with this intersection  (Return)"
	}
	f.keep.SetText(keep)
	f.keep.SetHint(hint)
	f.drop.SetText(drop)
	f.drop.SetHint(stays)
}

// underWords say how the enlargement is worked; beside another sheet's picture they say
// whose picture this is.
func (f *form) underWords() string {
	if f.aim.Shared() {
		return "this sheet"
	}
	return "Arrow keys: 0.1 px, with Shift 1, with Alt 10."
}

// accept is the Return key in the enlargement: it goes on to the reference, and does
// the first act where there is none to type.
func (f *form) accept(first func()) {
	if f.ref.Visible() && f.ref.Text == "" {
		f.n.Canvas.Focus(f.ref)
		return
	}
	first()
}

// typeReference lets the reference be typed straight after the click.
func (f *form) typeReference(r rune) {
	if !f.ref.Visible() {
		return
	}
	f.n.Canvas.Focus(f.ref)
	if f.chosen >= 0 { // the new reference replaces the old one
		f.ref.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
	f.ref.TypedRune(r)
}

// read reads the reference in the field and says under it what it means where it comes
// from that source, "" for a control point.
func (f *form) read(from calib.EvidenceSource) (session.Reference, bool) {
	text := f.ref.Text
	show(f.check, f.on)
	switch {
	case !f.on:
		f.check.Set("", widgets.Note)
		return session.Reference{}, false
	case text == "": // its lines are revealed with the form, and the field stays while it is typed into
		f.check.Set("This line says what your entry means, or what is wrong with it.", widgets.Note)
		return session.Reference{}, false
	}
	if from == calib.FromTerrain {
		m, err := plan.ReadHeight(text)
		if err != nil {
			f.check.Set(sentence(err), widgets.Caution)
			return session.Reference{}, false
		}
		f.check.Set(fmt.Sprintf("Contour: %g m. A check needs six heights or more, far apart, on sloping ground.", m), widgets.Note)
		return session.Reference{}, true
	}
	r, err := f.n.Session.CheckReference(text)
	if err == nil {
		err = f.unfit(from)
	}
	if err != nil {
		f.check.Set(sentence(err), widgets.Caution)
		return r, false
	}
	feature := from != "" && !plan.AtIntersection(from, r.Read)
	words, tone := referenceWords(f.n.Session, r, feature)
	f.check.Set(words+f.asCheck(from, r), tone)
	return r, true
}

// asCheck says what the reference in the field needs before it can check the sheet, while
// nothing says yet that it is meant to.
func (f *form) asCheck(from calib.EvidenceSource, r session.Reference) string {
	if from != "" || f.chosen >= 0 {
		return ""
	}
	if _, err := f.n.Session.Calibration(); err != nil || f.unfit(calib.FromList) == nil {
		return ""
	}
	if r.LettersInferred {
		return " For a check, type its letters."
	}
	return " For a check, type E and N before its numbers."
}

// unfit says why the reference in the field cannot check the sheet, or nil: a check reads
// it without help from the sheet.
func (f *form) unfit(from calib.EvidenceSource) error {
	if from == "" || from == calib.FromSheet {
		return nil
	}
	return f.n.Session.CheckEvidence(from, f.ref.Text)
}

// refused reports whether the reference in the field cannot be used as it stands: it
// cannot be read, or an act refused it.
func (f *form) refused(from calib.EvidenceSource) bool {
	if f.ref.Text == "" {
		return false
	}
	err := f.unfit(from)
	if err == nil && from != calib.FromTerrain {
		_, err = f.n.Session.CheckReference(f.ref.Text)
	}
	return err != nil || f.check.Visible() && f.check.Tone() == widgets.Fault
}

// complain shows where something was asked for why it was not done.
func (f *form) complain(err error) {
	f.check.Show()
	f.check.Set(sentence(err), widgets.Fault)
	f.n.Foot.Fail(err)
}
