package plan

import "slices"

// AddLeg returns the plan with a leg at the end of the route.
func (p *Plan) AddLeg(l Leg) *Plan {
	return p.with(func(q *Plan) { q.Legs = add(p.Legs, l) }).FillEnds()
}

// SetLeg returns the plan with the leg of the same ID replaced.
func (p *Plan) SetLeg(l Leg) *Plan {
	return p.with(func(q *Plan) {
		q.Legs = replace(p.Legs, l, func(x Leg) bool { return x.ID == l.ID })
	}).FillEnds()
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

// ReverseLeg returns the plan with the leg's ends swapped.
func (p *Plan) ReverseLeg(id ID) *Plan {
	l, ok := p.LegByID(id)
	if !ok {
		return p
	}
	l.From, l.To = l.To, l.From
	return p.SetLeg(l)
}

// Which says which end of a leg or sight is meant: the number of the point as MovePoint
// counts them.
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

// moveLegEnd returns the plan with one end of leg i moved. If the neighbour in the
// route joins it there, by mark or by position, the neighbour's end moves along.
func (p *Plan) moveLegEnd(i int, w Which, to End) *Plan {
	old, legs := p.Legs[i].End(w), slices.Clone(p.Legs)
	to = to.inPlaceOf(old, p)
	legs[i] = legs[i].withEnd(w, to)
	next, other := i+1, FromEnd
	if w == FromEnd {
		next, other = i-1, ToEnd
	}
	if next >= 0 && next < len(legs) && legs[next].End(other).Same(old) {
		legs[next] = legs[next].withEnd(other, to)
	}
	return p.with(func(q *Plan) { q.Legs = legs }).FillEnds()
}

// Chain is an unbroken part of the route: each leg begins where the one before it
// ends.
type Chain struct{ First, Last int } // legs, counted from 0

// Chains returns the unbroken parts of the route, in order; one for a whole route, none
// without legs.
func (p *Plan) Chains() []Chain {
	var out []Chain
	for i, l := range p.Legs {
		if i == 0 || !p.Legs[i-1].To.Same(l.From) {
			out = append(out, Chain{First: i})
		}
		out[len(out)-1].Last = i
	}
	return out
}
