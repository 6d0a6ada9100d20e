package ledger_test

import (
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/plan"
	"legwright/app/session"
)

// BenchmarkTyping types into a ledger of 60 legs with long names: a letter, which is
// drawn by the field alone, and a whole cell, with what keeping it sets off and the
// picture that the next frame shows. It reports the 99th of 100 in milliseconds on a
// machine that does nothing else; a frame has 8.
func BenchmarkTyping(b *testing.B) {
	x := stand(b, 60, fyne.NewSize(1592, 206))
	for i, l := range x.s.Plan().Legs {
		must(b, x.s.NameEnd(l.ID, plan.ToEnd, "the far corner of the old boundary wall "+string(rune('A'+i%26))+string(rune('A'+i/26))))
		must(b, x.s.SetLegField(l.ID, session.FieldTickOff, "houses on both sides, then the end of the wall"))
	}
	var letters, cells []float64
	at := func(list *[]float64, act func()) {
		begun := time.Now()
		act()
		*list = append(*list, time.Since(begun).Seconds()*1000)
	}
	for i := 0; b.Loop(); i++ {
		x.click(i%4, "note")
		for _, r := range "stile 12" {
			at(&letters, func() { x.w.Canvas().Focused().TypedRune(r) })
		}
		at(&cells, func() {
			x.keys(fyne.KeyReturn)
			x.Paint(1592, 206)
		})
	}
	b.ReportMetric(ninetyNinth(letters), "ms/letter-p99")
	b.ReportMetric(ninetyNinth(cells), "ms/cell-p99")
}

func ninetyNinth(list []float64) float64 {
	slices.Sort(list)
	return list[len(list)*99/100]
}
