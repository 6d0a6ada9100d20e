package scan

import (
	"encoding/binary"
	"image"
	"image/color"
	"math/rand/v2"
	"strings"
	"testing"
)

// TestOrientationTable: the rows abc / def as shown under each orientation.
// The table is written by hand from the words of TIFF 6.0, tag 274 (which
// side of the shown picture the stored row 0 and column 0 are).
func TestOrientationTable(t *testing.T) {
	t.Parallel()
	for o, want := range map[int]string{
		1: "abc def", 2: "cba fed", 3: "fed cba", 4: "def abc",
		5: "ad be cf", 6: "da eb fc", 7: "fc eb da", 8: "cf be ad",
	} {
		m := image.NewGray(image.Rect(0, 0, 3, 2))
		copy(m.Pix, "abcdef")
		for form, img := range map[string]image.Image{
			"png": withOrientation(t, m, o), "gray": orient(clone(m), o),
			"rgba": orient(rgbaOf(m), o), "nrgba": orient(nrgbaOf(m), o), "any": orientAny(m, max(o, 2)),
		} {
			if form == "any" && o == 1 {
				continue
			}
			if got := letters(img); got != want {
				t.Errorf("orientation %d, %s: %q, want %q", o, form, got, want)
			}
		}
	}
}

// withOrientation opens a PNG that carries the orientation in eXIf.
func withOrientation(t *testing.T, m image.Image, o int) image.Image {
	t.Helper()
	s := openBytes(t, "o.png", withChunk(pngOf(t, m), "eXIf", exifBlock(binary.LittleEndian, o, 300)))
	if s.Header.Orientation != o {
		t.Errorf("header says orientation %d, want %d", s.Header.Orientation, o)
	}
	return s.Image
}

func clone(m *image.Gray) *image.Gray {
	out := image.NewGray(m.Rect)
	copy(out.Pix, m.Pix)
	return out
}

func rgbaOf(m image.Image) *image.RGBA {
	out := image.NewRGBA(m.Bounds())
	for y := range m.Bounds().Dy() {
		for x := range m.Bounds().Dx() {
			out.Set(x, y, m.At(x, y))
		}
	}
	return out
}

func nrgbaOf(m image.Image) *image.NRGBA {
	r := rgbaOf(m)
	return &image.NRGBA{Pix: r.Pix, Stride: r.Stride, Rect: r.Rect}
}

func letters(m image.Image) string {
	var rows []string
	b := m.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		row := ""
		for x := b.Min.X; x < b.Max.X; x++ {
			row += string(rune(color.GrayModel.Convert(m.At(x, y)).(color.Gray).Y))
		}
		rows = append(rows, row)
	}
	return strings.Join(rows, " ")
}

// TestOrientYCC turns planes of every subsampling. Luma must be exact; chroma
// must be within what one chroma sample differs from its neighbour.
func TestOrientYCC(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 4))
	for _, ratio := range []image.YCbCrSubsampleRatio{
		image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio422, image.YCbCrSubsampleRatio420,
		image.YCbCrSubsampleRatio440, image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410,
	} {
		for o := 1; o <= 8; o++ {
			w, h := 8*(1+r.IntN(12)), 8*(1+r.IntN(12))
			if o%2 == 0 {
				w, h = w+r.IntN(8), h+r.IntN(8)
			}
			make := func() *image.YCbCr {
				m := image.NewYCbCr(image.Rect(0, 0, w, h), ratio)
				for y := range h {
					for x := range w {
						m.Y[m.YOffset(x, y)] = uint8(100 + (x*31+y*17)%50)
						m.Cb[m.COffset(x, y)] = uint8(100 + x/8)
						m.Cr[m.COffset(x, y)] = uint8(100 + y/8)
					}
				}
				return m
			}
			in, out := make(), orient(make(), o)
			if s := out.Bounds(); o >= 5 && (s.Dx() != h || s.Dy() != w) || o < 5 && (s.Dx() != w || s.Dy() != h) {
				t.Fatalf("%v orientation %d of %d × %d: bounds %v", ratio, o, w, h, s)
			}
			worst := 0
			shownFromStored(out.Bounds(), o, func(shown, stored image.Point) {
				p, q := out.At(shown.X, shown.Y), in.At(stored.X, stored.Y)
				if a, ok := p.(color.YCbCr); ok && a.Y != q.(color.YCbCr).Y {
					t.Fatalf("%v orientation %d: luma %d at %v, want %d", ratio, o, a.Y, shown, q.(color.YCbCr).Y)
				}
				worst = max(worst, apart(p, q))
			})
			if worst > 5 {
				t.Errorf("%v orientation %d of %d × %d: a channel differs by %d, want at most 5", ratio, o, w, h, worst)
			}
		}
	}
}

// shownFromStored walks all pixels by the affine transform, at their centres.
func shownFromStored(b image.Rectangle, o int, f func(shown, stored image.Point)) {
	s := Header{Width: b.Dx(), Height: b.Dy(), Orientation: o}.StoredFromShown()
	for y := range b.Dy() {
		for x := range b.Dx() {
			c, r := float64(x)+0.5, float64(y)+0.5
			f(image.Pt(x, y), image.Pt(int(s[0]*c+s[1]*r+s[2]), int(s[3]*c+s[4]*r+s[5])))
		}
	}
}

// TestOrientedFiles goes through whole files, on pictures large enough to
// have blocks, and checks size, order and resolution along the columns.
func TestOrientedFiles(t *testing.T) {
	t.Parallel()
	m := address(48, 32)
	for o := 1; o <= 8; o++ {
		for name, c := range map[string]struct {
			data      []byte
			tolerance int
		}{
			"a.jpg": {withExif(jpegOf(t, m), o, 300), 40},
			"a.png": {withChunk(pngOf(t, m), "eXIf", exifBlock(binary.LittleEndian, o, 300)), 0},
			"a.tif": {plainTIFF(m, o, 118), 0},
		} {
			s := openBytes(t, name, c.data)
			if b := s.Image.Bounds(); b.Dx() != s.Header.Width || b.Dy() != s.Header.Height {
				t.Fatalf("%s orientation %d: picture %v, header %d × %d", name, o, b, s.Header.Width, s.Header.Height)
			}
			worst := 0
			shownFromStored(s.Image.Bounds(), o, func(shown, stored image.Point) {
				worst = max(worst, apart(s.Image.At(shown.X, shown.Y), m.At(stored.X, stored.Y)))
			})
			if worst > c.tolerance {
				t.Errorf("%s orientation %d: a channel differs by %d, want at most %d", name, o, worst, c.tolerance)
			}
		}
	}
}

// TestTransposeOfLargePlanes: rows that end within a square and gaps between them.
func TestTransposeOfLargePlanes(t *testing.T) {
	t.Parallel()
	for _, px := range []int{1, 4} {
		w, h := 503/px, 401
		stride := w*px + 29
		p := plane{make([]uint8, stride*h), stride, w, h, px}
		at := func(x, y, k int) uint8 { return uint8(1 + (x*7+y*13+k*3)%255) }
		for y := range h {
			for i := range w * px {
				p.pix[y*stride+i] = at(i/px, y, i%px)
			}
		}
		out := p.transpose()
		for y := range w {
			for i := range h * px {
				if got, want := out.pix[y*out.stride+i], at(y, i/px, i%px); got != want {
					t.Fatalf("%d bytes per pixel: column %d of row %d is %d, want %d", px, i/px, y, got, want)
				}
			}
		}
		if out.w != h || out.h != w {
			t.Errorf("%d bytes per pixel: %d × %d, want %d × %d", px, out.w, out.h, h, w)
		}
	}
}
