package plan

import (
	"fmt"
	"slices"

	"legwright/app/pace"
)

// Mark is a named position: a cairn, a hut, an attack point.
type Mark struct {
	ID       ID
	Name     string // never empty
	Position Position
	Note     string
	InCloud  bool   // recognisable in cloud, by the leader's word alone
	Import   string // name of the import that it came with; "" for none
}

func (m *Mark) parts() parts {
	return parts{id: &m.ID, name: &m.Name, from: &m.Import, notes: []*string{&m.Note}, positions: []*Position{&m.Position}}
}

func (m *Mark) bad() string {
	if m.Name == "" {
		return "it has no name"
	}
	return ""
}

// Leg is one stretch of the route, walked from From to To.
type Leg struct {
	ID       ID
	From, To End
	Name     string
	TickOff  string // features to tick off on the leg
	Catching string // catching feature: what shows that the party has gone too far
	Note     string
	Climb    Counted // by the person's own count of contours; it stands before what terrain says
	Descent  Counted
	Ground   pace.Ground // what is walked on, for the walking time
	Import   string      // name of the import that it came with; "" for none
}

func (l *Leg) parts() parts {
	return parts{id: &l.ID, name: &l.Name, from: &l.Import, notes: []*string{&l.TickOff, &l.Catching, &l.Note}, ends: []*End{&l.From, &l.To}}
}

func (l *Leg) bad() string {
	if r := l.Climb.bad("climb"); r != "" {
		return r
	}
	if !slices.Contains(pace.Grounds(), l.Ground) {
		return fmt.Sprintf("the ground %q is not known", l.Ground)
	}
	return l.Descent.bad("descent")
}

// Sight is a reading from a position to a feature that is kept but not walked.
type Sight struct {
	ID       ID
	From, To End
	Name     string
	Note     string
}

func (s *Sight) parts() parts {
	return parts{id: &s.ID, name: &s.Name, notes: []*string{&s.Note}, ends: []*End{&s.From, &s.To}}
}

func (s *Sight) bad() string { return "" }
