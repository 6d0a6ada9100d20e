package session

import (
	"legwright/app/plan"
)

// Field names a column of the ledger that can be typed into.
type Field string

// The columns that can be typed into. FieldFrom and FieldTo take the name of a mark,
// the letter of an end, a reference, or a new name for the end; the bearings and the
// distance move the leg's far end, and with it the start of the next leg if that joins.
const (
	FieldName     Field = "name"
	FieldTickOff  Field = "tick-off feature"
	FieldCatching Field = "catching feature"
	FieldNote     Field = "note"
	FieldFrom     Field = "from"
	FieldTo       Field = "to"
	FieldGrid     Field = "grid"
	FieldMagnetic Field = "magnetic"
	FieldTrue     Field = "true"
	FieldDistance Field = "distance"
	FieldClimb    Field = "climb" // climb and descent, by contours or metres: see parseCounts
)

// SetLegField types text into one column of a leg or sight. The error is a
// sentence about the text, or a *NotFound; the row is then as it was.
func (s *Session) SetLegField(id plan.ID, field Field, text string) error {
	l, isLeg := s.Plan().LegByID(id)
	t, isSight := s.Plan().SightByID(id)
	if !isLeg && !isSight {
		return &NotFound{"leg or sight", id}
	}
	if !isLeg {
		l = plan.Leg{From: t.From, To: t.To}
	}
	switch field {
	case FieldFrom, FieldTo:
		return s.typeEnd(id, field, text)
	case FieldGrid, FieldMagnetic, FieldTrue, FieldDistance:
		return s.typeFarEnd(id, l, field, text)
	}
	if isLeg {
		return s.typeLegText(l, field, text)
	}
	return s.typeSightText(t, field, text)
}

// typeEnd moves an end to a mark or a reference. A text that is neither but can be a
// name names the end where it is.
func (s *Session) typeEnd(id plan.ID, field Field, text string) error {
	which := plan.FromEnd
	if field == FieldTo {
		which = plan.ToEnd
	}
	e, err := s.ParseEnd(text)
	switch {
	case err == nil:
		return s.MovePoint(id, int(which), e)
	case !isName(text):
		return err
	}
	now, err := s.endByID(id, which)
	if err != nil {
		return err
	}
	if m, ok := s.mistyped(tidy(text), now.Mark); ok {
		return refuse("no mark is called %q: type %q to use that mark, or choose a name that differs from it by more than one letter", tidy(text), m.Name)
	}
	return s.NameEnd(id, which, text)
}

func (s *Session) typeLegText(l plan.Leg, field Field, text string) error {
	old := l
	switch field {
	case FieldName:
		l.Name = tidy(text)
	case FieldTickOff:
		l.TickOff = tidyNote(text)
	case FieldCatching:
		l.Catching = tidyNote(text)
	case FieldNote:
		l.Note = tidyNote(text)
	case FieldClimb:
		var err error
		if l.Climb, l.Descent, err = parseCounts(text, l.Descent); err != nil {
			return err
		}
	default:
		return refuse("a leg has no column %q", field)
	}
	if l == old {
		return nil
	}
	return s.do("change "+string(field), "", s.Plan().SetLeg(l))
}

func (s *Session) typeSightText(t plan.Sight, field Field, text string) error {
	old := t
	switch field {
	case FieldName:
		t.Name = tidy(text)
	case FieldNote:
		t.Note = tidyNote(text)
	default:
		return refuse("a sight has no column %q", field)
	}
	if t == old {
		return nil
	}
	return s.do("change "+string(field), "", s.Plan().SetSight(t))
}
