package routepanel

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/widgets"
)

// selected shows the thing that is selected, with what speaks against it and its
// texts, and below it the form of a leg by bearing and distance.
type selected struct {
	n      *Needs
	card   *card
	scroll *widgets.NestedScroll
	form   *typedLeg
	body   fyne.CanvasObject

	name, ref, note  *widgets.EditField
	tickOff, catches *widgets.EditField
	ground           *groundField
	letters          *widgets.Sentence // which sheet the letters of a mark's reference came from

	concealed bool
}

func newSelected(n *Needs, find func(plan.ID), canSee func(), form *typedLeg) *selected {
	x := &selected{n: n, form: form, card: newCard(n, find, canSee), letters: widgets.NewSentence("", widgets.Note)}
	x.name = x.field("name", n.Session.Rename)
	x.ref = x.field("grid reference", n.Session.SetMarkReference)
	x.note = x.field("note", x.setNote)
	x.tickOff = x.field("tick-off feature", x.setLegText(session.FieldTickOff))
	x.ground = newGroundField(n)
	x.catches = x.field("catching feature", x.setLegText(session.FieldCatching))
	x.scroll = inset(n, container.NewVBox(x.card.box, form.body))
	x.body = x.scroll
	form.added = x.holdForm
	form.stands = func() float32 { return form.body.Position().Y - x.scroll.Offset.Y }
	return x
}

// inset lets a section scroll, with some room at its edge.
func inset(n *Needs, o fyne.CanvasObject) *widgets.NestedScroll {
	return widgets.NewNestedScroll(container.New(&widgets.Pad{Right: 12, Bottom: 12}, o), n.Outer)
}

// field is a field for one text of the selected thing.
func (x *selected) field(what string, set func(id plan.ID, text string) error) *widgets.EditField {
	var f *widgets.EditField
	f = widgets.NewEditField(what, func(text string) bool {
		id := plan.ID(f.Of())
		if !x.n.Foot.Try(set(id, text), "Changed.") {
			return false
		}
		if note := x.n.Session.LettersNote(id); note != "" && what == "grid reference" {
			x.n.Foot.Say("Changed. " + note)
		}
		return true
	}, x.n.View.Focus)
	x.card.label(x.n, strings.TrimSuffix(strings.TrimPrefix(what, "grid "), " feature"), f)
	return f
}

func (x *selected) setNote(id plan.ID, text string) error {
	if x.n.Session.Selection().Kind == plan.OfMark {
		return x.n.Session.SetMarkNote(id, text)
	}
	return x.n.Session.SetLegField(id, session.FieldNote, text)
}

func (x *selected) setLegText(f session.Field) func(plan.ID, string) error {
	return func(id plan.ID, text string) error { return x.n.Session.SetLegField(id, f, text) }
}

// fill shows what is selected.
func (x *selected) fill() {
	sel, p := x.n.Session.Selection(), x.n.Session.Plan()
	id := string(sel.ID)
	x.card.clear()
	x.addOffered()
	switch sel.Kind {
	case plan.OfMark:
		m, _ := p.MarkByID(sel.ID)
		x.name.ShowText(id, m.Name)
		x.ref.ShowText(id, x.typedReference(m.Position))
		x.note.ShowText(id, m.Note)
		if x.concealed {
			x.add("Mark", x.name, x.note)
			break
		}
		x.add("Mark", x.name, x.ref, x.lettersOf(sel.ID, m.Position), x.note)
	case plan.OfLeg:
		l, _ := p.LegByID(sel.ID)
		x.name.ShowText(id, l.Name)
		x.tickOff.ShowText(id, l.TickOff)
		x.catches.ShowText(id, l.Catching)
		x.note.ShowText(id, l.Note)
		x.add(fmt.Sprintf("Leg %d", p.LegIndex(sel.ID)+1), x.name, x.tickOff, x.catches, x.ground.show(l), x.ground.byAreas(l, x.concealed), x.note)
	case plan.OfSight:
		s, _ := p.SightByID(sel.ID)
		x.name.ShowText(id, s.Name)
		x.note.ShowText(id, s.Note)
		x.add("Sight", x.name, x.note)
	case plan.OfTrack:
		t, _ := p.TrackByID(sel.ID)
		x.name.ShowText(id, t.Name)
		x.add("Track", x.name, widgets.NewWrappedQuiet(trackNote(t)), container.NewHBox(hideButton(x.n, t), useButton(x.n, t)))
	case plan.OfHazard, plan.OfHaven, plan.OfLine, plan.OfArea, plan.OfEscape:
		t, _ := p.ThingByID(sel.ID)
		x.name.ShowText(id, t.Name)
		x.add(p.TitleOf(sel.ID), x.name, widgets.NewWrappedQuiet("For more, go to the Escape panel  (Ctrl+3)."))
	default:
		for _, f := range []*widgets.EditField{x.name, x.ref, x.note, x.tickOff, x.catches} {
			f.ShowText("", "")
		}
		x.card.put(widgets.NewWrappedQuiet("Nothing is selected. Click a leg, a sight or a mark, or choose from a list."))
	}
	x.form.showStart()
	x.scroll.Arrange()
}

