package plan

import "slices"

// Thing is what things of every kind have in common. Treat it as read-only.
type Thing struct {
	Kind   Kind
	Index  int // in the plan's list of that kind
	ID     ID
	Name   string
	Import string // name of the import that it came with; "" for none
	// Points are the positions that the thing is made of, as ends to snap to: a mark's
	// stands on the mark itself. Point n is the one that MovePoint moves. Empty for a
	// track.
	Points []End
}

// Kinds describes the kinds of things, in the order of Things.
func Kinds() []KindInfo {
	var out []KindInfo
	for _, l := range lists() {
		out = append(out, l.info())
	}
	return out
}

// Things yields all things of the plan: the marks, the legs in route order, the
// sights, and so on kind by kind.
func (p *Plan) Things(yield func(Thing) bool) {
	for _, l := range lists() {
		kind := l.info().Kind
		if !l.each(p, func(i int, x parts) bool { return yield(thingOf(kind, i, x)) }) {
			return
		}
	}
}

// Empty reports whether the plan has no things.
func (p *Plan) Empty() bool {
	for range p.Things {
		return false
	}
	return true
}

func thingOf(kind Kind, i int, x parts) Thing {
	t := Thing{Kind: kind, Index: i, ID: *x.id, Name: *x.name, Points: make([]End, 0, len(x.ends)+len(x.positions))}
	if x.from != nil {
		t.Import = *x.from
	}
	for _, e := range x.ends {
		t.Points = append(t.Points, *e)
	}
	for _, pos := range x.positions {
		e := AtPosition(*pos)
		if kind == OfMark {
			e.Mark = t.ID
		}
		t.Points = append(t.Points, e)
	}
	return t
}

// ThingByID returns the thing with that ID, whatever its kind.
func (p *Plan) ThingByID(id ID) (Thing, bool) {
	l, i := p.at(id)
	if l == nil {
		return Thing{}, false
	}
	var out Thing
	l.each(p, func(k int, x parts) bool {
		if k == i {
			out = thingOf(l.info().Kind, k, x)
		}
		return k < i
	})
	return out, true
}

// at returns the list and the place in it of the thing with that ID, or nil.
func (p *Plan) at(id ID) (l list, i int) {
	for _, l := range lists() {
		i = -1
		l.each(p, func(k int, x parts) bool {
			if *x.id == id {
				i = k
			}
			return i < 0
		})
		if i >= 0 {
			return l, i
		}
	}
	return nil, -1
}

// KindsApart returns the kinds of which two plans do not share the list. Edits leave
// the lists that they do not change as they are.
func (p *Plan) KindsApart(q *Plan) []Kind {
	var out []Kind
	for _, l := range lists() {
		if !l.shared(p, q) {
			out = append(out, l.info().Kind)
		}
	}
	return out
}

// NextID returns an ID for a new thing of that kind, which nothing in the plan has and no
// escape follows: it must not come to follow a line that is drawn later.
func (p *Plan) NextID(kind Kind) ID {
	for _, l := range lists() {
		if l.info().Kind == kind {
			var used []ID
			l.each(p, func(_ int, x parts) bool { used = append(used, *x.id); return true })
			if kind == OfLine {
				used = append(used, p.followed()...)
			}
			return NextID(l.info().One, used...)
		}
	}
	return ""
}

// Ends yields the ends of every leg, in route order, and of whatever else has ends.
func (p *Plan) Ends(yield func(End) bool) {
	p.walk(func(x parts) bool {
		for _, e := range x.ends {
			if !yield(*e) {
				return false
			}
		}
		return true
	})
}

// positions yields every position of a thing, that of an end on a mark once: as the
// mark's.
func (p *Plan) positions(yield func(Position) bool) {
	p.walk(func(x parts) bool {
		for _, pos := range x.positions {
			if !yield(*pos) {
				return false
			}
		}
		for _, e := range x.ends {
			if e.Mark == "" && !yield(e.Position) {
				return false
			}
		}
		return true
	})
}

// walk calls f for every thing until f returns false. f must not change the parts.
func (p *Plan) walk(f func(x parts) bool) {
	for _, l := range lists() {
		if !l.each(p, func(_ int, x parts) bool { return f(x) }) {
			return
		}
	}
}

// change returns the plan with every thing passed through f, which reports whether it
// changed it. Lists in which nothing changed stay shared with the old plan, and a plan
// in which nothing changed is the old one.
func (p *Plan) change(f func(x parts) bool) *Plan {
	return p.edit(func(q *Plan, l list) { l.change(q, f) })
}

// edit returns the plan with f done for every list; a plan in which no list changed is
// the old one.
func (p *Plan) edit(f func(q *Plan, l list)) *Plan {
	q := *p
	same := true
	for _, l := range lists() {
		f(&q, l)
		same = same && l.shared(p, &q)
	}
	if same {
		return p
	}
	return &q
}

// Rename returns the plan with another name for the thing with that ID.
func (p *Plan) Rename(id ID, name string) *Plan {
	return p.change(func(x parts) bool {
		if *x.id != id || *x.name == name {
			return false
		}
		*x.name = name
		return true
	}).lettered()
}

// Remove returns the plan without the things of these IDs. Ends that stood on a mark
// among them keep its last position as their own.
func (p *Plan) Remove(ids ...ID) *Plan {
	gone := map[ID]bool{}
	for _, id := range ids {
		gone[id] = true
	}
	q := p.edit(func(q *Plan, l list) { l.remove(q, func(x parts) bool { return gone[*x.id] }) })
	at := p.Positions()
	return q.mapEnds(func(e End) End {
		if gone[e.Mark] {
			e = AtPosition(at.Of(e))
		}
		return e
	}).lettered()
}

// MovePoint returns the plan with point n of a thing moved, counted from 0 as in
// Thing.Points. A point that cannot stand on a mark takes the mark's position. Ends
// that stand on a mark follow it. At the end of a leg the neighbour that joins it
// there moves along, so that the route stays whole.
func (p *Plan) MovePoint(id ID, n int, to End) *Plan {
	t, ok := p.ThingByID(id)
	switch {
	case !ok || n < 0 || n >= len(t.Points):
		return p
	case t.Kind == OfLeg:
		return p.moveLegEnd(t.Index, Which(n), to)
	}
	to = to.inPlaceOf(t.Points[n], p)
	q := p.change(func(x parts) bool {
		switch {
		case *x.id != id:
			return false
		case n < len(x.ends):
			*x.ends[n] = to
		default:
			*x.positions[n-len(x.ends)] = p.Resolve(to)
		}
		return true
	})
	return q.FillEnds()
}

// FillEnds returns the plan with the position of its mark in every end that stands on
// one, and a letter in every end that does not.
func (p *Plan) FillEnds() *Plan {
	at := p.Positions()
	return p.mapEnds(func(e End) End {
		e.Position = at.Of(e)
		return e
	}).lettered()
}

// mapEnds returns the plan with every end passed through f.
func (p *Plan) mapEnds(f func(End) End) *Plan {
	return p.change(func(x parts) bool {
		changed := false
		for _, e := range x.ends {
			if next := f(*e); next != *e {
				*e, changed = next, true
			}
		}
		return changed
	})
}

// mapPositions returns the plan with every position of a thing passed through f.
func (p *Plan) mapPositions(f func(Position) Position) *Plan {
	return p.change(func(x parts) bool {
		at := slices.Clone(x.positions)
		for _, e := range x.ends {
			at = append(at, &e.Position)
		}
		changed := false
		for _, pos := range at {
			if next := f(*pos); next != *pos {
				*pos, changed = next, true
			}
		}
		return changed
	})
}
