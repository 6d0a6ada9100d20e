package scan

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

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
		name   string
		file   string
		opt    Options
		w, h   int
		dpi    float64
		framed bool
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
			d, err := o.Look(context.Background(), fsys, c.file, c.opt)
			if err != nil || d.Header != s.Header || d.Page == nil || (len(d.Page.Frames) > 0) != c.framed {
				t.Errorf("Look: %+v, %v", d, err)
			}
			if s.Geo.Page == nil || (len(s.Geo.Page.Frames) > 0) != c.framed {
				t.Fatalf("frames of %+v, want some %v", s.Geo.Page, c.framed)
			}
		})
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

// A PDF whose structure cannot be read is still drawn where the renderer mends it. Its
// georeference is then not absent, but unread, and the page says why.
func TestLookSaysWhyAGeoreferenceIsUnread(t *testing.T) {
	t.Parallel()
	broken := regexp.MustCompile(`startxref\n\d+`).ReplaceAll(madePDF("", ""), []byte("startxref\n1"))
	d, err := NewOpener().Look(t.Context(), fstest.MapFS{"map.pdf": {Data: broken}}, "map.pdf", Options{})
	if err != nil {
		t.Fatal(err)
	}
	if d.Page == nil || len(d.Page.Notes) == 0 || !strings.Contains(d.Page.Notes[0], "georeference cannot be read") {
		t.Errorf("got %+v, want a page that says so", d.Page)
	}
}
