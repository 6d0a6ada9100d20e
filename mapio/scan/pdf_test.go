package scan

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"legwright/mapio/pdf"

	"legwright/app/calib"
)

// madePDF is a document of two pages on invented ground: a drawing of 4 × 3
// inches, placed on EPSG:32632 at 20 m a point by its dictionary, and a page of
// 2 × 2 inches that is one grey picture of 100 pixels a side.
func madePDF(extra, content string) []byte {
	if content == "" {
		content = "1 0 0 rg 0 0 72 72 re f"
	}
	picture := strings.Repeat("\x40\xc0", 5000)
	stream := func(head, body string) string {
		return fmt.Sprintf("<< %s /Length %d >>\nstream\n%s\nendstream", head, len(body), body)
	}
	objects := []string{
		"<< /Type /Catalog /Pages 2 0 R >>",
		"<< /Type /Pages /Kids [4 0 R 5 0 R] /Count 2 >>",
		stream("", content),
		"<< /Type /Page /Parent 2 0 R /Contents 3 0 R /MediaBox [0 0 288 216] " +
			"/LGIDict << /CTM [20 0 0 20 612000 5261000] /Projection << /ProjectionType (UT) /Zone 32 /Hemisphere (N) /Datum (WGE) >> >> " + extra + " >>",
		"<< /Type /Page /Parent 2 0 R /Contents 6 0 R /MediaBox [0 0 144 144] /Resources << /XObject << /M 7 0 R >> >> >>",
		stream("", "q 144 0 0 144 0 0 cm /M Do Q"),
		stream("/Type /XObject /Subtype /Image /Width 100 /Height 100 /ColorSpace /DeviceGray /BitsPerComponent 8", picture),
	}
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n")
	at := make([]int, len(objects))
	for i, o := range objects {
		at[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	xref := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, p := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", p)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(objects)+1, xref)
	return b.Bytes()
}

func TestOpenPDF(t *testing.T) {
	t.Parallel()
	data := madePDF("", "")
	fsys := fstest.MapFS{"map.pdf": {Data: data}, "before.pdf": {Data: append([]byte("junk\n"), data...)}}
	o := NewOpener()
	for _, c := range []struct {
		name  string
		file  string
		opt   Options
		w, h  int
		dpi   float64
		place bool
	}{
		{"a drawing", "map.pdf", Options{}, 800, 600, 200, true},
		{"finer", "map.pdf", Options{DPI: 300}, 1200, 900, 300, true},
		{"first page by name", "map.pdf", Options{Page: 1, DPI: 72}, 288, 216, 72, true},
		{"a picture", "map.pdf", Options{Page: 2}, 100, 100, 50, false},
		{"a picture drawn finer", "map.pdf", Options{Page: 2, DPI: 100}, 200, 200, 100, false},
		{"something before the head", "before.pdf", Options{DPI: 72}, 288, 216, 72, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := o.Open(context.Background(), fsys, c.file, c.opt)
			if err != nil {
				t.Fatal(err)
			}
			want := Header{
				Format: "PDF", Width: c.w, Height: c.h, Orientation: 1, DPI: c.dpi, Channels: 4, BitDepth: 8,
				Page: max(1, c.opt.Page), Pages: 2, PageDPI: c.dpi,
			}
			if want.Page == 1 { // lines, no picture
				want.Medium = calib.Drawn
			}
			if s.Header != want {
				t.Errorf("got %+v, want %+v", s.Header, want)
			}
			if b := s.Image.Bounds(); b.Dx() != c.w || b.Dy() != c.h {
				t.Errorf("the picture is %v", b)
			}
			if s.SHA256 != sha256.Sum256(fsys[c.file].Data) {
				t.Error("the hash is not that of the file")
			}
			h, place, err := o.Look(context.Background(), fsys, c.file, c.opt)
			if err != nil || h != s.Header || (place != nil) != c.place {
				t.Errorf("Look: %+v, %v, %v", h, place, err)
			}
			if (s.Place != nil) != c.place {
				t.Fatalf("place %v, want %v", s.Place, c.place)
			}
			if c.place {
				checkPlace(t, s)
			}
		})
	}
}

// checkPlace holds the place against the dictionary's figures: the page's
// lower left at 612000, 5261000 and 20 m a point.
func checkPlace(t *testing.T, s *Scan) {
	t.Helper()
	p := s.Place
	if p.System == nil || p.System.EPSG() != 32632 || p.Matrix == nil || p.Unknown != "" {
		t.Fatalf("got %+v", p)
	}
	m := World{p.Matrix[0], p.Matrix[1], p.Matrix[2], p.Matrix[3], p.Matrix[4], p.Matrix[5]}
	w, h := float64(s.Header.Width), float64(s.Header.Height)
	for _, c := range [][4]float64{{0, h, 612000, 5261000}, {w, 0, 612000 + 288*20, 5261000 + 216*20}} {
		if e, n := m.At(c[0], c[1]); math.Hypot(e-c[2], n-c[3]) > 1e-5 {
			t.Errorf("(%g, %g) lies at %.6f, %.6f, want %g, %g", c[0], c[1], e, n, c[2], c[3])
		}
	}
}

func TestOpenPDFRefused(t *testing.T) {
	t.Parallel()
	giant := bytes.Replace(madePDF("", ""), []byte("[0 0 288 216]"), []byte("[0 0 9999999 99]"), 1)
	large := madePDF("/UserUnit 100", "") // 400 × 300 inches
	for _, c := range []struct {
		name string
		data []byte
		opt  Options
		want error
		say  string
	}{
		{"no such page", madePDF("", ""), Options{Page: 3}, ErrNoPage, "from 1 to 2"},
		{"too coarse", madePDF("", ""), Options{DPI: 1}, ErrUnsupported, "10 to 4800"},
		{"too fine", large, Options{DPI: 600}, ErrTooLarge, "choose 57 or fewer"},
		{"giant", giant, Options{}, ErrCorrupt, ""},
		{"cut", madePDF("", "")[:60], Options{}, ErrCorrupt, "copy it again"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			_, err := openData(context.Background(), "map.pdf", c.data, c.opt)
			if !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.say) {
				t.Errorf("got %v, want %v with %q", err, c.want, c.say)
			}
		})
	}
	s, err := openData(context.Background(), "map.pdf", large, Options{Page: 2})
	if err != nil || s.Header.PageDPI != 50 {
		t.Errorf("the small page of the large document: %v", err)
	}
}