// add shows a thing with what speaks against it, its fields, and what can be done.
func (x *selected) add(title string, fields ...fyne.CanvasObject) {
	x.card.title.SetTitle(title)
	x.card.put(x.card.title)
	if !x.concealed {
		x.addCautions(x.cautions())
	}
	for _, f := range fields {
		x.card.put(f)
	}
	x.card.end(x.n.Session.Selection().Kind == plan.OfMark && x.n.Session.Reader().Model() != nil)
}

// button is a button of words whose hint stands in the foot line.
func button(n *Needs, icon fyne.ThemeIconName, text, hint string, do func()) *widgets.Tool {
	t := widgets.NewTextTool(icon, text, hint, do)
	t.OnHint = n.Foot.Hint
	return t
}

// typedReference is what stands in the field of a mark's reference: what was typed
// where its letters came from a sheet, and else the whole reference.
func (x *selected) typedReference(pos plan.Position) string {
	if pos.LettersFrom != "" && pos.SquareM > 0 {
		return pos.Text
	}
	if pos.Origin == plan.Typed && pos.SquareM > 0 {
		ref, _ := x.n.Session.Reader().Reference(pos)
		return ref
	}
	ref, _ := x.n.Session.ReferenceOf(pos, 10)
	return ref
}

// lettersOf says how a reference without its letters was read and which sheet supplied
// them; nil if they were typed.
func (x *selected) lettersOf(id plan.ID, pos plan.Position) fyne.CanvasObject {
	note := x.n.Session.LettersNote(id)
	if note == "" {
		return nil
	}
	x.letters.Set(readAs(x.n, pos)+" "+note, widgets.Note)
	return x.letters
}

// readAs writes a position with its letters, and no digit that was not typed.
func readAs(n *Needs, pos plan.Position) string {
	ref, err := n.Session.Reader().Reference(pos)
	if err != nil {
		return "This position is off the grid."
	}
	return "The full reference is " + ref + "."
}

// cautions speak against the selected thing.
func (x *selected) cautions() []caution.Caution {
	sel, r := x.n.Session.Selection(), x.n.Session.Reader()
	switch sel.Kind {
	case plan.OfMark:
		m, _ := x.n.Session.Plan().MarkByID(sel.ID)
		return r.CautionsOf(m.Position)
	case plan.OfLeg:
		return cautionsOf(r.Legs(), sel.ID)
	}
	return cautionsOf(r.Sights(), sel.ID)
}

func cautionsOf(rows []leg.Row, id plan.ID) []caution.Caution {
	for _, r := range rows {
		if r.ID == id {
			list := slices.Concat(caution.OfLeg(r.Reading.Cautions), r.HeightCautions, r.TimeCautions)
			return slices.DeleteFunc(list, func(c caution.Caution) bool { return c.Code == caution.BlindTerrain }) // said once, with the profile
		}
	}
	return nil
}

// addOffered writes what speaks against the line that was just dragged.
func (x *selected) addOffered() {
	offer := x.n.View.Offer()
	if !offer.On() || x.concealed {
		return
	}
	if list := caution.OfLeg(offer.Reading().Cautions); len(list) > 0 {
		x.card.put(widgets.NewHeading("Line just dragged"))
		x.addCautions(list)
	}
}

// addCautions writes each caution in full, the gravest first: the dial has room for a
// few words of each.
func (x *selected) addCautions(list []caution.Caution) {
	for _, c := range caution.GravestFirst(list) {
		tone := widgets.Caution
		if c.Stop() {
			tone = widgets.Fault
		}
		x.card.say(c.Text(), tone)
	}
}

// holdForm scrolls so that the form of a typed leg stands as far below the upper edge
// as before, or as near to that as there is room: the leg that was just added is
// selected, and its fields come above the form.
func (x *selected) holdForm(stood float32) {
	x.scroll.Content.Refresh() // the form's position is that of before otherwise
	x.scroll.Refresh()
	most := max(x.scroll.Content.MinSize().Height-x.scroll.Size().Height, 0)
	x.scroll.ScrollToOffset(fyne.NewPos(0, min(max(x.form.body.Position().Y-stood, 0), most)))
}
