package benchsheet

import (
	"bytes"
	"image"
	"testing"
)

// TestPaperIsAMap draws a small sheet and looks at its pixels: the same every
// time, and lively in every part.
func TestPaperIsAMap(t *testing.T) {
	t.Parallel()
	p, err := newPaper()
	if err != nil {
		t.Fatal(err)
	}
	size := image.Pt(501, 300)
	var first, second bytes.Buffer
	for _, b := range []*bytes.Buffer{&first, &second} {
		if err := p.writePPM(b, size); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("two drawings differ")
	}
	head := "P6\n501 300\n255\n"
	if got := first.Len(); got != len(head)+3*501*300 || !bytes.HasPrefix(first.Bytes(), []byte(head)) {
		t.Fatalf("%d bytes that begin %q, want %d that begin %q", got, first.Bytes()[:16], len(head)+3*501*300, head)
	}
	pix := first.Bytes()[len(head):]
	for y := 0; y+100 <= 300; y += 100 {
		lo, hi := byte(255), byte(0)
		for _, v := range pix[y*3*501 : (y+100)*3*501] {
			lo, hi = min(lo, v), max(hi, v)
		}
		if hi-lo < 60 {
			t.Errorf("rows from %d span %d grey steps, want 60 at least", y, hi-lo)
		}
	}
}
