package lettering

import (
	"image"
	"image/color"
	"math"
	"strings"
	"sync"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"legwright/assets/look"
)

var ink = color.NRGBA{A: 255}

func canvas(w, h int) *image.RGBA { return image.NewRGBA(image.Rect(0, 0, w, h)) }

// TestWriteAgreesWithTheDrawer sets the same text with x/image's own drawer,
// which keeps nothing: widths agree to its rounding of each letter, coverage to
// what a quarter of a pixel can move. No pair of the text is kerned, for x/image
// v0.47 does not bring a kerning in GPOS to the size; TestShapesAsHarfBuzz
// holds kerning.
func TestWriteAgreesWithTheDrawer(t *testing.T) {
	t.Parallel()
	f, err := opentype.Parse(look.Bold())
	if err != nil {
		t.Fatal(err)
	}
	for _, scale := range []float32{1, 1.25, 1.5, 2} {
		s, st := New().At(scale), Style{15, true}
		const text = "1 240 m ± 20, map 57°"
		theirs, err := opentype.NewFace(f, &opentype.FaceOptions{Size: float64(15 * scale), DPI: 72})
		if err != nil {
			t.Fatal(err)
		}
		want := float64(font.MeasureString(theirs, text)) / 64
		if got := float64(s.Width(text, st) * scale); math.Abs(got-want) > float64(len(text))/64 {
			t.Errorf("scale %v: got %v pixels wide, want %v", scale, got, want)
		}
		a, b := canvas(400, 60), canvas(400, 60)
		s.Write(a, text, st, 10/scale, 40/scale, ink)
		d := font.Drawer{Dst: b, Src: image.Black, Face: theirs, Dot: fixed.P(10, 40)}
		d.DrawString(text)
		if off := apart(a, b); off > 0.2 {
			t.Errorf("scale %v: got pictures that differ by %.2f of their ink, want at most 0.20", scale, off)
		}
		m := theirs.Metrics()
		for name, v := range map[string][2]float64{
			"ascent":   {float64(s.Ascent(st) * scale), float64(m.Ascent) / 64},
			"capitals": {float64(s.Cap(st) * scale), float64(m.CapHeight) / 64},
		} {
			if math.Abs(v[0]-v[1]) > 1./32 {
				t.Errorf("scale %v: got %s of %v pixels, want %v", scale, name, v[0], v[1])
			}
		}
	}
}

// apart is by how much the coverage of two pictures differs, as a share of the
// ink of the second.
func apart(a, b *image.RGBA) float64 {
	var off, sum float64
	for i := 3; i < len(a.Pix); i += 4 {
		off += math.Abs(float64(a.Pix[i]) - float64(b.Pix[i]))
		sum += float64(b.Pix[i])
	}
	return off / sum
}

// TestTraceAgreesWithWrite fills the outlines of a line and sets the same line:
// upright they are the same picture, but for the quarters at which letters
// begin. Turned by a right angle they are that picture turned.
func TestTraceAgreesWithWrite(t *testing.T) {
	t.Parallel()
	s := New()
	const text, size = "057° Ágy بل", 40
	written := canvas(300, 80)
	s.Write(written, text, Style{Size: size}, 8, 52, ink)
	fill := func(w, h int, x, y, angle float64) *image.RGBA {
		z, out := vector.NewRasterizer(w, h), canvas(w, h)
		s.Line(text, false).Trace(z, At(x, y, size, angle))
		z.Draw(out, out.Rect, image.Black, image.Point{})
		return out
	}
	upright := fill(300, 80, 8, 52, 0)
	if off := apart(upright, written); off > 0.06 {
		t.Errorf("upright: pictures differ by %.3f of their ink, want at most 0.06", off)
	}
	turned, back := fill(80, 300, 80-52, 8, math.Pi/2), canvas(300, 80)
	for y := range 80 {
		for x := range 300 {
			back.SetRGBA(x, y, turned.RGBAAt(79-y, x))
		}
	}
	if off := apart(back, upright); off > 0.01 {
		t.Errorf("turned: pictures differ by %.3f of their ink, want at most 0.01", off)
	}
	l, top, r, bottom := s.Line(text, false).Bounds()
	box := image.Rect(int(8+l*size), int(52+top*size), int(math.Ceil(8+r*size)), int(math.Ceil(52+bottom*size)))
	for i := 3; i < len(upright.Pix); i += 4 {
		if at := image.Pt(i/4%300, i/4/300); upright.Pix[i] != 0 && !at.In(box) {
			t.Fatalf("ink at %v, outside %v", at, box)
		}
	}
}

