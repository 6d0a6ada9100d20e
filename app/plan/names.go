package plan

import (
	"math"
	"strings"

	"legwright/app/geodesy"
)

// Letters returns the n-th name of the series A, B, … Z, AA, AB, …; n counts
// from 0.
func Letters(n int) string {
	var b []byte
	for n++; n > 0; n = (n - 1) / 26 {
		b = append([]byte{byte('A' + (n-1)%26)}, b...)
	}
	return string(b)
}

// sameName compares names as people do: without case and outer blanks.
func sameName(a, b string) bool {
	return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b))
}

// NextMarkName returns the first letter name that no mark has.
func (p *Plan) NextMarkName() string {
	taken := p.takenNames()
	for n := 0; ; n++ {
		if name := Letters(n); !taken[strings.ToUpper(name)] {
			return name
		}
	}
}

func (p *Plan) takenNames() map[string]bool {
	taken := make(map[string]bool, len(p.Marks))
	for _, m := range p.Marks {
		taken[strings.ToUpper(strings.TrimSpace(m.Name))] = true
	}
	return taken
}

// Labels names the ends of legs and sights for people.
type Labels struct {
	marks map[ID]string
	own   map[placeKey]string
}

// placeKey is a place to the millimetre.
type placeKey struct {
	code geodesy.Code
	e, n int64
}

func keyOf(p Position) placeKey {
	return placeKey{p.Code, int64(math.Round(p.Grid.E * 1000)), int64(math.Round(p.Grid.N * 1000))}
}

// Labels names every end of the plan's legs and sights, and every mark: a mark
// by its name, the other places by the letters A, B, C … in route order,
// passing over letters that marks carry. Joined ends share their letter, and
// so does a mark without a name that they stand on.
func (p *Plan) Labels() Labels {
	l := Labels{marks: make(map[ID]string, len(p.Marks)), own: map[placeKey]string{}}
	for _, m := range p.Marks {
		l.marks[m.ID] = m.Name
	}
	taken, n := p.takenNames(), 0
	name := func(e End) {
		k := keyOf(e.Position)
		if _, known := l.own[k]; known || l.marks[e.Mark] != "" {
			return
		}
		for taken[Letters(n)] {
			n++
		}
		l.own[k] = Letters(n)
		n++
	}
	for _, leg := range p.Legs {
		name(leg.From)
		name(leg.To)
	}
	for _, s := range p.Sights {
		name(s.From)
		name(s.To)
	}
	for _, m := range p.Marks {
		name(End{Mark: m.ID, Position: m.Position})
	}
	return l
}

// OfMark returns the label of a mark of the plan: the one its legs show.
func (l Labels) OfMark(m Mark) string { return l.Of(End{Mark: m.ID, Position: m.Position}) }

// Of returns the label of an end of the plan the labels were made from, or ""
// for any other.
func (l Labels) Of(e End) string {
	if name := l.marks[e.Mark]; name != "" {
		return name
	}
	return l.own[keyOf(e.Position)]
}
