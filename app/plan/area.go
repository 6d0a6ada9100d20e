package plan

import (
	"fmt"
	"slices"

	"legwright/app/pace"
)

// Area is an area of one ground: what a leg is walked on within it, whatever the leg itself
// says. It is no danger.
type Area struct {
	ID     ID
	Name   string // may be empty: see TitleOf
	Ground pace.Ground
	Points []Position // its outline
	Note   string
	Import string // name of the import that it came with; "" for none
}

// AreaGrounds returns what an area can be, in the order in which people choose.
func AreaGrounds() []pace.Ground {
	return []pace.Ground{pace.Plantation, pace.Rough, pace.OffPath, pace.Path}
}

// leastOutline is how many points an outline has at least.
const leastOutline = 3

func (a *Area) parts() parts {
	return parts{id: &a.ID, name: &a.Name, from: &a.Import, notes: []*string{&a.Note}, positions: pointers(a.Points), vertices: &a.Points, least: leastOutline}
}

func (a *Area) unshare() { a.Points = slices.Clone(a.Points) }

func (a *Area) bad() string {
	if !slices.Contains(AreaGrounds(), a.Ground) {
		return fmt.Sprintf("the ground %q is not known", a.Ground)
	}
	return badVertices(len(a.Points), leastOutline)
}

// Title returns what people call the area.
func (a Area) Title() string {
	word := string(a.Ground) + " area" // "off-path area"
	switch a.Ground {
	case pace.Rough:
		word = "rough ground"
	case pace.Plantation:
		word = string(a.Ground)
	}
	return titled(a.Name, word, OfArea, a.ID)
}

// Tangled reports whether the outline crosses or touches itself, as Hazard.Tangled.
func (a Area) Tangled() bool { return tangled(a.Points) }

// AddArea returns the plan with one more area of ground.
func (p *Plan) AddArea(a Area) *Plan {
	return p.with(func(q *Plan) { q.Areas = add(p.Areas, a) })
}

// SetArea returns the plan with the area of the same ID replaced.
func (p *Plan) SetArea(a Area) *Plan {
	return p.with(func(q *Plan) {
		q.Areas = replace(p.Areas, a, func(x Area) bool { return x.ID == a.ID })
	})
}

// AreaByID returns the area of ground with that ID.
func (p *Plan) AreaByID(id ID) (Area, bool) {
	return find(p.Areas, func(a Area) bool { return a.ID == id })
}
