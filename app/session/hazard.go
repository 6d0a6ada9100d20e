package session

import "legwright/app/plan"

// SetHazardKind says what a hazard is. Its distance to keep becomes the usual one of the
// kind if it was the usual one before, and the larger one else.
func (s *Session) SetHazardKind(id plan.ID, kind plan.HazardKind) error {
	return s.editHazard("change kind of hazard", id, func(h *plan.Hazard) error {
		was, usual := s.defaultKeepM(h.Kind), s.defaultKeepM(kind)
		if h.KeepM == was || usual > h.KeepM {
			h.KeepM = usual
		}
		if h.Kind = kind; kind != plan.Water {
			h.Crosses = plan.NoCrossing
		}
		return nil
	})
}

// SetHazardKeep sets the distance to keep from a hazard from text such as 50 or 50 m.
func (s *Session) SetHazardKeep(id plan.ID, text string) error {
	return s.editHazard("change distance to keep", id, func(h *plan.Hazard) (err error) {
		h.KeepM, err = parseMetres(text)
		return err
	})
}

// SetCrossing says how water can be crossed.
func (s *Session) SetCrossing(id plan.ID, c plan.Crossing) error {
	return s.editHazard("change crossing", id, func(h *plan.Hazard) error {
		h.Crosses = c
		return nil
	})
}

func (s *Session) editHazard(name string, id plan.ID, f func(*plan.Hazard) error) error {
	h, ok := s.Plan().HazardByID(id)
	if !ok {
		return &NotFound{"hazard", id}
	}
	next := h
	if err := f(&next); err != nil {
		return err
	}
	if next.Kind == h.Kind && next.KeepM == h.KeepM && next.Crosses == h.Crosses {
		return nil
	}
	return s.do(name, "", s.Plan().SetHazard(next))
}

// SetHavenKind says what a haven is.
func (s *Session) SetHavenKind(id plan.ID, kind plan.HavenKind) error {
	return s.editHaven("change kind of haven", id, func(h *plan.Haven) error {
		h.Kind = kind
		return nil
	})
}

// SetHavenOut sets from text such as 45 how many minutes it is from a haven to where the
// party can be collected; nothing for not known.
func (s *Session) SetHavenOut(id plan.ID, text string) error {
	return s.editHaven("change way out of haven", id, func(h *plan.Haven) (err error) {
		h.Out, err = parseMinutes(text)
		return err
	})
}

func (s *Session) editHaven(name string, id plan.ID, f func(*plan.Haven) error) error {
	h, ok := s.Plan().HavenByID(id)
	if !ok {
		return &NotFound{"haven", id}
	}
	next := h
	if err := f(&next); err != nil {
		return err
	}
	if next.Kind == h.Kind && next.Out == h.Out {
		return nil
	}
	return s.do(name, "", s.Plan().SetHaven(next))
}

// SetLineKind says what a line is.
func (s *Session) SetLineKind(id plan.ID, kind plan.LineKind) error {
	return s.editLine("change kind of line", id, func(l *plan.Line) { l.Kind = kind })
}

// SetCatching says whether a line is a catching feature.
func (s *Session) SetCatching(id plan.ID, catching bool) error {
	return s.editLine("change catching feature", id, func(l *plan.Line) { l.Catching = catching })
}

func (s *Session) editLine(name string, id plan.ID, f func(*plan.Line)) error {
	l, ok := s.Plan().LineByID(id)
	if !ok {
		return &NotFound{"line", id}
	}
	next := l
	if f(&next); next.Kind == l.Kind && next.Catching == l.Catching {
		return nil
	}
	return s.do(name, "", s.Plan().SetLine(next))
}

// SetInCloud says whether a mark is recognisable in cloud.
func (s *Session) SetInCloud(id plan.ID, in bool) error {
	return s.editMark("change whether mark is recognisable in cloud", id, func(m plan.Mark) plan.Mark { m.InCloud = in; return m })
}
