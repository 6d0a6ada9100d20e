package jpg

import (
	"bytes"
	"errors"
	"image"
	"io"
	"testing"

	"github.com/gen2brain/jpegn"
)

// TestBegin: the picture is handed out before its first row, the reported
// number of rows grows up to all of them, and rows reported are those of the ordinary
// decoding already. Pictures in several passes are refused.
func TestBegin(t *testing.T) {
	t.Parallel()
	m := sheet(331, 277)
	for name, o := range kinds() {
		data := coded(t, m, o)
		want, err := Decode(t.Context(), bytes.NewReader(data), Options{})
		if err != nil {
			t.Fatal(name, err)
		}
		var img image.Image
		told := []int{0}
		got, err := Decode(t.Context(), bytes.NewReader(data), Options{
			Begin: func(m image.Image) { img = m },
			Room: func(n int) []uint8 {
				b := make([]uint8, n)
				for i := range b {
					b[i] = 0xa5
				}
				return b
			},
			Pixels: func(rows int) {
				if rows < told[len(told)-1] {
					t.Errorf("%s: row %d told after %d", name, rows, told[len(told)-1])
				}
				told = append(told, rows)
				if !sameAbove(img, want, rows) {
					t.Errorf("%s: the upper %d rows are not there yet", name, rows)
				}
			},
		})
		if o.Progressive {
			if !errors.Is(err, ErrUnsupported) || img != nil {
				t.Errorf("%s: %v, begun %v, want a refusal", name, err, img != nil)
			}
			continue
		}
		if err != nil || worst(got, want) != 0 || img == nil {
			t.Errorf("%s: %v, differs by %d", name, err, worst(got, want))
		}
		if last := told[len(told)-1]; last != 277 || len(told) < 10 {
			t.Errorf("%s: told up to row %d of 277 in %d steps", name, last, len(told))
		}
	}
}

// sameAbove says that the upper rows of two pictures are the same.
func sameAbove(a, b image.Image, rows int) bool {
	cut := image.Rect(0, 0, a.Bounds().Dx(), rows)
	type cuts interface {
		SubImage(image.Rectangle) image.Image
	}
	return rows == 0 || worst(a.(cuts).SubImage(cut), b.(cuts).SubImage(cut)) == 0
}

// TestBeginCutOff: rows that did not come as a whole are not told of.
func TestBeginCutOff(t *testing.T) {
	t.Parallel()
	data := coded(t, sheet(320, 320), jpegn.EncodeOptions{})
	whole, err := Decode(t.Context(), bytes.NewReader(data), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var img image.Image
	most := 0
	_, err = Decode(t.Context(), bytes.NewReader(data[:len(data)/2]), Options{
		Begin: func(m image.Image) { img = m }, Pixels: func(rows int) { most = rows },
	})
	if !errors.Is(err, io.ErrUnexpectedEOF) || most < 64 || most > 240 || !sameAbove(img, whole, most) {
		t.Errorf("%v, told of %d rows; want an unexpected end and no more than what came", err, most)
	}
}
