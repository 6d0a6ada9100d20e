package routepanel

import (
	"fyne.io/fyne/v2/container"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/look"
)

func (p *Panel) newMarks() *list {
	set := button(p.n, look.IconMark, "Set mark at a reference…", "Set a mark at a typed reference  (Ctrl+M)", p.AskMark)
	l := newList(p.n, "No marks yet. Double click on the sheet to set one.", container.NewHBox(set))
	l.fill = func() {
		r := p.n.Session.Reader()
		var all []thing
		for _, m := range p.n.Session.Plan().Marks {
			all = append(all, p.unlessConcealed(thing{m.ID, m.Name, func() string { return reference(r, m.Position) }, func() []caution.Caution { return r.CautionsOf(m.Position) }}))
		}
		l.set(all)
	}
	return l
}

// reference writes a position with no digit that is not known.
func reference(r *leg.Reader, pos plan.Position) string {
	ref, err := r.Reference(pos)
	if err != nil {
		return "off the grid"
	}
	return ref
}

func (p *Panel) newSights() *list {
	l := newList(p.n, "No sights yet. Drag a bearing and press S.")
	l.fill = func() {
		circle := p.n.Session.Plan().Party.Compass.Circle
		var all []thing
		for _, r := range p.n.Session.Reader().Sights() {
			all = append(all, p.unlessConcealed(thing{r.ID, r.From + " – " + r.To, func() string {
				if r.Err != nil {
					return "no reading"
				}
				return r.Reading.SetFigures(circle)
			}, func() []caution.Caution { return r.Reading.Cautions }}))
		}
		l.set(all)
	}
	return l
}
