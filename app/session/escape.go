package session

import (
	"legwright/app/plan"
)

// The intentions here draw escapes and say what a leader knows of them.

// AddEscape begins an escape at a mark with its first leg: straight to an end, or along a
// drawn line where along names one. It is selected, and chosen if it is the first of its
// mark. Errors: a *Refused for a start on no mark or a line that is gone, and those of
// KeepLeg.
func (s *Session) AddEscape(from, to plan.End, along plan.ID) (plan.ID, error) {
	if from.Mark == "" {
		return "", refuse("an escape must begin at a mark: choose one that is recognisable in cloud")
	}
	if err := s.canWalk(from, to, along); err != nil {
		return "", err
	}
	e := plan.Escape{
		ID: s.Plan().NextID(plan.OfEscape), Start: from, Legs: []plan.EscapeLeg{{To: to, Along: along}},
		Chosen: len(s.Plan().EscapesFrom(from.Mark)) == 0,
	}
	if err := s.add("add escape", e.ID, s.Plan().AddEscape(e)); err != nil {
		return "", err
	}
	return e.ID, nil
}

// ExtendEscape adds a leg to the end of an escape, as AddEscape its first, and selects it.
func (s *Session) ExtendEscape(id plan.ID, to plan.End, along plan.ID) error {
	e, ok := s.Plan().EscapeByID(id)
	if !ok {
		return &NotFound{"escape", id}
	}
	if err := s.canWalk(e.End(), to, along); err != nil {
		return err
	}
	e = e.Clone()
	e.Legs = append(e.Legs, plan.EscapeLeg{To: to, Along: along})
	return s.add("add leg to escape", id, s.Plan().SetEscape(e))
}

// GoesOff reports whether a leg from there can be kept by KeepEscape: it begins at a mark
// that is recognisable in cloud, or where an escape ends.
func (s *Session) GoesOff(from plan.End) bool {
	_, on := s.endingAt(from)
	m, ok := s.Plan().MarkByID(from.Mark)
	return on || ok && m.InCloud
}

// endingAt returns the escape that ends there, the selected one rather than another.
func (s *Session) endingAt(end plan.End) (found plan.ID, ok bool) {
	for _, e := range s.Plan().Escapes {
		if e.End().Same(end) && (!ok || e.ID == s.sel.ID) {
			found, ok = e.ID, true
		}
	}
	return found, ok
}

// KeepEscape keeps a leg of an escape, straight or along a drawn line: it goes on with the
// one that ends where the leg begins, or else begins a new one at its mark. The escape is
// selected. Errors are those of AddEscape.
func (s *Session) KeepEscape(from, to plan.End, along plan.ID) (plan.ID, error) {
	id, on := s.endingAt(from)
	if m, ok := s.Plan().MarkByID(from.Mark); !on || ok && m.InCloud && id != s.sel.ID {
		return s.AddEscape(from, to, along)
	}
	return id, s.ExtendEscape(id, to, along)
}

// canWalk returns why there is no leg between two ends of an escape.
func (s *Session) canWalk(from, to plan.End, along plan.ID) error {
	if _, ok := s.Plan().LineByID(along); along != "" && !ok {
		return &NotFound{"line", along}
	}
	_, err := s.LiveEnds(from, to)
	return err
}

// ShortenEscape takes the last leg off an escape. The error is a *Refused where it has no
// other.
func (s *Session) ShortenEscape(id plan.ID) error {
	return s.editEscape("delete last leg of escape", id, func(e *plan.Escape) error {
		if len(e.Legs) == 1 {
			return refuse("the escape has only one leg: delete the whole escape instead")
		}
		e.Legs = e.Legs[:len(e.Legs)-1]
		return nil
	})
}

// ReverseEscape makes the end of an escape its start.
func (s *Session) ReverseEscape(id plan.ID) error {
	return s.editEscape("reverse escape", id, func(e *plan.Escape) error {
		*e = e.Reversed()
		return nil
	})
}

// SetEscapeCounts takes the climb and descent of leg i of an escape as a person counted
// them, in the form of the ledger's column climb.
func (s *Session) SetEscapeCounts(id plan.ID, i int, text string) error {
	return s.editEscapeLeg("count contours of escape", id, i, func(l *plan.EscapeLeg) (err error) {
		l.Climb, l.Descent, err = parseCounts(text, l.Descent)
		return err
	})
}

// TickEscape keeps what the leader looked at along leg i of an escape; t.Of is the
// fingerprint of what that leg is now.
func (s *Session) TickEscape(id plan.ID, i int, t plan.Ticks) error {
	return s.editEscapeLeg("tick escape", id, i, func(l *plan.EscapeLeg) error {
		l.Ticks = t
		return nil
	})
}

func (s *Session) editEscapeLeg(name string, id plan.ID, i int, f func(*plan.EscapeLeg) error) error {
	return s.editEscape(name, id, func(e *plan.Escape) error {
		if i < 0 || i >= len(e.Legs) {
			return refuse("the escape has no leg %d", i+1)
		}
		return f(&e.Legs[i])
	})
}

func (s *Session) editEscape(name string, id plan.ID, f func(*plan.Escape) error) error {
	e, ok := s.Plan().EscapeByID(id)
	if !ok {
		return &NotFound{"escape", id}
	}
	next := e.Clone()
	if err := f(&next); err != nil {
		return err
	}
	if next.Same(e) {
		return nil
	}
	return s.do(name, "", s.Plan().SetEscape(next))
}

// MoveEscapeUp moves an escape one place up among those of its mark.
func (s *Session) MoveEscapeUp(id plan.ID) error { return s.moveEscape(id, -1) }

// MoveEscapeDown moves an escape one place down among those of its mark.
func (s *Session) MoveEscapeDown(id plan.ID) error { return s.moveEscape(id, 1) }

func (s *Session) moveEscape(id plan.ID, by int) error {
	if _, ok := s.Plan().EscapeByID(id); !ok {
		return &NotFound{"escape", id}
	}
	return s.do("move escape", "", s.Plan().MoveEscape(id, by))
}

// ChooseEscape says which escape of its mark the leader would take, or that it is none
// where on is false.
func (s *Session) ChooseEscape(id plan.ID, on bool) error {
	e, ok := s.Plan().EscapeByID(id)
	switch {
	case !ok:
		return &NotFound{"escape", id}
	case e.Chosen == on:
		return nil
	}
	return s.do("choose escape", "", s.Plan().ChooseEscape(id, on))
}

// SetSnow says whether snow is lying on the day of the outing.
func (s *Session) SetSnow(snow plan.Snow) error {
	if snow == s.Plan().Snow {
		return nil
	}
	return s.do("change the answer about snow", "", s.Plan().SetSnow(snow))
}

// SetLatest sets from text such as 17:30 the latest time to be off the hill, which counts where
// the sun sets later or not at all; nothing for none. The error is a *plan.BadTime.
func (s *Session) SetLatest(text string) error {
	at, err := plan.ParseTimeOfDay(text)
	if err != nil {
		return err
	}
	t := s.Plan().Timing
	t.Latest = at
	return s.do("change latest time off the hill", "", s.retimed(t))
}
