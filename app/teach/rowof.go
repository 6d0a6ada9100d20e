package teach

import "legwright/app/plan"

// RowOf returns the row that a plan prepares for a lesson: its legs in route order, then
// its sights, each by its name or by those of its ends.
func RowOf(p *plan.Plan) []Line {
	labels := p.Labels()
	var out []Line
	add := func(id plan.ID, name string, from, to plan.End) {
		if name == "" {
			name = labels.Of(from) + " to " + labels.Of(to)
		}
		out = append(out, Line{ID: id, Name: name, From: from, To: to})
	}
	for _, l := range p.Legs {
		add(l.ID, l.Name, l.From, l.To)
	}
	for _, s := range p.Sights {
		add(s.ID, s.Name, s.From, s.To)
	}
	return out
}