// TestPDFPreview: a small drawing of a large page comes first, and the file
// cannot tell it from the whole.
func TestPDFPreview(t *testing.T) {
	t.Parallel()
	var got *Preview
	s, err := openData(context.Background(), "map.pdf", madePDF("", ""), Options{
		DPI: 1000, Side: 900, Preview: func(v Preview) { got = &v },
	})
	if err != nil {
		t.Fatal(err)
	}
	if got == nil || got.Level != 2 || got.SHA256 != s.SHA256 || got.Header != s.Header {
		t.Fatalf("got %+v", got)
	}
	if b := got.Image.Bounds(); b.Dx() != 1000 || b.Dy() != 750 {
		t.Errorf("the preview is %v", b)
	}
	r, _, _, _ := got.Image.At(100, 700).RGBA()
	_, g, _, _ := got.Image.At(100, 700).RGBA()
	if r != 0xffff || g != 0 {
		t.Error("the red square is not where it was drawn")
	}
}

// TestPDFCancel cancels a page that takes seconds once a part of it is drawn.
func TestPDFCancel(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	for i := range 10_000 {
		fmt.Fprintf(&b, "%d 0 m 0 %d l 288 %d l S\n", i%288, i%144, (i*7)%144)
	}
	data := madePDF("", b.String())
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	told := 0
	_, err := openData(ctx, "map.pdf", data, Options{DPI: 2000, Progress: func(stage string, done, total int64) {
		if stage == StageDecode && done > 0 {
			told++
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) || told != 1 {
		t.Errorf("got %v after %d bands, want %v after the first", err, told, context.Canceled)
	}
}

// frame is a viewport of a made page of 400 by 300 points: a box, a grid, and
// the corners' latitude and longitude.
func frame(kind pdf.Kind, epsg int, box [4]float64, south, west, north, east float64) pdf.Frame {
	f := pdf.Frame{Kind: kind, EPSG: epsg, Degrees: true}
	for _, c := range [][2]float64{{0, 1}, {0, 3}, {2, 3}, {2, 1}} {
		x, y := box[int(c[0])], box[int(c[1])]
		f.Outline = append(f.Outline, [2]float64{x, y})
		lon, lat := west, south
		if x == box[2] {
			lon = east
		}
		if y == box[3] {
			lat = north
		}
		f.Points = append(f.Points, pdf.Point{X: x, Y: y, East: lon, North: lat})
	}
	return f
}

// An inset never stands in for the map, and two statements about one map must
// agree.
// A PDF whose structure cannot be read is still drawn where the renderer mends
// it. Where its map lies is then not "not said", but unread, with the reason.
func TestLookSaysWhyAPlaceIsUnread(t *testing.T) {
	t.Parallel()
	broken := regexp.MustCompile(`startxref\n\d+`).ReplaceAll(madePDF("", ""), []byte("startxref\n1"))
	_, place, err := NewOpener().Look(t.Context(), fstest.MapFS{"map.pdf": {Data: broken}}, "map.pdf", Options{})
	if err != nil {
		t.Fatal(err)
	}
	if place == nil || place.System != nil || !strings.Contains(place.Unknown, "georeference cannot be read") {
		t.Errorf("got %+v, want a place that is unknown because it cannot be read", place)
	}
}

func TestPlaceOfPageWithSeveralMaps(t *testing.T) {
	t.Parallel()
	sheet, corner := [4]float64{0, 0, 400, 250}, [4]float64{300, 255, 390, 295}
	good := frame(pdf.Viewport, 3857, sheet, 47, 9, 47.01, 9.02)
	unknown := frame(pdf.Viewport, 28191, sheet, 47, 9, 47.01, 9.02) // not in the catalogue
	inset := frame(pdf.Viewport, 3857, corner, 45, 5, 48, 12)
	again := frame(pdf.Registration, 3857, sheet, 47, 9, 47.01, 9.02)
	elsewhere := frame(pdf.Registration, 3857, sheet, 43, 9, 43.01, 9.02)
	for _, c := range []struct {
		name    string
		frames  []pdf.Frame
		unknown string // "" for a place
		warns   string
	}{
		{"with an inset", []pdf.Frame{good, inset}, "", "the largest one is taken"},
		{"the map's grid unknown, the inset's known", []pdf.Frame{unknown, inset}, "EPSG:28191, which is not in the catalogue", ""},
		{"twice, one on an unknown grid", []pdf.Frame{unknown, again}, "", ""},
		{"twice alike", []pdf.Frame{again, good}, "", ""},
		{"twice, 400 km apart", []pdf.Frame{elsewhere, good}, "contradict each other", ""},
	} {
		p := pdf.Page{Box: pdf.Box{X1: 400, Y1: 300}, UserUnit: 1, Frames: c.frames}
		got := placeOfPDF(p, Header{Width: 800, Height: 600})
		if got == nil || (c.unknown == "") != (got.System != nil) || !strings.Contains(got.Unknown, c.unknown) {
			t.Errorf("%s: got %+v, want unknown %q", c.name, got, c.unknown)
			continue
		}
		if words := strings.Join(got.Warnings, "; "); !strings.Contains(words, c.warns) || c.warns == "" && strings.Contains(words, "largest") {
			t.Errorf("%s: warns %q, want %q", c.name, words, c.warns)
		}
	}
}
