package plan

import (
	"fmt"
	"slices"
)

// Import is what came into the plan with one exchange file and is still there.
type Import struct {
	Name   string // that of the file, numbered where there were several
	Things []Thing
}

// Imports returns the imports of which something is still in the plan, in the order
// of Things.
func (p *Plan) Imports() []Import {
	var out []Import
	for t := range p.Things {
		if t.Import == "" {
			continue
		}
		i := slices.IndexFunc(out, func(m Import) bool { return m.Name == t.Import })
		if i < 0 {
			i, out = len(out), append(out, Import{Name: t.Import})
		}
		out[i].Things = append(out[i].Things, t)
	}
	return out
}

// ImportName returns a name for a new import of a file: the file's own, numbered if
// the plan has an import of that name.
func (p *Plan) ImportName(file string) string {
	if r := []rune(file); len(r) > MaxName-8 {
		file = string(r[:MaxName-8])
	}
	if file == "" {
		file = "import"
	}
	taken := map[string]bool{}
	for t := range p.Things {
		taken[t.Import] = true
	}
	name := file
	for n := 2; taken[name]; n++ {
		name = fmt.Sprintf("%s %d", file, n)
	}
	return name
}

// AddAll returns the plan with more marks, with legs at the end of the route, and with
// more tracks.
func (p *Plan) AddAll(marks []Mark, legs []Leg, tracks []Track) *Plan {
	return p.with(func(q *Plan) {
		if len(marks) > 0 {
			q.Marks = slices.Concat(p.Marks, marks)
		}
		if len(legs) > 0 {
			q.Legs = slices.Concat(p.Legs, legs)
		}
		if len(tracks) > 0 {
			q.Tracks = slices.Concat(p.Tracks, tracks)
		}
	}).FillEnds()
}
