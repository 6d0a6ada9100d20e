package ui

import (
	"slices"

	"fyne.io/fyne/v2"

	"legwright/app/plan"
	"legwright/app/ui/escapepanel"
)

// escape holds what concerns the ground and the escapes from the route.
func (m *menuBar) escape() *fyne.Menu {
	return fyne.NewMenu("Escape", slices.Concat(m.draw(), m.waysOff(), m.escapeLists())...)
}

// draw begins hazards, havens, lines and areas of ground.
func (m *menuBar) draw() []*fyne.MenuItem {
	p := m.b.escapeP
	drawn := func(text string, do func()) *fyne.MenuItem {
		return m.when(m.calibrated, fyne.NewMenuItem(text, m.inEscape(do)))
	}
	return []*fyne.MenuItem{
		m.when(m.calibrated, m.item("Draw hazard area", key(fyne.KeyA, fyne.KeyModifierShift), m.inEscape(func() { p.DrawHazard(true) }))),
		drawn("Draw hazard line", func() { p.DrawHazard(false) }),
		drawn("Set haven point", func() { p.DrawHaven(false) }),
		drawn("Draw haven line", func() { p.DrawHaven(true) }),
		drawn("Draw line to follow", p.DrawLine),
		drawn("Draw area of ground", p.DrawArea),
		m.when(m.calibrated, m.item("Propose steep ground in view…", key(fyne.KeyP, fyne.KeyModifierShift), m.b.frame.relief.ProposeSteep)),
		m.when(m.b.frame.relief.Proposes, m.item("Keep proposed steep ground", key(fyne.KeyH, fyne.KeyModifierShift), m.b.frame.relief.KeepProposed)),
		fyne.NewMenuItem("Set over-steep slope…", m.b.frame.relief.AskOverSteep),
		fyne.NewMenuItemSeparator(),
	}
}

// inEscape does something in the Escape panel.
func (m *menuBar) inEscape(do func()) func() { return func() { m.b.goTo(panelEscape); do() } }

// waysOff are the acts of escapes.
func (m *menuBar) waysOff() []*fyne.MenuItem {
	b := m.b
	goesOff := func() bool { return b.view.Offer().GoesOff() }
	inCloud := func() bool { mark, _ := b.s.Plan().MarkByID(b.selectedID()); return mark.InCloud }
	snow := func(want plan.Snow) func() bool { return func() bool { return b.s.Plan().Snow == want } }
	answer := func(to plan.Snow) func() { return func() { b.foot.Try(b.s.SetSnow(to), "Noted for this outing.") } }
	items := []*fyne.MenuItem{
		m.when(m.aMark, m.tick(inCloud, m.item("Mark is recognisable in cloud", key(fyne.KeyI, fyne.KeyModifierShift), func() { b.escapeP.ToggleInCloud(b.selectedID()) }))),
		m.when(goesOff, fyne.NewMenuItem("Keep as escape  (E)", b.view.Offer().KeepEscape)),
	}
	for _, a := range b.escapeActs() {
		i := fyne.NewMenuItem(a.text, a.do)
		if a.key != nil {
			i = m.item(a.text, a.key, a.do)
		}
		if a.on != nil {
			m.tick(a.on, i)
		}
		items = append(items, m.when(a.can, i))
	}
	return append(items,
		m.tick(b.escapeP.ShowsSlips, m.item("Show where slips lead", key(fyne.KeyD), func() { b.escapeP.ToggleSlips(); b.refreshMenus() })),
		m.tick(snow(plan.SnowLying), fyne.NewMenuItem("Snow is lying", answer(plan.SnowLying))),
		m.tick(snow(plan.NoSnow), fyne.NewMenuItem("No snow is lying", answer(plan.NoSnow))),
		fyne.NewMenuItemSeparator())
}

// escapeLists show the lists of the panel.
func (m *menuBar) escapeLists() []*fyne.MenuItem {
	p := m.b.escapeP
	list := func(text string, s escapepanel.Section) *fyne.MenuItem {
		return fyne.NewMenuItem(text, m.inEscape(func() { p.ShowSection(s) }))
	}
	return []*fyne.MenuItem{
		list("List hazards", escapepanel.Hazards), list("List havens", escapepanel.Havens), list("List lines", escapepanel.Lines), list("List areas of ground", escapepanel.Areas),
		list("Say which marks are recognisable in cloud", escapepanel.Marks), list("List escapes", escapepanel.Escapes),
	}
}

// act is something that can be done with what is selected.
type act struct {
	text string
	key  fyne.KeyboardShortcut // nil for none
	can  func() bool
	on   func() bool // it is ticked; nil for an act that is not
	do   func()
}

// escapeActs are what can be done with the selected escape.
func (b *Bench) escapeActs() []act {
	on := func(f func(plan.ID) error, said string) func() {
		return func() {
			if b.anEscape() {
				b.foot.Try(f(b.selectedID()), said)
			} else {
				b.foot.Say("Select an escape first: click it on the sheet or in the ledger.")
			}
		}
	}
	chosen := func() bool { e, _ := b.s.Plan().EscapeByID(b.selectedID()); return e.Chosen }
	choose := func(id plan.ID) error { return b.s.ChooseEscape(id, !chosen()) }
	return []act{
		{"Choose this escape for its mark", key(fyne.KeyY, fyne.KeyModifierShift), b.anEscape, chosen, on(choose, "Changed. The turn-back time of a mark comes from the escape chosen there.")},
		{"Name escape…", key(fyne.KeyN, fyne.KeyModifierShift), b.anEscape, nil, func() { b.goTo(panelEscape); b.escapeP.NameEscape() }},
		{"Tick escape on the map…", key(fyne.KeyE, fyne.KeyModifierShift), b.anEscape, nil, func() { b.goTo(panelEscape); b.escapeP.TickMap() }},
		{"Reverse escape", key(fyne.KeyR, fyne.KeyModifierShift), b.anEscape, nil, on(b.s.ReverseEscape, "Reversed.")},
		{"Delete last leg of escape", key(fyne.KeyBackspace), b.anEscape, nil, on(b.s.ShortenEscape, "Last leg deleted. Undo restores it.")},
	}
}

func (b *Bench) anEscape() bool { return b.s.Selection().Kind == plan.OfEscape }

func (m *menuBar) aMark() bool { return m.b.s.Selection().Kind == plan.OfMark }

// EscapeActs are what can be done with the selected escape.
func (h ledgerHost) EscapeActs() (items []*fyne.MenuItem) {
	for _, a := range h.b.escapeActs() {
		i := fyne.NewMenuItem(a.text, a.do)
		i.Checked = a.on != nil && a.on()
		items = append(items, i)
	}
	return append(items, fyne.NewMenuItemSeparator(), fyne.NewMenuItem("Delete escape", h.b.removeSelected))
}
