package plan

import "slices"

// AddSight returns the plan with one more sight.
func (p *Plan) AddSight(s Sight) *Plan {
	return p.with(func(q *Plan) { q.Sights = add(p.Sights, s) })
}

// SetSight returns the plan with the sight of the same ID replaced.
func (p *Plan) SetSight(s Sight) *Plan {
	return p.with(func(q *Plan) {
		q.Sights = replace(p.Sights, s, func(x Sight) bool { return x.ID == s.ID })
	})
}

// RemoveSight returns the plan without the sight.
func (p *Plan) RemoveSight(id ID) *Plan {
	return p.with(func(q *Plan) {
		q.Sights = without(p.Sights, slices.IndexFunc(p.Sights, func(s Sight) bool { return s.ID == id }))
	})
}

// End returns that end of the sight.
func (s Sight) End(w Which) End {
	if w == FromEnd {
		return s.From
	}
	return s.To
}

// MoveSightEnd returns the plan with one end of the sight moved.
func (p *Plan) MoveSightEnd(id ID, w Which, to End) *Plan {
	s, ok := p.SightByID(id)
	if !ok {
		return p
	}
	if w == FromEnd {
		s.From = to
	} else {
		s.To = to
	}
	return p.SetSight(s)
}
