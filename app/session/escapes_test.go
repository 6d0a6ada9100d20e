package session

import (
	"testing"

	"legwright/app/plan"
)

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

// A leg that begins at a mark recognisable in cloud begins an escape, one that begins where
// an escape ends goes on with it, and of two that end there the selected one.
func TestKeepEscape(t *testing.T) {
	t.Parallel()
	a := ready(t)
	cairn, _ := a.Plan().MarkByID(a.mark)
	start := plan.AtMark(cairn)
	if a.GoesOff(start) {
		t.Error("an escape goes off a mark that nobody called recognisable in cloud")
	}
	must(t, a.SetInCloud(a.mark, true))
	if !a.GoesOff(start) || a.GoesOff(a.end(1234, 567)) {
		t.Error("an escape goes off that mark and not off any position")
	}
	id, err := a.KeepEscape(start, a.end(1000, 1000), "")
	must(t, err)
	if own := a.Plan().EscapesFrom(a.mark); len(own) != 3 || a.Selection().ID != id {
		t.Fatalf("%d escapes begin at the mark, %q is selected", len(own), a.Selection().ID)
	}
	must(t, a.ExtendEscape(a.other, a.end(1000, 1000), ""))
	for _, want := range []plan.ID{a.other, id} {
		a.Select(want)
		e, _ := a.Plan().EscapeByID(want)
		got, err := a.KeepEscape(e.End(), a.end(1100, 1000), "")
		must(t, err)
		now, _ := a.Plan().EscapeByID(want)
		if got != want || len(now.Legs) != len(e.Legs)+1 || a.Selection().ID != want {
			t.Errorf("%q went on in place of %q", got, want)
		}
		must(t, a.ShortenEscape(want))
	}
	if _, err := a.KeepEscape(a.end(1234, 567), a.end(1000, 1000), ""); err == nil {
		t.Error("an escape begins on no mark")
	}
}
