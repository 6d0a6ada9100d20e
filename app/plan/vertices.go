package plan

import (
	"fmt"
	"slices"
)

// pointers returns pointers to the positions of a list.
func pointers(list []Position) []*Position {
	out := make([]*Position, len(list))
	for i := range list {
		out[i] = &list[i]
	}
	return out
}

func badVertices(n, least int) string {
	if n < least {
		return fmt.Sprintf("it has too few points: %d, and needs at least %d", n, least)
	}
	return ""
}

// countVertices counts the vertices of all things.
func (p *Plan) countVertices() (n int) {
	p.walk(func(x parts) bool {
		if x.vertices != nil {
			n += len(*x.vertices)
		}
		return true
	})
	return n
}

// Vertices returns how many vertices the thing with that ID has, and how many it needs at
// least; none for a thing whose points are fixed in number.
func (p *Plan) Vertices(id ID) (n, least int) {
	p.walk(func(x parts) bool {
		if *x.id == id && x.vertices != nil {
			n, least = len(*x.vertices), x.least
		}
		return *x.id != id
	})
	return n, least
}

// InsertPoint returns the plan with one more vertex in a thing, before the one that was
// number n, counted from 0 as in Thing.Points, or behind the last.
func (p *Plan) InsertPoint(id ID, n int, at Position) *Plan {
	return p.vertices(id, func(list []Position) []Position { return insert(list, n, at) })
}

// RemovePoint returns the plan without vertex n of a thing, as it is if that would leave
// too few.
func (p *Plan) RemovePoint(id ID, n int) *Plan {
	if have, least := p.Vertices(id); have <= least {
		return p
	}
	return p.vertices(id, func(list []Position) []Position { return without(list, n) })
}

func (p *Plan) vertices(id ID, f func([]Position) []Position) *Plan {
	return p.change(func(x parts) bool {
		if *x.id != id || x.vertices == nil {
			return false
		}
		next := f(*x.vertices)
		if slices.Equal(next, *x.vertices) {
			return false
		}
		*x.vertices = next
		return true
	})
}

// TitleOf returns what people call a thing: its name, or its kind and number, such as
// "crag 2". "" for an ID that nothing has.
func (p *Plan) TitleOf(id ID) string {
	t, ok := p.ThingByID(id)
	if !ok {
		return ""
	}
	word := t.Kind.Word()
	switch t.Kind {
	case OfHazard:
		word = p.Hazards[t.Index].Kind.String()
	case OfHaven:
		word = p.Havens[t.Index].Kind.String()
	case OfLine:
		word = p.Lines[t.Index].Kind.String()
	}
	return Titled(t.Name, word, t.Index)
}

// Titled is what people call thing i of its list, counted from 0: its name, or what it is
// and its number.
func Titled(name, word string, i int) string {
	if name != "" {
		return name
	}
	return fmt.Sprintf("%s %d", word, i+1)
}
