package plan

import (
	"fmt"
	"slices"
)

// LineKind says what a line on the ground is.
type LineKind string

// The kinds of lines. A stream is none of them: one that is followed down leads over
// falls and into gorges. As a barrier it is a hazard of kind Water.
const (
	PathLine   LineKind = "path"
	TrackLine  LineKind = "track"
	RoadLine   LineKind = "road"
	WallLine   LineKind = "wall"
	FenceLine  LineKind = "fence"
	ForestEdge LineKind = "forest-edge"
	PowerLine  LineKind = "power-line"
)

// LineKinds returns the kinds of lines in the order in which people choose.
func LineKinds() []LineKind {
	return []LineKind{PathLine, TrackLine, RoadLine, WallLine, FenceLine, ForestEdge, PowerLine}
}

// Trodden reports whether people walk on it: it has its own ground, and leads through plantation.
func (k LineKind) Trodden() bool { return k == PathLine || k == TrackLine || k == RoadLine }

// String names the kind for people.
func (k LineKind) String() string {
	switch k {
	case ForestEdge:
		return "forest edge"
	case PowerLine:
		return "power line"
	}
	return string(k)
}

// Line is a line on the ground that a party can follow or that stops it.
type Line struct {
	ID       ID
	Name     string // may be empty: see TitleOf
	Kind     LineKind
	Catching bool // a catching feature: a party that walks too far meets it
	Points   []Position
	Note     string
	Import   string // name of the import that it came with; "" for none
}

func (l *Line) parts() parts {
	return parts{id: &l.ID, name: &l.Name, from: &l.Import, notes: []*string{&l.Note}, positions: pointers(l.Points), vertices: &l.Points, least: 2}
}

func (l *Line) unshare() { l.Points = slices.Clone(l.Points) }

func (l *Line) bad() string {
	if !slices.Contains(LineKinds(), l.Kind) {
		return fmt.Sprintf("the kind of line %q is not known", l.Kind)
	}
	return badVertices(len(l.Points), 2)
}

// AddLine returns the plan with one more line.
func (p *Plan) AddLine(l Line) *Plan {
	return p.with(func(q *Plan) { q.Lines = add(p.Lines, l) })
}

// SetLine returns the plan with the line of the same ID replaced.
func (p *Plan) SetLine(l Line) *Plan {
	return p.with(func(q *Plan) {
		q.Lines = replace(p.Lines, l, func(x Line) bool { return x.ID == l.ID })
	})
}

// LineByID returns the line with that ID.
func (p *Plan) LineByID(id ID) (Line, bool) {
	return find(p.Lines, func(l Line) bool { return l.ID == id })
}
