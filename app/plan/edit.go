package plan

import "slices"

// with returns a copy of the plan changed by f. Slices must be replaced, never
// written into.
func (p *Plan) with(f func(q *Plan)) *Plan {
	q := *p
	f(&q)
	return &q
}

// SetTitle returns the plan with another title.
func (p *Plan) SetTitle(title string) *Plan { return p.with(func(q *Plan) { q.Title = title }) }

// SetDate returns the plan with another date.
func (p *Plan) SetDate(d Date) *Plan { return p.with(func(q *Plan) { q.Date = d }) }

// SetParty returns the plan with another party.
func (p *Plan) SetParty(party Party) *Plan { return p.with(func(q *Plan) { q.Party = party }) }

// AddTrack returns the plan with one more track.
func (p *Plan) AddTrack(t Track) *Plan {
	return p.with(func(q *Plan) { q.Tracks = add(p.Tracks, t) })
}

func add[T any](list []T, v T) []T { return append(slices.Clone(list), v) }

func insert[T any](list []T, at int, v T) []T {
	return slices.Insert(slices.Clone(list), min(max(at, 0), len(list)), v)
}

func without[T any](list []T, i int) []T {
	if i < 0 || i >= len(list) {
		return list
	}
	return slices.Delete(slices.Clone(list), i, i+1)
}

// replace returns the list with v in place of the first entry that is meant.
func replace[T any](list []T, v T, is func(T) bool) []T {
	i := slices.IndexFunc(list, is)
	if i < 0 {
		return list
	}
	out := slices.Clone(list)
	out[i] = v
	return out
}

// mapped returns the list with every entry passed through f.
func mapped[T any](list []T, f func(T) T) []T {
	out := make([]T, len(list))
	for i, v := range list {
		out[i] = f(v)
	}
	return out
}

// mapEnds returns the plan with every end of a leg or sight passed through f.
func (p *Plan) mapEnds(f func(End) End) *Plan {
	return p.with(func(q *Plan) {
		q.Legs = mapped(p.Legs, func(l Leg) Leg { l.From, l.To = f(l.From), f(l.To); return l })
		q.Sights = mapped(p.Sights, func(s Sight) Sight { s.From, s.To = f(s.From), f(s.To); return s })
	})
}

// mapPositions returns the plan with the position of every mark and end passed
// through f.
func (p *Plan) mapPositions(f func(Position) Position) *Plan {
	q := p.with(func(q *Plan) {
		q.Marks = mapped(p.Marks, func(m Mark) Mark { m.Position = f(m.Position); return m })
	})
	return q.mapEnds(func(e End) End { e.Position = f(e.Position); return e })
}
