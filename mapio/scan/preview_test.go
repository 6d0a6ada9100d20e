package scan

import (
	"bytes"
	"context"
	"errors"
	"image"
	"io/fs"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"
)

// TestPreview: a preview comes once, before Open returns, at the level asked
// for, turned like the picture, and shows its means to 6 of 255 in a channel
// of a smooth picture (chroma is coded at half size). Progressive JPEG has none.
func TestPreview(t *testing.T) {
	t.Parallel()
	m := image.NewRGBA(image.Rect(0, 0, 320, 192))
	for i := range m.Pix {
		x, y := i/4%320, i/4/320
		m.Pix[i] = [4]uint8{uint8(x / 2), uint8(y), uint8((x + y) / 3), 255}[i%4]
	}
	plain := jpegOf(t, m)
	for o := 1; o <= 8; o++ {
		for side, level := range map[int]int{40: 3, 50: 2, 81: 1} {
			var got []Preview
			s, err := openData(t.Context(), "plain", withExif(plain, o, 300), Options{Side: side, Preview: func(p Preview) { got = append(got, p) }})
			if err != nil || len(got) != 1 {
				t.Fatalf("orientation %d: %v, %d previews", o, err, len(got))
			}
			p := got[0]
			if p.Level != level || p.SHA256 != s.SHA256 || p.Header != s.Header {
				t.Errorf("side %d: level %d of %+v, want %d of %+v", side, p.Level, p.Header, level, s.Header)
			}
			checkMeans(t, p, s.Image)
		}
	}
	passes := Options{Side: 40, Preview: func(Preview) { t.Error("a preview of a progressive JPEG") }}
	if _, err := openData(t.Context(), "passes", progressiveOf(t, m), passes); err != nil {
		t.Error(err)
	}
	none := Options{Side: 200, Preview: func(Preview) { t.Error("a preview of the picture's own size") }}
	if _, err := openData(t.Context(), "small", jpegOf(t, m), none); err != nil {
		t.Error(err)
	}
}

func checkMeans(t *testing.T, p Preview, whole image.Image) {
	t.Helper()
	f := 1 << p.Level
	b := p.Image.Bounds()
	if want := image.Rect(0, 0, whole.Bounds().Dx()/f, whole.Bounds().Dy()/f); b != want {
		t.Fatalf("level %d: bounds %v, want %v", p.Level, b, want)
	}
	for y := range b.Dy() {
		for x := range b.Dx() {
			// of a smooth picture the middle is the mean
			if d := apart(p.Image.At(x, y), whole.At(x*f+f/2, y*f+f/2)); d > 6 {
				t.Fatalf("level %d (%d, %d): a channel differs by %d, want at most 6", p.Level, x, y, d)
			}
		}
	}
}

// pulledFS fails behind the first bytes, as a drive that is pulled.
type pulledFS struct {
	slowFS
	after int64
}

func (p pulledFS) Open(string) (fs.File, error) {
	return &pulledFile{slowFile{at: bytes.NewReader(p.data)}, p.after}, nil
}

type pulledFile struct {
	slowFile
	after int64
}

func (f *pulledFile) ReadAt(p []byte, off int64) (int, error) {
	if off+int64(len(p)) > f.after && f.after < f.at.Size() && off > f.after-70_000 {
		return 0, fs.ErrInvalid
	}
	return f.at.ReadAt(p, off)
}

// TestDrivePulled: an error of the drive is passed on with words, whatever
// the format.
func TestDrivePulled(t *testing.T) {
	t.Parallel()
	m := noise(500, 400)
	for name, data := range map[string][]byte{
		"a.jpg": jpegOf(t, m), "p.jpg": progressiveOf(t, m), "a.png": pngOf(t, m), "a.tif": tiffOf(t, m), "a.bmp": bmpOf(t, m),
	} {
		_, err := Open(t.Context(), pulledFS{slowFS{data, func() {}}, int64(len(data)) / 2}, name, Options{})
		if !errors.Is(err, ErrReading) || !errors.Is(err, fs.ErrInvalid) {
			t.Errorf("%s: %v, want ErrReading with the drive's own error", name, err)
		}
	}
}

// changingFS gives another time of change, or nothing, from the second look.
type changingFS struct {
	fstest.MapFS
	looks *int
	gone  bool
}

func (c changingFS) Open(name string) (fs.File, error) { return c.MapFS.Open(name) }

func (c changingFS) Stat(name string) (fs.FileInfo, error) {
	*c.looks++
	if c.gone {
		return nil, fs.ErrNotExist
	}
	return fs.Stat(fstest.MapFS{name: {Data: c.MapFS[name].Data, ModTime: time.Unix(9, 0)}}, name)
}

// TestFileChanged: a file that is replaced while it is read is refused; one
// that is removed gives its picture with a note.
func TestFileChanged(t *testing.T) {
	t.Parallel()
	whole := jpegOf(t, noise(90, 70))
	for _, c := range []struct {
		name  string
		data  []byte
		gone  bool
		fails bool
	}{
		{"replaced", whole, false, true},
		{"removed", whole, true, false},
		{"replaced by a piece", whole[:100], false, true},
	} {
		looks := 0
		s, err := Open(t.Context(), changingFS{fstest.MapFS{"a.jpg": {Data: c.data}}, &looks, c.gone}, "a.jpg", Options{})
		switch {
		case looks == 0:
			t.Errorf("%s: the file was not looked at again", c.name)
		case c.fails && !errors.Is(err, ErrChanged), !c.fails && err != nil:
			t.Errorf("%s: error %v, want one %v", c.name, err, c.fails)
		case !c.fails && len(s.Notes) != 1:
			t.Errorf("%s: notes %q", c.name, s.Notes)
		}
	}
}

// TestCancelledDecoding: the decoding of a big JPEG stops before its last row,
// and its slot is free again.
func TestCancelledDecoding(t *testing.T) {
	t.Parallel()
	data := jpegOf(t, noise(1000, 2000))
	o := NewOpener()
	ctx, cancel := context.WithCancel(t.Context())
	var decoded atomic.Int64
	opt := Options{Progress: func(stage string, done, _ int64) {
		if stage == StageDecode && done > 200 {
			decoded.Store(done)
			cancel()
		}
	}}
	_, err := o.Open(ctx, fstest.MapFS{"a.jpg": {Data: data}}, "a.jpg", opt)
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want context.Canceled", err)
	}
	o.slot <- struct{}{} // waits for the decoder
	if n := decoded.Load(); n == 0 || n >= 2000 {
		t.Errorf("%d of 2000 rows were decoded", n)
	}
}

// TestGrown: a reduced page whose sides were rounded down gets the missing
// row and column from its last.
func TestGrown(t *testing.T) {
	t.Parallel()
	m := address(7, 5)
	got := grown(m, image.Pt(8, 6))
	if got.Bounds() != image.Rect(0, 0, 8, 6) {
		t.Fatalf("bounds %v, want 8 × 6", got.Bounds())
	}
	for y := range 6 {
		for x := range 8 {
			if apart(got.At(x, y), m.At(min(x, 6), min(y, 4))) != 0 {
				t.Errorf("(%d, %d) is %v", x, y, got.At(x, y))
			}
		}
	}
}
