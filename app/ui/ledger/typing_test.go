package ledger_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/plan"
	"legwright/app/session"
)

// sixty is a ledger of 60 legs with long names.
func sixty(b *testing.B) table {
	b.Helper()
	x := stand(b, 60, fyne.NewSize(1592, 206))
	for i, l := range x.s.Plan().Legs {
		must(b, x.s.NameEnd(l.ID, plan.ToEnd, "the far corner of the old boundary wall "+string(rune('A'+i%26))+string(rune('A'+i/26))))
		must(b, x.s.SetLegField(l.ID, session.FieldTickOff, "houses on both sides, then the end of the wall"))
	}
	return x
}

// BenchmarkLetter types letters into a cell, which the field alone draws. A frame has
// 8 ms for all.
func BenchmarkLetter(b *testing.B) {
	x := sixty(b)
	x.click(2, "note")
	x.typed("a")
	for b.Loop() {
		x.typed("b")
	}
}

// BenchmarkCell types over a cell and keeps it, with all that this sets off and the
// picture that the next frame shows.
func BenchmarkCell(b *testing.B) {
	x := sixty(b)
	for i := 0; b.Loop(); i++ {
		x.click(i%4, "note")
		x.typed([]string{"stile", "gate"}[i/4%2])
		x.keys(fyne.KeyReturn)
		x.Paint(1592, 206)
	}
}
