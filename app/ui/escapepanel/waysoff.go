package escapepanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/look"
	"legwright/app/ui/thinglist"
	"legwright/app/ui/widgets"
)

// waysOff is the section of the escapes: what is asked once an outing, the
// fields and figures of the selected one, or of the selected mark, and the list of all.
type waysOff struct {
	p       *Panel
	whole   fyne.CanvasObject
	outing  *outing
	form    *fyne.Container
	name    *widgets.EditField
	chosen  *widgets.Check
	counts  *counts
	said    *fyne.Container
	tick    *ticker
	list    *thinglist.List
	filling bool
	hidden  bool // figures are hidden
}

func newWaysOff(p *Panel) *waysOff {
	n, s := p.n, p.n.Session
	x := &waysOff{p: p, outing: newOuting(n), counts: newCounts(n), said: container.NewVBox(), tick: newTicker(p)}
	x.list = thinglist.New(s, n.Foot, "No escapes yet. Drag from a mark that is recognisable in cloud, and keep the reading as an escape.")
	x.name = widgets.NewEditField("name", func(text string) bool { return n.Foot.Try(s.Rename(x.id(), text), "Changed.") }, n.View.Focus)
	x.chosen = widgets.NewCheck("use this escape for its mark", func(on bool) {
		if !x.filling {
			n.Foot.Try(s.ChooseEscape(x.id(), on), "Changed. The turn-back time of a mark comes from the escape chosen there.")
		}
	}, n.View.Focus, n.View.Focus)
	acts := container.NewHBox(
		button(n, "", "Tick on the map…", "Look along each leg on the map, and tick what you have looked at  (Ctrl+Shift+E)", p.TickMap),
		button(n, look.IconSearch, "Find", "Show the escape on the sheet  (Ctrl+F)", func() { n.Host.Find(x.id()) }),
		button(n, look.IconDelete, "Delete", "Delete the escape  (Delete)", func() { n.Foot.Try(s.Remove(x.id()), "Escape deleted. Undo restores it.") }))
	x.form = container.NewVBox(widgets.NewLabelled("name", n.wheeled(x.name)), x.chosen, x.counts.body, acts)
	head := container.New(&widgets.Pad{Right: 12, Bottom: 4}, container.NewVBox(x.tick.body, x.form, x.said, x.outing.body))
	x.whole = container.NewBorder(head, nil, nil, nil, x.list.Body())
	return x
}

func (x *waysOff) title() string { return "Escapes" }

func (x *waysOff) body() fyne.CanvasObject { return x.whole }

func (x *waysOff) shows() session.Aspect { return session.AnyEscape | session.SelectionChanged }

// id is that of the selected thing.
func (x *waysOff) id() plan.ID { return x.p.n.Session.Selection().ID }

func (x *waysOff) next() string {
	p := x.p.n.Session.Plan()
	from, on := x.goesOn()
	switch {
	case x.tick.on:
		return x.tick.next()
	case on && from.Mark == "" || x.p.n.Session.Selection().Kind == plan.OfEscape:
		return "Drag on from the end of the escape, or click a drawn line to follow it to where you click. End the escape at a haven."
	case on:
		return "Drag from the mark, or click a drawn line that begins there. Press E to keep the reading as an escape."
	case len(p.Escapes) == 0:
		return "Right-click a mark and choose “Mark is recognisable in cloud”. Then drag from it and press E."
	}
	return "Choose an escape, or a mark where a new one begins."
}

func (x *waysOff) fill() {
	s := x.p.n.Session
	j, p, id := s.Escapes(), s.Plan(), x.id()
	own, ok := p.EscapeByID(id)
	visible(x.form, ok)
	x.filling = true
	x.chosen.SetChecked(own.Chosen)
	x.filling = false
	x.name.ShowText(string(own.ID), own.Name)
	e, _ := j.ByID(id)
	x.counts.fill(own, e, x.hidden)
	x.tick.follow(j)
	x.outing.fill(p, j)
	x.said.RemoveAll()
	for _, w := range x.words(j, p, id) {
		x.said.Add(widgets.NewSentence(w.text, w.tone))
	}
	x.list.Set(x.things(j))
	x.whole.Refresh()
}

// words are what there is to say of the selected escape or mark.
func (x *waysOff) words(j escape.Judged, p *plan.Plan, id plan.ID) []word {
	if x.hidden {
		return []word{{"The figures are hidden.", widgets.Note}}
	}
	if e, ok := j.ByID(id); ok {
		return wordsOf(e, j, p)
	}
	for _, st := range j.Stages {
		if st.Mark == id && id != "" && j.Waits {
			return cautionWords([]caution.Caution{caution.Of(caution.EscapeNotJudged)})
		}
		if st.Mark == id && id != "" {
			return append(stageWords(st, j), cautionWords(st.Cautions)...)
		}
	}
	return nil
}

// things are the rows of the list.
func (x *waysOff) things(j escape.Judged) (all []thinglist.Thing) {
	for _, e := range j.Escapes {
		t := thinglist.Thing{ID: e.ID, Name: e.Name + "  " + e.From + " to " + e.To, Note: func() string { return noteOf(e, x.hidden) }}
		if !x.hidden {
			t.Cautions = func() []caution.Caution { return e.Cautions }
		}
		all = append(all, t)
	}
	return all
}
