package caution

import "slices"

// Raised is a caution with what raises it, such as "legs 2, 5"; By is "" where that is plain.
type Raised struct {
	By string
	Caution
}

// Line is the sentence of the caution, behind what raises it.
func (r Raised) Line() string {
	if r.By == "" {
		return r.Text()
	}
	return r.By + ": " + r.Text()
}

// Gathering gathers cautions of many things, each once with the names of those that raise it.
// The zero Gathering is ready for use.
type Gathering struct {
	order []Caution
	by    map[Caution][]string
}

// Take adds what speaks against a thing of that name, "" for one whose cautions say
// themselves what they are about.
func (g *Gathering) Take(name string, list ...Caution) {
	if g.by == nil {
		g.by = map[Caution][]string{}
	}
	for _, c := range list {
		if _, known := g.by[c]; !known {
			g.order, g.by[c] = append(g.order, c), nil
		}
		if name != "" && !slices.Contains(g.by[c], name) {
			g.by[c] = append(g.by[c], name)
		}
	}
}

// Raised returns what was taken, the gravest first; words writes the names of what raises a
// caution.
func (g *Gathering) Raised(words func(names []string) string) []Raised {
	out := make([]Raised, 0, len(g.order))
	for _, c := range GravestFirst(g.order) {
		out = append(out, Raised{words(g.by[c]), c})
	}
	return out
}
