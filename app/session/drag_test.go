package session

import (
	"testing"

	"legwright/app/plan"
)

// An end that is dragged over the place of others, and on from there, takes neither
// their letter nor a neighbour along.
func TestADragTakesNothingAlongThatItPasses(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	places := []plan.End{endAt(t, s, 300, 300), endAt(t, s, 500, 300), endAt(t, s, 700, 300), endAt(t, s, 900, 300), endAt(t, s, 1100, 300)}
	for _, ends := range [][2]int{{0, 1}, {2, 3}} { // the route breaks after its first leg
		_, err := s.KeepLeg(places[ends[0]], places[ends[1]])
		must(t, err)
	}
	before := s.Plan()
	names := func(p *plan.Plan) string {
		l, text := p.Labels(), ""
		for e := range p.Ends {
			text += l.Of(e)
		}
		return text
	}
	first := before.Legs[0].ID
	drag := func(stops ...plan.End) {
		s.BeginDrag()
		for _, e := range stops {
			must(t, s.MovePoint(first, int(plan.ToEnd), e))
		}
		s.EndDrag()
	}
	legs := before.Legs
	drag(legs[1].From, legs[1].To, places[4])
	if p := s.Plan(); !p.Legs[1].From.Same(legs[1].From) || !p.Legs[1].To.Same(legs[1].To) || names(p) != "ABCD" {
		t.Errorf("dragged over the next leg: its ends stayed %v and %v, letters %s, want ABCD",
			p.Legs[1].From.Same(legs[1].From), p.Legs[1].To.Same(legs[1].To), names(p))
	}
	drag(legs[1].To, legs[1].From)
	if p := s.Plan(); names(p) != "ACCD" || len(p.Chains()) != 1 {
		t.Errorf("dragged onto the start of the next leg: letters %s in %d chains, want ACCD in one", names(p), len(p.Chains()))
	}
	must(t, s.MovePoint(first, int(plan.ToEnd), places[1])) // both: they are joined now
	if p := s.Plan(); names(p) != "ACCD" || !p.Legs[1].From.Same(places[1]) {
		t.Errorf("moved together: letters %s, want ACCD", names(p))
	}
	for range 3 {
		s.Undo()
	}
	if s.Plan() != before {
		t.Error("each drag is not one step")
	}
}
