package escapepanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/look"
	"legwright/app/ui/thinglist"
	"legwright/app/ui/widgets"
	"legwright/canvas/tool"
)

// marks is the section in which the leader says which marks would be recognised in cloud.
type marks struct {
	p       *Panel
	whole   fyne.CanvasObject
	form    *fyne.Container
	inCloud *widgets.Check
	list    *thinglist.List
	filling bool
}

func newMarks(p *Panel) *marks {
	n := p.n
	x := &marks{p: p, list: thinglist.New(n.Session, n.Foot, "No marks yet. Double-click the sheet, or the end of a leg.")}
	x.inCloud = widgets.NewCheck("recognisable in cloud", func(on bool) {
		if !x.filling {
			n.Foot.Try(n.Session.SetInCloud(n.Session.Selection().ID, on), "Changed.")
		}
	}, n.View.Focus, n.View.Focus)
	find := button(n, look.IconSearch, "Find", "Show the mark on the sheet  (Ctrl+F)", func() { n.Host.Find(n.Session.Selection().ID) })
	x.form = container.New(&widgets.Pad{Right: 12, Bottom: 4}, container.NewHBox(x.inCloud, find))
	x.whole = container.NewBorder(x.form, nil, nil, nil, x.list.Body())
	return x
}

func (x *marks) title() string { return "Marks" }

func (x *marks) body() fyne.CanvasObject { return x.whole }

func (x *marks) shows() session.Aspect { return session.MarksChanged | session.SelectionChanged }

func (x *marks) next() string {
	if m, ok := x.p.n.Session.Plan().MarkByID(x.p.n.Session.Selection().ID); ok && m.InCloud {
		return "Drag from the mark and press E to keep the reading as an escape."
	}
	return "Choose each mark that the party would recognise in cloud, and tick it. An escape can only begin at such a mark."
}

func (x *marks) fill() {
	p := x.p.n.Session.Plan()
	m, ok := p.MarkByID(x.p.n.Session.Selection().ID)
	visible(x.form, ok)
	x.filling = true
	x.inCloud.SetChecked(m.InCloud)
	x.filling = false
	var all []thinglist.Thing
	for _, m := range p.Marks {
		all = append(all, thinglist.Thing{ID: m.ID, Name: m.Name, Note: func() string { return markNote(m) }})
	}
	x.list.Set(all)
	x.whole.Refresh()
}

// ToggleInCloud says of a mark whether it is recognisable in cloud.
func (p *Panel) ToggleInCloud(id plan.ID) {
	s := p.n.Session
	switch m, ok := s.Plan().MarkByID(id); {
	case !ok:
		p.n.Foot.Say("Select a mark first: click it on the sheet.")
	case m.InCloud:
		p.n.Foot.Try(s.SetInCloud(id, false), m.Name+" is not recognisable in cloud.")
	default:
		p.n.Foot.Try(s.SetInCloud(id, true), m.Name+" is recognisable in cloud. Drag from it and press E to keep an escape.")
	}
}

// markEntries are those of a mark in the menu of a right click.
func (p *Panel) markEntries(at tool.Spot) []*fyne.MenuItem {
	m, ok := p.n.Session.Plan().MarkByID(at.Target.ID)
	if !ok {
		return nil
	}
	in := fyne.NewMenuItem("Mark is recognisable in cloud", func() { p.ToggleInCloud(m.ID) })
	in.Checked = m.InCloud
	return []*fyne.MenuItem{in}
}

// markNote says whether a mark is recognisable in cloud.
func markNote(m plan.Mark) string {
	if m.InCloud {
		return "recognisable in cloud"
	}
	return "not recognisable in cloud"
}
