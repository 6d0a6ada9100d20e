package session

import (
	"fmt"

	"legwright/app/plan"
)

// The intentions here serve things of every kind. The error of each is a *NotFound
// for an ID that nothing in the plan has, or what it says itself.

// Rename gives a thing another name. The error is a *Refused for a mark without a
// name, or with that of another mark.
func (s *Session) Rename(id plan.ID, name string) error {
	t, word, err := s.thing(id)
	if err != nil {
		return err
	}
	if t.Kind == plan.OfMark {
		if tidy(name) == "" {
			return refuse("a mark needs a name: type one")
		}
		if err := s.freeName(id, tidy(name)); err != nil {
			return err
		}
	}
	return s.do("rename "+word, "", s.Plan().Rename(id, tidy(name)))
}

// Remove removes a thing. Ends that stood on a mark keep its position.
func (s *Session) Remove(id plan.ID) error {
	_, word, err := s.thing(id)
	if err != nil {
		return err
	}
	return s.do("delete "+word, "", s.Plan().Remove(id))
}

// MovePoint moves point n of a thing, counted from 0 as in plan.Thing. An end that
// stood on a mark leaves it; a neighbouring leg that joined there moves along. Legs
// and sights that end at a mark follow it. In a drag each move begins where the drag
// began, so that the thing takes along nothing that it only passes. The error is leg.ErrNoBearing for a leg or
// sight without length, or that of a position that cannot be computed.
func (s *Session) MovePoint(id plan.ID, n int, to plan.End) error {
	t, word, err := s.thing(id)
	switch {
	case err != nil:
		return err
	case n < 0 || n >= len(t.Points):
		return refuse("the %s has no point %d", word, n+1)
	}
	key := fmt.Sprint(id, " ", n)
	next := s.moveBase(key).MovePoint(id, n, to)
	if next == s.Plan() {
		return nil
	}
	if t.Kind != plan.OfMark {
		if err := s.readable(next); err != nil {
			return err
		}
	}
	switch n, _ := s.Plan().Vertices(id); {
	case n > 0:
		word = "point of " + word
	case len(t.Points) > 1:
		word += " end"
	}
	err = s.reshape("move "+word, key, id, next)
	s.drag.to, s.drag.key = s.Plan(), key
	return err
}

// readable returns why a leg or sight that was moved in next has no bearing.
func (s *Session) readable(next *plan.Plan) error {
	read := func(old, now [2]plan.End) error {
		if old[0].Same(now[0]) && old[1].Same(now[1]) {
			return nil
		}
		_, err := s.Reader().Read(next.Resolve(now[0]), next.Resolve(now[1]))
		return err
	}
	for i, l := range next.Legs {
		was := s.Plan().Legs[i]
		if err := read([2]plan.End{was.From, was.To}, [2]plan.End{l.From, l.To}); err != nil {
			return err
		}
	}
	for i, t := range next.Sights {
		was := s.Plan().Sights[i]
		if err := read([2]plan.End{was.From, was.To}, [2]plan.End{t.From, t.To}); err != nil {
			return err
		}
	}
	return nil
}

// SetHidden hides a track, or shows it again. A hidden track is not drawn.
func (s *Session) SetHidden(id plan.ID, hidden bool) error {
	t, ok := s.Plan().TrackByID(id)
	if !ok {
		return &NotFound{"track", id}
	}
	if t.Hidden == hidden {
		return nil
	}
	t.Hidden = hidden
	name := "show track"
	if hidden {
		name = "hide track"
	}
	return s.do(name, "", s.Plan().SetTrack(t))
}

// thing returns the thing with that ID and the word for its kind.
func (s *Session) thing(id plan.ID) (plan.Thing, string, error) {
	t, ok := s.Plan().ThingByID(id)
	if !ok {
		return t, "", &NotFound{"thing", id}
	}
	return t, t.Kind.Word(), nil
}
