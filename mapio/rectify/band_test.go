package rectify

import (
	"strings"
	"testing"
)

// TestBand: the words fit the width whatever they are, and can be read however
// large the map is.
func TestBand(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("W", 500)
	for _, c := range []struct {
		name          string
		words         []string
		width, height int
		least, most   int // rows of the band
	}{
		{"a small map", []string{"Sheet unchecked.", "By a fit."}, 500, 400, 40, 80},
		{"a large map", []string{"Sheet unchecked.", "By a fit."}, 12_000, 9000, 700, 1200},
		{"a flat map", []string{"Sheet unchecked.", "By a fit."}, 12_000, 500, 60, 200},
		{"a word without end", []string{long}, 400, 400, 200, 1000},
		{"no room for words", []string{"Sheet unchecked."}, 100, 100, 0, 0},
		{"no words", nil, 400, 400, 10, 60},
	} {
		m := newBand(c.words, c.width, c.height)
		if b := m.Bounds(); b.Dx() != c.width || b.Dy() < c.least || b.Dy() > c.most {
			t.Errorf("%s: %d × %d pixels, want %d and %d to %d", c.name, b.Dx(), b.Dy(), c.width, c.least, c.most)
		}
		for y := range m.Bounds().Dy() { // the margins stay clean
			for _, x := range []int{0, 1, c.width - 2, c.width - 1} {
				if v := m.RGBAAt(x, y); y > m.Bounds().Dy()/4 && v.R != 255 {
					t.Fatalf("%s: ink at the edge, %d, %d", c.name, x, y)
				}
			}
		}
	}
}
