package session

import "testing"

// Escapes are judged once a plan. What moves is judged when it rests.
func TestEscapesAreJudgedOnceAPlan(t *testing.T) {
	t.Parallel()
	a := ready(t)
	first := a.Escapes()
	if len(first.Escapes) != 2 || len(first.Stages) != 3 {
		t.Fatalf("%d escapes and %d stages are judged, want 2 and 3", len(first.Escapes), len(first.Stages))
	}
	same := func() bool { return &a.Escapes().Escapes[0] == &first.Escapes[0] }
	a.Select(a.mark)
	if !same() {
		t.Error("a choice judges them again")
	}
	a.BeginDrag()
	must(t, a.MovePoint(a.mark, 0, a.end(640, 640)))
	must(t, a.MovePoint(a.mark, 0, a.end(650, 640)))
	if !same() {
		t.Error("they are judged while their mark moves")
	}
	a.EndDrag()
	now := a.Escapes()
	if was, is := first.Escapes[0].Legs[0].LengthM, now.Escapes[0].Legs[0].LengthM; same() || was == is {
		t.Errorf("once the mark rests the first leg is still %v m", is)
	}
}
