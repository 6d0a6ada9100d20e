package session

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"legwright/app/plan"
)

// ParsePosition reads a typed reference as a position: the centre of its
// square, on the sheet's grid.
func (s *Session) ParsePosition(text string) (plan.Position, error) {
	ref, err := s.CheckReference(text)
	if err != nil {
		return plan.Position{}, err
	}
	pos := plan.TypedAs(tidy(text), ref.Read)
	pos.SigmaM = math.Hypot(pos.SigmaM, ref.ShiftM)
	pos.LettersFrom = ref.LettersFrom
	return pos, nil
}

// ParseEnd reads the name of a mark, the letter of an end without one, or else a
// reference. The refusal of a text with letters says that no mark has that name.
func (s *Session) ParseEnd(text string) (plan.End, error) {
	if m, ok := s.Plan().MarkTyped(tidy(text)); ok {
		return plan.AtMark(m), nil
	}
	if e, ok := s.endByLabel(text); ok {
		return e, nil
	}
	pos, err := s.ParsePosition(text)
	switch {
	case err == nil || strings.IndexFunc(text, unicode.IsLetter) < 0:
		return plan.AtPosition(pos), err
	case strings.IndexFunc(text, unicode.IsDigit) < 0:
		return plan.End{}, refuse("no mark is called %q: type the name of a mark, or a grid reference", tidy(text))
	}
	return plan.End{}, fmt.Errorf("no mark is called %q, and that is not a reference: %w", tidy(text), err)
}

// AddMark adds a mark; without a name it gets the next free letter. It is
// selected.
func (s *Session) AddMark(name string, pos plan.Position) (plan.ID, error) {
	p := s.Plan()
	m := plan.Mark{ID: p.NextID(plan.OfMark), Name: tidy(name), Position: pos}
	if m.Name == "" {
		m.Name = p.NextMarkName()
	}
	if err := s.freeName(m.ID, m.Name); err != nil {
		return "", err
	}
	if err := s.add("add mark", m.ID, p.AddMark(m)); err != nil {
		return "", err
	}
	return m.ID, nil
}

// freeName refuses a name that another mark or an end has.
func (s *Session) freeName(id plan.ID, name string) error {
	if other, ok := s.Plan().MarkByName(name); ok && other.ID != id {
		return refuse("another mark is called %q: choose a different name", other.Name)
	}
	return nil
}

func (s *Session) editMark(name string, id plan.ID, f func(plan.Mark) plan.Mark) error {
	m, ok := s.Plan().MarkByID(id)
	if !ok {
		return &NotFound{"mark", id}
	}
	next := f(m)
	if next == m {
		return nil
	}
	return s.do(name, string(id), s.Plan().SetMark(next))
}

// SetMarkNote gives a mark a note.
func (s *Session) SetMarkNote(id plan.ID, note string) error {
	return s.editMark("change note", id, func(m plan.Mark) plan.Mark { m.Note = tidyNote(note); return m })
}

// SetMarkReference moves a mark to a typed reference.
func (s *Session) SetMarkReference(id plan.ID, text string) error {
	pos, err := s.ParsePosition(text)
	if err != nil {
		return err
	}
	return s.MovePoint(id, 0, plan.AtPosition(pos))
}

// ReferenceOf writes the grid reference of a position on the sheet's grid, or
// on its own without a sheet, with that many figures.
func (s *Session) ReferenceOf(pos plan.Position, figures int) (string, error) {
	r := s.Reader()
	sys, err := r.SystemFor(pos)
	if err != nil {
		return "", err
	}
	g, _, err := r.Convert(pos, sys)
	if err != nil {
		return "", err
	}
	return sys.FormatRef(g, figures)
}
