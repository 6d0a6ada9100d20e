package plan

import "slices"

// AddMark returns the plan with one more mark.
func (p *Plan) AddMark(m Mark) *Plan { return p.with(func(q *Plan) { q.Marks = add(p.Marks, m) }) }

// SetMark returns the plan with the mark of the same ID replaced. Ends that
// stand on it follow.
func (p *Plan) SetMark(m Mark) *Plan {
	q := p.with(func(q *Plan) {
		q.Marks = replace(p.Marks, m, func(x Mark) bool { return x.ID == m.ID })
	})
	return q.mapEnds(func(e End) End {
		if e.Mark == m.ID {
			e.Position = m.Position
		}
		return e
	})
}

// RemoveMark returns the plan without the mark. Ends that stood on it keep its
// last position as their own.
func (p *Plan) RemoveMark(id ID) *Plan {
	m, ok := p.MarkByID(id)
	if !ok {
		return p
	}
	q := p.with(func(q *Plan) {
		q.Marks = without(p.Marks, slices.IndexFunc(p.Marks, func(x Mark) bool { return x.ID == id }))
	})
	return q.mapEnds(func(e End) End {
		if e.Mark == id {
			e.Mark, e.Position = "", m.Position
		}
		return e
	})
}

// MarkEnds returns the plan with a new mark on which every end stands that is joined
// to e, which has no mark yet.
func (p *Plan) MarkEnds(e End, m Mark) *Plan {
	return p.AddMark(m).mapEnds(func(x End) End {
		if x.Same(e) {
			return AtMark(m)
		}
		return x
	})
}
