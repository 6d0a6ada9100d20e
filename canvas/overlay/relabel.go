package overlay

import (
	"slices"

	"legwright/app/leg"
	"legwright/app/plan"
)

// Relabel writes the figures along legs and sights from other readings than the plan's:
// read turns one into the other. A line without figures keeps none, so hidden ones stay
// hidden. The scene that this one is a copy of stays as it is.
func (s *Scene) Relabel(legs, sights []leg.Row, c plan.Compass, read func(leg.Reading) leg.Reading) {
	texts := map[plan.ID]string{}
	for i, row := range legs {
		if row.Err == nil {
			texts[row.ID] = labelOf(legNumber(i), read(row.Reading), c)
		}
	}
	for _, row := range sights {
		if row.Err == nil {
			texts[row.ID] = labelOf("", read(row.Reading), c)
		}
	}
	s.Legs, s.Sights = slices.Clone(s.Legs), slices.Clone(s.Sights)
	for i := range s.Legs {
		s.Legs[i].relabel(texts[s.Legs[i].ID])
	}
	for i := range s.Sights {
		s.Sights[i].relabel(texts[s.Sights[i].ID])
	}
}

func (l *Leg) relabel(text string) {
	if l.Label != "" {
		l.Label = text
	}
}

func (s *Sight) relabel(text string) {
	if s.Label != "" {
		s.Label = text
	}
}
