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

// SetDate returns the plan with another date. Whether snow is lying is then not known.
func (p *Plan) SetDate(d Date) *Plan {
	return p.with(func(q *Plan) {
		if q.Date != d {
			q.Date, q.Snow = d, SnowNotAsked
		}
	})
}

// SetParty returns the plan with another party.
func (p *Plan) SetParty(party Party) *Plan { return p.with(func(q *Plan) { q.Party = party }) }

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
