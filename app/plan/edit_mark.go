package plan

// AddMark returns the plan with one more mark.
func (p *Plan) AddMark(m Mark) *Plan {
	return p.with(func(q *Plan) { q.Marks = add(p.Marks, m) }).lettered()
}

// SetMark returns the plan with the mark of the same ID replaced. Ends that
// stand on it follow.
func (p *Plan) SetMark(m Mark) *Plan {
	return p.with(func(q *Plan) {
		q.Marks = replace(p.Marks, m, func(x Mark) bool { return x.ID == m.ID })
	}).FillEnds()
}

// MarkEnds returns the plan with a new mark on which every end stands that is joined
// to e, which has no mark yet.
func (p *Plan) MarkEnds(e End, m Mark) *Plan {
	q := p.mapEnds(func(x End) End {
		if x.Same(e) {
			return AtMark(m)
		}
		return x
	})
	return q.AddMark(m)
}
