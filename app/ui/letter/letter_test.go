package letter

import (
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	face "legwright/assets/look"
)

func newSetter(t testing.TB, scale float32) *Setter {
	t.Helper()
	s, err := New(scale)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestWriteAgreesWithTheDrawer sets the same text with x/image's own drawer,
// which keeps nothing: widths agree exactly, coverage to what a quarter of a
// pixel can move.
func TestWriteAgreesWithTheDrawer(t *testing.T) {
	t.Parallel()
	f, err := opentype.Parse(face.Bold())
	if err != nil {
		t.Fatal(err)
	}
	for _, scale := range []float32{1, 1.25, 1.5, 2} {
		s, st := newSetter(t, scale), Style{15, true}
		const text = "1 240 m ± 20, WAVE"
		theirs, err := opentype.NewFace(f, &opentype.FaceOptions{Size: float64(15 * scale), DPI: 72})
		if err != nil {
			t.Fatal(err)
		}
		want := float32(font.MeasureString(theirs, text)) / 64 / scale
		if got := s.Width(text, st); got != want {
			t.Errorf("scale %v: got width %v, want %v", scale, got, want)
		}
		a, b := image.NewRGBA(image.Rect(0, 0, 400, 60)), image.NewRGBA(image.Rect(0, 0, 400, 60))
		s.Write(a, text, st, 10/scale, 40/scale, color.NRGBA{A: 255})
		d := font.Drawer{Dst: b, Src: image.Black, Face: theirs, Dot: fixed.P(10, 40)}
		d.DrawString(text)
		var off, ink float64
		for i := 3; i < len(a.Pix); i += 4 {
			off += math.Abs(float64(a.Pix[i]) - float64(b.Pix[i]))
			ink += float64(b.Pix[i])
		}
		if ink == 0 || off/ink > 0.2 {
			t.Errorf("scale %v: got pictures that differ by %.2f of their ink, want at most 0.20", scale, off/ink)
		}
	}
}

func TestWriteBlends(t *testing.T) {
	t.Parallel()
	s := newSetter(t, 2)
	img := image.NewRGBA(image.Rect(0, 0, 60, 60))
	for i := 0; i < len(img.Pix); i += 4 {
		copy(img.Pix[i:], []byte{200, 200, 200, 255})
	}
	s.Write(img, "█I", Style{20, true}, 4, 24, color.NRGBA{R: 10, G: 20, B: 30, A: 255})
	darkest := uint8(255)
	for i := 0; i < len(img.Pix); i += 4 {
		if img.Pix[i+3] != 255 {
			t.Fatalf("pixel %d: got alpha %d on an opaque ground, want 255", i/4, img.Pix[i+3])
		}
		darkest = min(darkest, img.Pix[i])
	}
	if darkest != 10 {
		t.Errorf("got %d as the darkest red, want the ink's 10", darkest)
	}
}

// TestOtherScripts looks for letters that B612 lacks: they are drawn, and not
// as the empty box that stands for a missing one.
func TestOtherScripts(t *testing.T) {
	t.Parallel()
	s, st := newSetter(t, 1), Style{13, false}
	var buf sfnt.Buffer
	for _, r := range "Гораρος" {
		if i, err := s.fonts[0][s.set(st).fontOf(r)].GlyphIndex(&buf, r); err != nil || i == 0 {
			t.Errorf("%q: got the empty box, want a letter", r)
		}
	}
	if of := s.set(st).fontOf('Г'); of == 0 {
		t.Errorf("Г: got the face of figures, want one that has the letter")
	}
	if of := s.set(st).fontOf('à'); of != 0 {
		t.Errorf("à: got face %d, want B612's", of)
	}
}

func TestFit(t *testing.T) {
	t.Parallel()
	s, st := newSetter(t, 1), Style{13, false}
	const long = "houses on both sides of the road, then a wall"
	for _, width := range []float32{5, 40, 111, 200, 1000} {
		got := s.Fit(long, st, width)
		if w := s.Width(got, st); w > width && got != "…" {
			t.Errorf("width %v: got %q of %v", width, got, w)
		}
		if got != long && !strings.HasSuffix(got, "…") {
			t.Errorf("width %v: got %q, want an ellipsis where it was cut", width, got)
		}
	}
	if got := s.Fit(long, st, 1000); got != long {
		t.Errorf("got %q, want the whole text", got)
	}
}

func TestNewRefusesScales(t *testing.T) {
	t.Parallel()
	for _, scale := range []float32{0, -1, float32(math.NaN()), float32(math.Inf(1))} {
		if _, err := New(scale); err == nil {
			t.Errorf("scale %v: got no error", scale)
		}
	}
}

// TestKeepsNoMoreThanItMay sets many letters and looks at what is kept.
func TestKeepsNoMoreThanItMay(t *testing.T) {
	t.Parallel()
	s, st := newSetter(t, 1), Style{13, false}
	for r := rune(0x400); r < 0x1400; r++ {
		s.Width(string([]rune{r, r + 1}), st)
	}
	if l := s.set(st); len(l.others) > mostOthers || len(l.kerns) > mostOthers {
		t.Errorf("got %d letters and %d pairs kept, want at most %d", len(l.others), len(l.kerns), mostOthers)
	}
}

func BenchmarkWrite(b *testing.B) {
	s, img := newSetter(b, 1), image.NewRGBA(image.Rect(0, 0, 400, 60))
	b.ReportAllocs()
	for b.Loop() {
		s.Write(img, "GMA 2° east: grid to magnetic, take off 2", Style{11, false}, 10, 40, color.NRGBA{A: 255})
	}
}

// TestNamesOfEveryScriptDiffer holds that no two names are written as the same
// boxes, whatever they are written in.
func TestNamesOfEveryScriptDiffer(t *testing.T) {
	t.Parallel()
	s := newSetter(t, 1)
	for _, pair := range [][2]string{{"Гора", "Озер"}, {"הר", "נח"}, {"جبل", "نهر"}, {"山", "湖"}, {"😀", "😁"}} {
		var pix [2]string
		for i, text := range pair {
			img := image.NewRGBA(image.Rect(0, 0, 120, 30))
			s.Write(img, text, Style{15, false}, 4, 20, color.NRGBA{A: 255})
			pix[i] = string(img.Pix)
			if strings.Trim(pix[i], "\x00") == "" {
				t.Errorf("%q: nothing is drawn", text)
			}
		}
		if pix[0] == pix[1] {
			t.Errorf("%q and %q are written alike", pair[0], pair[1])
		}
	}
}
