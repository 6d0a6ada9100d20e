package benchsheet

import (
	"bytes"
	"image"
	_ "image/jpeg"
	_ "image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	_ "golang.org/x/image/tiff"
)

// TestPaperIsAMap draws a small sheet and looks at its pixels: the same every
// time, lively in every part, and no part like another.
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

// TestMirrorHasNoSeam: going over an edge, the texture turns round on the
// pixel it has just shown.
func TestMirrorHasNoSeam(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ i, want int }{
		{0, 0}, {9, 9}, {10, 9}, {11, 8}, {19, 0}, {20, 0}, {-1, 0}, {-10, 9}, {-11, 9}, {-20, 0}, {-21, 0},
	} {
		if got := mirror(c.i, 10); got != c.want {
			t.Errorf("mirror(%d, 10) = %d, want %d", c.i, got, c.want)
		}
	}
}

func TestSizes(t *testing.T) {
	t.Parallel()
	for _, mp := range []int{3, 50, 192, 300} {
		s := Size(mp)
		if got := float64(s.X) * float64(s.Y) / 1e6 / float64(mp); got < 0.99 || got > 1.01 {
			t.Errorf("%d megapixels are %v, %.3f of that", mp, s, got)
		}
	}
}

// TestMake makes the small sheet in every encoding and reads what it became:
// markers as ITU-T T.81 table B.1 has them, tags as TIFF 6.0 section 15.
func TestMake(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("vips"); err != nil {
		t.Skip("needs vips")
	}
	dir := t.TempDir()
	files, err := Make(t.Context(), dir, 3, Kinds()...)
	if err != nil {
		t.Fatal(err)
	}
	marks := map[Kind]struct {
		format string
		holds  []byte
	}{
		JPEG:        {"jpeg", []byte{0xFF, 0xC0, 0, 17, 8, 2143 >> 8, 2143 & 255, 1400 >> 8, 1400 & 255, 3, 1, 0x22}},
		Progressive: {"jpeg", []byte{0xFF, 0xC2, 0, 17, 8, 2143 >> 8, 2143 & 255, 1400 >> 8, 1400 & 255, 3, 1, 0x22}},
		JPEG444:     {"jpeg", []byte{0xFF, 0xC0, 0, 17, 8, 2143 >> 8, 2143 & 255, 1400 >> 8, 1400 & 255, 3, 1, 0x11}},
		PNG:         {"png", []byte("IDAT")},
		TIFF:        {"tiff", []byte{0x42, 0x01, 0x03, 0x00, 1, 0, 0, 0, 0x00, 0x01}}, // TileWidth, SHORT, 1, 256
	}
	for i, k := range Kinds() {
		raw, err := os.ReadFile(files[i])
		if err != nil {
			t.Fatal(err)
		}
		cfg, format, err := image.DecodeConfig(bytes.NewReader(raw))
		want := marks[k]
		if err != nil || format != want.format || cfg.Width != 1400 || cfg.Height != 2143 {
			t.Errorf("%s: %s of %d × %d, %v; want %s of 1400 × 2143", k, format, cfg.Width, cfg.Height, err, want.format)
		}
		if !bytes.Contains(raw, want.holds) {
			t.Errorf("%s does not hold % x", k, want.holds)
		}
	}
	again, err := Make(t.Context(), dir, 3, JPEG)
	if err != nil || again[0] != files[0] {
		t.Errorf("a second time: %v, %v; want %s", again, err, files[0])
	}
	stray := filepath.Join(dir, "sheet-v0-3.jpg")
	if err := os.WriteFile(stray, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := Sweep(dir); err != nil {
		t.Fatal(err)
	}
	if left, _ := os.ReadDir(dir); len(left) != len(Kinds()) {
		t.Errorf("%d files after sweeping, want %d", len(left), len(Kinds()))
	}
}
