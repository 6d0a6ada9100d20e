package plan

// AddSight returns the plan with one more sight.
func (p *Plan) AddSight(s Sight) *Plan {
	return p.with(func(q *Plan) { q.Sights = add(p.Sights, s) }).FillEnds()
}

// SetSight returns the plan with the sight of the same ID replaced.
func (p *Plan) SetSight(s Sight) *Plan {
	return p.with(func(q *Plan) {
		q.Sights = replace(p.Sights, s, func(x Sight) bool { return x.ID == s.ID })
	}).FillEnds()
}

// End returns that end of the sight.
func (s Sight) End(w Which) End {
	if w == FromEnd {
		return s.From
	}
	return s.To
}
