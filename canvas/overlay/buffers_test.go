package overlay

import (
	"bytes"
	"fmt"
	"testing"

	"legwright/canvas/view"
)

// A line written with what earlier ones left over looks as it does alone.
func TestLinesFollowingEachOtherLookAsAlone(t *testing.T) {
	t.Parallel()
	p := NewPainter()
	for i := range 60 {
		set, text := fmt.Sprintf("%03d°", i*7), fmt.Sprintf("%.*f m", i%4, float64(i*i)*3.7)
		a, b := view.ScreenPt{X: 400, Y: 300}, view.ScreenPt{X: 400 + float64(i*5), Y: 300 - float64(i*i%200)}
		got, gx, gy := p.Along(set, text, a, b, 1, 900, 700, Beside{})
		want, wx, wy := NewPainter().Along(set, text, a, b, 1, 900, 700, Beside{})
		if gx != wx || gy != wy || got.Rect != want.Rect || !bytes.Equal(got.Pix, want.Pix) {
			t.Fatalf("line %d (%s, %s) differs from the same drawn alone", i, set, text)
		}
	}
}
