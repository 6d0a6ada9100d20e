package scan

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"image"
	"io"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// madePage is a page of a TIFF that a test writes: grey, not compressed, in
// strips of ten rows.
type madePage struct {
	pix  *image.Gray
	kind uint32 // NewSubfileType: 1 a reduced copy, 4 a mask
}

// pagesTIFF writes a TIFF, little-endian, the pixels of its pages in order and
// the directories before them.
func pagesTIFF(pages ...madePage) []byte {
	le := binary.LittleEndian
	const strip = 10
	dirs := 8
	for _, p := range pages {
		n := (p.pix.Rect.Dy() + strip - 1) / strip
		dirs += 2 + 10*12 + 4 + 8*n
	}
	b, data := []byte("II*\x00\x08\x00\x00\x00"), []byte(nil)
	for i, p := range pages {
		w, h := p.pix.Rect.Dx(), p.pix.Rect.Dy()
		n := (h + strip - 1) / strip
		lists := len(b) + 2 + 10*12 + 4
		var at, counts []byte
		for y := 0; y < h; y += strip {
			rows := min(strip, h-y)
			at = le.AppendUint32(at, uint32(dirs+len(data)))
			counts = le.AppendUint32(counts, uint32(rows*w))
			for r := y; r < y+rows; r++ {
				data = append(data, p.pix.Pix[r*p.pix.Stride:][:w]...)
			}
		}
		b = le.AppendUint16(b, 10)
		for _, e := range [][4]uint32{
			{254, 4, 1, p.kind},
			{tagWidth, 4, 1, uint32(w)},
			{tagHeight, 4, 1, uint32(h)},
			{tagBits, 3, 1, 8},
			{tagCompression, 3, 1, 1},
			{tagPhotometric, 3, 1, 1},
			{273, 4, uint32(n), uint32(lists)},
			{tagSamples, 3, 1, 1},
			{278, 4, 1, strip},
			{279, 4, uint32(n), uint32(lists + 4*n)},
		} {
			if n == 1 && e[0] == 273 {
				e[3] = le.Uint32(at)
			}
			if n == 1 && e[0] == 279 {
				e[3] = le.Uint32(counts)
			}
			b = le.AppendUint16(le.AppendUint16(b, uint16(e[0])), uint16(e[1]))
			b = le.AppendUint32(le.AppendUint32(b, e[2]), e[3])
		}
		next := uint32(lists + 8*n)
		if i == len(pages)-1 {
			next = 0
		}
		b = append(append(le.AppendUint32(b, next), at...), counts...)
	}
	return append(b, data...)
}

// ramp is a grey picture that grows brighter to the right and down.
func ramp(w, h, step int) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, w, h))
	for i := range m.Pix {
		m.Pix[i] = uint8((i%w + i/w) * step)
	}
	return m
}

// hashHeld gives a file whose end is not read by the hash before it may be.
type hashHeld struct {
	fstest.MapFS
	free chan struct{}
}

func (h hashHeld) Open(name string) (fs.File, error) {
	return heldFile{bytes.NewReader(h.MapFS[name].Data), h}, nil
}

type heldFile struct {
	*bytes.Reader
	of hashHeld
}

func (f heldFile) Close() error               { return nil }
func (f heldFile) Stat() (fs.FileInfo, error) { return f.of.MapFS.Stat("a.tif") }

// ReadAt waits where a whole file is read at once, as only the hash does.
func (f heldFile) ReadAt(p []byte, off int64) (int, error) {
	if off == 0 && len(p) > 30_000 {
		<-f.of.free
	}
	return f.Reader.ReadAt(p, off)
}

// TestTIFFPreviewComesBeforeTheHash: the reduced copy of a TIFF is handed out
// while the hash is still being made, without one, and the hash follows; who
// asks for no hash is given both together.
func TestTIFFPreviewComesBeforeTheHash(t *testing.T) {
	t.Parallel()
	small := ramp(100, 75, 1)
	data := pagesTIFF(madePage{ramp(400, 300, 1), 0}, madePage{ramp(200, 150, 1), 1}, madePage{small, 1})
	h := hashHeld{fstest.MapFS{"a.tif": {Data: data}}, make(chan struct{})}
	var got []Preview
	var sum [32]byte
	told := 0
	s, err := Open(t.Context(), h, "a.tif", Options{
		Side:    100,
		Preview: func(p Preview) { got = append(got, p); close(h.free) },
		Hash:    func(v [32]byte) { sum, told = v, told+1 },
	})
	if err != nil || len(got) != 1 {
		t.Fatalf("%v, %d previews, want 1", err, len(got))
	}
	p := got[0]
	if p.Hashed || p.SHA256 != ([32]byte{}) || p.Level != 2 || p.Header != s.Header {
		t.Errorf("hashed %v, level %d of %+v, want level 2 without a hash", p.Hashed, p.Level, p.Header)
	}
	if g, ok := p.Image.(*image.Gray); !ok || !bytes.Equal(g.Pix, small.Pix) {
		t.Errorf("the preview is not the reduced copy")
	}
	if told != 1 || sum != s.SHA256 {
		t.Errorf("hash told %d times, %x, want once %x", told, sum, s.SHA256)
	}
	got = nil
	s, err = openData(t.Context(), "a.tif", data, Options{Side: 100, Preview: func(p Preview) { got = append(got, p) }})
	if err != nil || len(got) != 1 || !got[0].Hashed || got[0].SHA256 != s.SHA256 {
		t.Errorf("without Hash: %v, %d previews, want 1 with the hash", err, len(got))
	}
}

