package plan

import (
	"fmt"
	"slices"
	"strings"

	"legwright/app/geodesy"
	"legwright/app/ground"
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
		return fmt.Sprintf("it has too few points (%d): it needs at least %d", n, least)
	}
	return ""
}

// tangled reports whether the outline of an area crosses or touches itself.
func tangled(points []Position) bool {
	outline := make([]geodesy.Grid, len(points))
	for i, pos := range points {
		outline[i] = pos.Grid
	}
	return ground.Tangled(outline)
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
	switch {
	case !ok:
		return ""
	case t.Kind == OfHazard:
		return p.Hazards[t.Index].Title()
	case t.Kind == OfHaven:
		return p.Havens[t.Index].Title()
	case t.Kind == OfLine:
		return p.Lines[t.Index].Title()
	case t.Kind == OfArea:
		return p.Areas[t.Index].Title()
	case t.Name != "":
		return t.Name
	}
	return fmt.Sprintf("%s %d", t.Kind.Word(), t.Index+1)
}

// Title returns what people call the hazard.
func (h Hazard) Title() string { return titled(h.Name, h.Kind.String(), OfHazard, h.ID) }

// Title returns what people call the haven.
func (h Haven) Title() string { return titled(h.Name, h.Kind.String(), OfHaven, h.ID) }

// Title returns what people call the line.
func (l Line) Title() string { return titled(l.Name, l.Kind.String(), OfLine, l.ID) }

// titled is a name, or what the thing is with the number in its ID. That number stays when
// another thing is deleted, so that cautions, ticks and files go on naming the same one.
// An ID without a number, which only a file can hold, stands whole.
func titled(name, word string, kind Kind, id ID) string {
	if name != "" {
		return name
	}
	return word + " " + strings.TrimPrefix(string(id), kind.Word()+"-")
}
