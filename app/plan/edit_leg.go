package plan

import "slices"

// AddLeg returns the plan with a leg at the end of the route.
func (p *Plan) AddLeg(l Leg) *Plan { return p.InsertLeg(len(p.Legs), l) }

// InsertLeg returns the plan with a leg put in before the leg now at place at.
// A place beyond the route is brought to its nearer end.
func (p *Plan) InsertLeg(at int, l Leg) *Plan {
	return p.with(func(q *Plan) { q.Legs = insert(p.Legs, at, l) })
}

// SetLeg returns the plan with the leg of the same ID replaced.
func (p *Plan) SetLeg(l Leg) *Plan {
	return p.with(func(q *Plan) {
		q.Legs = replace(p.Legs, l, func(x Leg) bool { return x.ID == l.ID })
	})
}

// RemoveLeg returns the plan without the leg.
func (p *Plan) RemoveLeg(id ID) *Plan {
	return p.with(func(q *Plan) { q.Legs = without(p.Legs, p.LegIndex(id)) })
}

// MoveLeg returns the plan with the leg moved by that many places in the
// route, as far as the route reaches.
func (p *Plan) MoveLeg(id ID, by int) *Plan {
	i := p.LegIndex(id)
	if i < 0 {
		return p
	}
	to := min(max(i+by, 0), len(p.Legs)-1)
	return p.with(func(q *Plan) { q.Legs = insert(without(p.Legs, i), to, p.Legs[i]) })
}

// ReverseLeg returns the plan with the leg's ends exchanged.
func (p *Plan) ReverseLeg(id ID) *Plan {
	l, ok := p.LegByID(id)
	if !ok {
		return p
	}
	l.From, l.To = l.To, l.From
	return p.SetLeg(l)
}

// Which says which end of a leg or sight is meant.
type Which int

// The two ends.
const (
	FromEnd Which = iota
	ToEnd
)

// End returns that end of the leg.
func (l Leg) End(w Which) End {
	if w == FromEnd {
		return l.From
	}
	return l.To
}

// withEnd returns the leg with that end replaced.
func (l Leg) withEnd(w Which, e End) Leg {
	if w == FromEnd {
		l.From = e
	} else {
		l.To = e
	}
	return l
}

// MoveLegEnd returns the plan with one end of the leg moved. Where the
// neighbour in the route joins it there, by mark or by place, the neighbour's
// end moves along, so that the route stays whole.
func (p *Plan) MoveLegEnd(id ID, w Which, to End) *Plan {
	i := p.LegIndex(id)
	if i < 0 {
		return p
	}
	old, legs := p.Legs[i].End(w), slices.Clone(p.Legs)
	legs[i] = legs[i].withEnd(w, to)
	next, other := i+1, FromEnd
	if w == FromEnd {
		next, other = i-1, ToEnd
	}
	if next >= 0 && next < len(legs) && legs[next].End(other).Same(old) {
		legs[next] = legs[next].withEnd(other, to)
	}
	return p.with(func(q *Plan) { q.Legs = legs })
}