// TestTIFFCutOff: a TIFF that ends in the midst of its picture is refused.
func TestTIFFCutOff(t *testing.T) {
	t.Parallel()
	data := pagesTIFF(madePage{ramp(400, 300, 1), 0})
	if err := openErr(t, "a.tif", data[:len(data)-400*150]); !errors.Is(err, ErrTruncated) || !strings.Contains(err.Error(), "again") ||
		strings.Count(err.Error(), "is cut off") != 1 {
		t.Errorf("%v, want ErrTruncated, said once, and what to do", err)
	}
}

// shrinking is a file that becomes shorter once its first bytes are read.
type shrinking struct{ fstest.MapFS }

func (s shrinking) Open(name string) (fs.File, error) {
	return shrinkingFile{bytes.NewReader(s.MapFS[name].Data), s}, nil
}

type shrinkingFile struct {
	*bytes.Reader
	of shrinking
}

func (f shrinkingFile) Close() error               { return nil }
func (f shrinkingFile) Stat() (fs.FileInfo, error) { return f.of.MapFS.Stat("a") }
func (f shrinkingFile) ReadAt(p []byte, off int64) (int, error) {
	const left = 40_000
	return io.NewSectionReader(f.Reader, 0, left).ReadAt(p, off)
}

// TestFileThatGetsShorter: a file that becomes shorter while it is read is
// said to have changed, whatever the decoder made of it.
func TestFileThatGetsShorter(t *testing.T) {
	t.Parallel()
	for format, data := range map[string][]byte{
		"TIFF": pagesTIFF(madePage{ramp(400, 300, 1), 0}),
		"JPEG": jpegOf(t, noise(400, 300)),
		"PNG":  pngOf(t, noise(400, 300)),
	} {
		if len(data) < 45_000 {
			t.Fatalf("%s: %d bytes are too few for this test", format, len(data))
		}
		ctx, cancel := context.WithTimeout(t.Context(), 5*time.Second)
		s, err := Open(ctx, shrinking{fstest.MapFS{"a": {Data: data}}}, "a", Options{})
		cancel()
		if s != nil || !errors.Is(err, ErrChanged) {
			t.Errorf("%s: got %v, want ErrChanged", format, err)
		}
	}
}

// TestPagesOfTIFF: each page opens as itself, with its number; reduced copies
// and masks are not pages, and a page that is not there is refused.
func TestPagesOfTIFF(t *testing.T) {
	t.Parallel()
	first, second := ramp(60, 40, 2), ramp(50, 70, 1)
	fsys := fstest.MapFS{
		"p.tif": {Data: pagesTIFF(madePage{first, 0}, madePage{ramp(30, 20, 4), 1}, madePage{ramp(60, 40, 0), 4}, madePage{second, 0})},
		"s.tif": {Data: pagesTIFF(madePage{first, 0}, madePage{ramp(30, 20, 4), 1})},
	}
	for _, c := range []struct {
		name      string
		page      int
		want      *image.Gray
		is, of    int
		errorKind error
	}{
		{"p.tif", 0, first, 1, 2, nil},
		{"p.tif", 1, first, 1, 2, nil},
		{"p.tif", 2, second, 2, 2, nil},
		{"p.tif", 3, nil, 0, 0, ErrNoPage},
		{"p.tif", -1, nil, 0, 0, ErrNoPage},
		{"s.tif", 1, first, 0, 0, nil},
		{"s.tif", 2, nil, 0, 0, ErrNoPage},
	} {
		s, err := Open(t.Context(), fsys, c.name, Options{Page: c.page})
		if c.errorKind != nil {
			if !errors.Is(err, c.errorKind) {
				t.Errorf("%s page %d: got %v, want %v", c.name, c.page, err, c.errorKind)
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		if g, ok := s.Image.(*image.Gray); !ok || g.Rect != c.want.Rect || !bytes.Equal(g.Pix, c.want.Pix) {
			t.Errorf("%s page %d is another picture", c.name, c.page)
		}
		if s.Header.Page != c.is || s.Header.Pages != c.of {
			t.Errorf("%s page %d: got page %d of %d, want %d of %d", c.name, c.page, s.Header.Page, s.Header.Pages, c.is, c.of)
		}
	}
	if _, err := openData(t.Context(), "a.png", pngOf(t, first), Options{Page: 2}); !errors.Is(err, ErrNoPage) {
		t.Errorf("page 2 of a PNG: got %v, want ErrNoPage", err)
	}
}
