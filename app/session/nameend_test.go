package session

import (
	"errors"
	"testing"

	"legwright/app/plan"
)

// route keeps three legs that are joined, without any mark, and a sight from the
// end of the first.
func route(t *testing.T) *Session {
	t.Helper()
	s, _, _ := bench(t)
	a, b, c, d := endAt(t, s, 1000, 1000), endAt(t, s, 1200, 900), endAt(t, s, 1400, 1000), endAt(t, s, 1600, 900)
	for _, ends := range [][2]plan.End{{a, b}, {b, c}, {c, d}} {
		_, err := s.KeepLeg(ends[0], ends[1])
		must(t, err)
	}
	_, err := s.KeepSight(b, d)
	must(t, err)
	return s
}

// A new name typed into an end makes a mark there, in one step, and every end that
// is joined stands on it.
func TestNewNameMakesTheMark(t *testing.T) {
	t.Parallel()
	s := route(t)
	before, at := s.Plan(), s.Plan().Legs[0].To.Position
	must(t, s.SetLegField(before.Legs[0].ID, FieldTo, "Sheepfold"))
	p := s.Plan()
	m, ok := p.MarkByName("Sheepfold")
	if !ok || m.Position != at || len(p.Marks) != 1 {
		t.Fatalf("marks %+v, want Sheepfold at %+v", p.Marks, at)
	}
	for name, e := range map[string]plan.End{"leg 1 to": p.Legs[0].To, "leg 2 from": p.Legs[1].From, "sight from": p.Sights[0].From} {
		if e.Mark != m.ID {
			t.Errorf("%s stands on %q, want the mark %q", name, e.Mark, m.ID)
		}
	}
	if p.Legs[1].To.Mark != "" || p.Legs[2].To.Mark != "" {
		t.Error("an end elsewhere was named too")
	}
	must(t, s.SetLegField(p.Legs[1].ID, FieldFrom, "Ruin"))
	if m, _ := s.Plan().MarkByID(m.ID); m.Name != "Ruin" || len(s.Plan().Marks) != 1 {
		t.Errorf("the mark is called %q, want it renamed to Ruin", m.Name)
	}
	s.Undo()
	s.Undo()
	if s.Plan() != before {
		t.Error("naming an end is not one step of undo")
	}
}

// The letter of an end means that end, a text with a slip in it is not a name.
func TestTypedEnds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text  string
		named bool
	}{
		{"Cairn", true},
		{"Point 1045", true},
		{"Ford 2", true},
		{"Ó", true},
		{"NL 22 4", false},
		{"NL 123 45", false},
		{"30U 480000", false},
		{"56.1° N", false},
		{"latlon: 56", false},
		{"12 34 56", false},
		{"grid 123456", false},
	} {
		s := route(t)
		before := s.Plan()
		err := s.SetLegField(before.Legs[2].ID, FieldTo, c.text)
		if _, ok := s.Plan().MarkByName(c.text); ok != c.named || (err == nil) != c.named {
			t.Errorf("%q: named %v, %v; want named %v", c.text, ok, err, c.named)
		}
	}
	s := route(t)
	label := s.Rows()[0].From
	must(t, s.SetLegField(s.Plan().Legs[2].ID, FieldTo, label))
	if !s.Plan().Legs[2].To.Same(s.Plan().Legs[0].From) || len(s.Plan().Marks) != 0 {
		t.Errorf("%q did not lead to the end of that letter", label)
	}
}

// A name one letter off a mark's is refused: the leg would end elsewhere than its
// name says.
func TestMistypedMark(t *testing.T) {
	t.Parallel()
	s := route(t)
	must(t, s.SetLegField(s.Plan().Legs[0].ID, FieldTo, "Cairn"))
	for text, taken := range map[string]bool{"Cairm": false, "Carn": false, "Cairns": false, "cairn2": true, "Stile": true} {
		before := s.Plan()
		err := s.SetLegField(before.Legs[2].ID, FieldTo, text)
		var refused *Refused
		if (err == nil) != taken || (!taken && !errors.As(err, &refused)) {
			t.Errorf("%q: %v, want taken %v", text, err, taken)
		}
		if err == nil {
			s.Undo()
		}
	}
	must(t, s.SetLegField(s.Plan().Legs[0].ID, FieldTo, "Cairns")) // its own name
}

func TestNameEndRefuses(t *testing.T) {
	t.Parallel()
	s := route(t)
	id := s.Plan().Legs[0].ID
	must(t, s.NameEnd(id, plan.ToEnd, "Hut"))
	before := s.Plan()
	for name, err := range map[string]error{
		"empty": s.NameEnd(id, plan.FromEnd, " "), "taken": s.NameEnd(id, plan.FromEnd, "hut"), "no such leg": s.NameEnd("x", plan.ToEnd, "Stile"),
	} {
		if err == nil || s.Plan() != before {
			t.Errorf("%s: %v, plan changed %v; want a refusal", name, err, s.Plan() != before)
		}
	}
}