func TestWriteBlends(t *testing.T) {
	t.Parallel()
	img := canvas(60, 60)
	for i := 0; i < len(img.Pix); i += 4 {
		copy(img.Pix[i:], []byte{200, 200, 200, 255})
	}
	New().At(2).Write(img, "█I", Style{20, true}, 4, 24, color.NRGBA{R: 10, G: 20, B: 30, A: 255})
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

// TestNamesOfEveryScriptDiffer holds that no two names are written as the same
// boxes, whatever they are written in.
func TestNamesOfEveryScriptDiffer(t *testing.T) {
	t.Parallel()
	s := New()
	for _, pair := range [][2]string{{"Гора", "Озер"}, {"Όρος", "Λίμν"}, {"הר", "נח"}, {"جبل", "نهر"}, {"山", "湖"}, {"😀", "😁"}} {
		var pix [2]string
		for i, text := range pair {
			img := canvas(120, 30)
			s.Write(img, text, Style{15, false}, 4, 20, ink)
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

func TestFit(t *testing.T) {
	t.Parallel()
	s, st := New(), Style{13, false}
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

// A text cut in its middle keeps to the width, its beginning and as much of its end as there is room for.
func TestFitEnd(t *testing.T) {
	t.Parallel()
	s, st := New(), Style{13, false}
	const long = "Loch of the old wall deleted. Undo restores it."
	for _, width := range []float32{5, 40, 111, 200, 1000} {
		got := s.FitEnd(long, st, width)
		if w := s.Width(got, st); w > width && got != "…" {
			t.Errorf("width %v: got %q of %v", width, got, w)
		}
		head, tail, cut := strings.Cut(got, "…")
		if !strings.HasPrefix(long, head) || !strings.HasSuffix(long, tail) || !cut && got != long {
			t.Errorf("width %v: got %q", width, got)
		}
		if keeps := strings.HasSuffix(got, "Undo restores it."); keeps != (width > 150) {
			t.Errorf("width %v: got %q", width, got)
		}
	}
}

// TestWrap: lines keep to their width, and nothing but spaces is lost.
func TestWrap(t *testing.T) {
	t.Parallel()
	s, st := New(), Style{13, false}
	text := "Unchecked sheet: do not walk on " + strings.Repeat("W", 90) + " it"
	for _, width := range []float32{60, 150, 5000} {
		lines := s.Wrap(text, st, width)
		for _, l := range lines {
			if w := s.Width(l, st); w > width {
				t.Errorf("width %v: %q is %v wide", width, l, w)
			}
		}
		got := strings.Join(lines, "")
		if strings.ReplaceAll(got, " ", "") != strings.ReplaceAll(text, " ", "") {
			t.Errorf("width %v: got %q", width, lines)
		}
	}
	if lines := s.Wrap("ab", st, 1); len(lines) != 2 {
		t.Errorf("no room: got %q, want a letter a line", lines)
	}
}

func TestAtKeepsAScale(t *testing.T) {
	t.Parallel()
	s := (*Setter)(nil).At(1.5)
	for _, scale := range []float32{0, -1, float32(math.NaN()), float32(math.Inf(1)), 1.5} {
		if s.At(scale) != s {
			t.Errorf("scale %v: got another setter", scale)
		}
	}
	if got := s.At(2).Scale(); got != 2 {
		t.Errorf("got scale %v, want 2", got)
	}
}

// TestSettersShareNothingThatChanges sets in several goroutines at once, each
// with its own setter: the race detector looks on.
func TestSettersShareNothingThatChanges(t *testing.T) {
	t.Parallel()
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() { New().Write(canvas(200, 40), "057° Гора جبل 山", Style{Size: 15}, 4, 20, ink) })
	}
	wg.Wait()
}
