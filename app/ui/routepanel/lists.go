package routepanel

import (
	"fyne.io/fyne/v2/container"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/app/ui/thinglist"
)

// listed is a list of one kind of things.
type listed struct {
	*thinglist.List
	fill func()
}

func (p *Panel) newMarks() listed {
	set := button(p.n, look.IconMark, "Set mark at a reference…", "Set a mark at a typed reference  (Ctrl+M)", p.AskMark)
	l := thinglist.New(p.n.Session, p.n.Foot, "No marks yet. Double-click the sheet to set one.", container.NewHBox(set))
	return listed{l, func() {
		r := p.n.Session.Reader()
		var all []thinglist.Thing
		for _, m := range p.n.Session.Plan().Marks {
			all = append(all, p.unlessConcealed(thinglist.Thing{ID: m.ID, Name: m.Name, Note: func() string { return reference(r, m.Position) }, Cautions: func() []caution.Caution { return r.CautionsOf(m.Position) }}))
		}
		l.Set(all)
	}}
}

// reference writes a position with no digit that is not known.
func reference(r *leg.Reader, pos plan.Position) string {
	ref, err := r.Reference(pos)
	if err != nil {
		return "off the grid"
	}
	return ref
}

func (p *Panel) newSights() listed {
	l := thinglist.New(p.n.Session, p.n.Foot, "No sights yet. Drag a bearing and press S.")
	return listed{l, func() {
		compass := p.n.Session.Plan().Party.Compass
		var all []thinglist.Thing
		for _, r := range p.n.Session.Reader().Sights() {
			all = append(all, p.unlessConcealed(thinglist.Thing{ID: r.ID, Name: r.From + " – " + r.To, Note: func() string {
				if r.Err != nil {
					return "no reading"
				}
				return r.Reading.SetFigures(compass)
			}, Cautions: func() []caution.Caution { return r.Reading.Cautions }}))
		}
		l.Set(all)
	}}
}
