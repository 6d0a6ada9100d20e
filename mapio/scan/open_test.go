package scan

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/gif"
	"io"
	"io/fs"
	"math"
	"os"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"
)

func openBytes(t testing.TB, name string, data []byte) *Scan {
	t.Helper()
	s, err := openData(t.Context(), name, data, Options{})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return s
}

func testFile(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestAddressKept opens every format and looks every pixel up.
func TestAddressKept(t *testing.T) {
	t.Parallel()
	m := address(48, 32)
	wide := image.NewRGBA64(m.Rect)
	for y := range 32 {
		for x := range 48 {
			wide.Set(x, y, m.At(x, y))
		}
	}
	for _, c := range []struct {
		name, format string
		data         []byte
		tolerance    int // of a channel
	}{
		{"p.png", "PNG", pngOf(t, m), 0},
		{"deep.png", "PNG", pngOf(t, wide), 0},
		{"j.jpg", "JPEG", jpegOf(t, m), 14},
		{"pj.jpg", "JPEG", progressiveOf(t, m), 14},
		{"rst.jpg", "JPEG", restartsOf(t, m), 14},
		{"t.tif", "TIFF", tiffOf(t, m), 0},
		{"plain.tif", "TIFF", plainTIFF(m, 1, 118), 0},
		{"deep.tif", "TIFF", testFile(t, "address_16.tif"), 0},
		{"b.bmp", "BMP", bmpOf(t, m), 0},
		{"g.gif", "GIF", gifOf(t, m), 64},
		{"l.webp", "WebP", testFile(t, "address_lossless.webp"), 0},
		{"y.webp", "WebP", testFile(t, "address_lossy.webp"), 24},
		{"cmyk.jpg", "JPEG", testFile(t, "address_cmyk.jpg"), 14},
		{"inks.tif", "TIFF", testFile(t, "address_cmyk.tif"), 14},
	} {
		s := openBytes(t, c.name, c.data)
		if s.Header.Format != c.format || s.Header.Width != 48 || s.Header.Height != 32 {
			t.Errorf("%s: header %+v, want %s 48 × 32", c.name, s.Header, c.format)
		}
		if len(s.Notes) > 0 {
			t.Errorf("%s: notes %q", c.name, s.Notes)
		}
		if got, want := s.SHA256, sha256.Sum256(c.data); got != want {
			t.Errorf("%s: hash %x, want %x", c.name, got, want)
		}
		if s.Image.Bounds() != m.Rect {
			t.Fatalf("%s: bounds %v, want %v", c.name, s.Image.Bounds(), m.Rect)
		}
		worst := 0
		for y := range 32 {
			for x := range 48 {
				worst = max(worst, apart(s.Image.At(x, y), m.At(x, y)))
			}
		}
		if worst > c.tolerance {
			t.Errorf("%s: a channel differs by %d, want at most %d", c.name, worst, c.tolerance)
		}
	}
}

func apart(a, b color.Color) int {
	p, q := color.NRGBAModel.Convert(a).(color.NRGBA), color.NRGBAModel.Convert(b).(color.NRGBA)
	d := func(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }
	return max(d(p.R, q.R), d(p.G, q.G), d(p.B, q.B), d(p.A, q.A))
}

// TestForms checks the type each picture arrives in.
func TestForms(t *testing.T) {
	t.Parallel()
	grey := greyNoise(20, 10)
	greyPalette := image.NewPaletted(grey.Rect, color.Palette{color.Gray{9}, color.Gray{200}})
	greyPalette.Pix[3] = 1
	deepGrey := image.NewGray16(grey.Rect)
	deepGrey.SetGray16(4, 5, color.Gray16{0xabcd})
	colours := image.NewPaletted(grey.Rect, color.Palette{color.RGBA{1, 2, 3, 255}, color.RGBA{9, 8, 7, 255}})
	for _, c := range []struct {
		name string
		data []byte
		want image.Image
	}{
		{"grey.png", pngOf(t, grey), (*image.Gray)(nil)},
		{"grey16.png", pngOf(t, deepGrey), (*image.Gray)(nil)},
		{"greypalette.png", pngOf(t, greyPalette), (*image.Gray)(nil)},
		{"colours.png", pngOf(t, colours), (*image.Paletted)(nil)},
		{"grey.jpg", jpegOf(t, grey), (*image.Gray)(nil)},
		{"colour.jpg", jpegOf(t, noise(20, 10)), (*image.YCbCr)(nil)},
		{"cmyk.jpg", testFile(t, "address_cmyk.jpg"), (*image.RGBA)(nil)},
		{"alpha.webp", testFile(t, "address_alpha.webp"), (*image.NRGBA)(nil)},
		{"lossy.webp", testFile(t, "address_lossy.webp"), (*image.YCbCr)(nil)},
		{"grey.tif", tiffOf(t, grey), (*image.Gray)(nil)},
	} {
		s := openBytes(t, c.name, c.data)
		if got, want := typeName(s.Image), typeName(c.want); got != want {
			t.Errorf("%s: %s, want %s", c.name, got, want)
		}
	}
	s := openBytes(t, "grey16.png", pngOf(t, deepGrey))
	if got := s.Image.(*image.Gray).GrayAt(4, 5).Y; got != 0xab {
		t.Errorf("16-bit grey abcd became %x, want ab", got)
	}
	s = openBytes(t, "greypalette.png", pngOf(t, greyPalette))
	if got := s.Image.(*image.Gray).Pix[2:4]; got[0] != 9 || got[1] != 200 {
		t.Errorf("grey palette gave %v, want [9 200]", got)
	}
}

func typeName(m image.Image) string {
	switch m.(type) {
	case *image.Gray:
		return "Gray"
	case *image.YCbCr:
		return "YCbCr"
	case *image.RGBA:
		return "RGBA"
	case *image.NRGBA:
		return "NRGBA"
	case *image.Paletted:
		return "Paletted"
	}
	return "another type"
}

// TestPaletteIndexBeyond: an index beyond the palette panics in the standard
// library and, worse, inside a goroutine of imaging (CVE-2023-36308).
func TestPaletteIndexBeyond(t *testing.T) {
	t.Parallel()
	m := image.NewPaletted(image.Rect(0, 0, 4, 4), color.Palette{color.RGBA{200, 0, 0, 255}, color.White})
	m.Pix[5] = 77
	for o := 1; o <= 8; o++ {
		p := image.NewPaletted(m.Rect, m.Palette)
		copy(p.Pix, m.Pix)
		got := orient(plain(p), o)
		black := 0
		for y := range 4 {
			for x := range 4 {
				if apart(got.At(x, y), color.Black) == 0 {
					black++
				}
			}
		}
		if black != 1 {
			t.Errorf("orientation %d: %d black pixels for one bad index, want 1", o, black)
		}
	}
}

// TestGIFFirstFrame: a first picture that covers only part of the screen, as in an
// animation, is refused.
func TestGIFFirstFrame(t *testing.T) {
	t.Parallel()
	m := image.NewPaletted(image.Rect(2, 1, 5, 3), color.Palette{color.RGBA{200, 0, 0, 255}, color.RGBA{}})
	data := encoded(t, func(b *bytes.Buffer) error {
		return gif.EncodeAll(b, &gif.GIF{Image: []*image.Paletted{m}, Delay: []int{0}, Config: image.Config{Width: 8, Height: 4, ColorModel: m.Palette}})
	})
	if err := openErr(t, "part.gif", data); !errors.Is(err, ErrCorrupt) || !strings.Contains(err.Error(), "save it again") {
		t.Errorf("%v, want ErrCorrupt and what to do", err)
	}
}

// TestDPI takes the resolution from every place that can hold it.
func TestDPI(t *testing.T) {
	t.Parallel()
	jfif := func(unit byte, x, y uint16) []byte {
		b := []byte("JFIF\x00\x01\x02")
		b = append(b, unit)
		b = binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16(b, x), y)
		return append(b, 0, 0)
	}
	phys := func(x, y uint32, unit byte) []byte {
		return append(binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, x), y), unit)
	}
	m := address(48, 32)
	j, p := jpegOf(t, m), pngOf(t, m)
	bm := bmpOf(t, m)
	binary.LittleEndian.PutUint32(bm[38:], 11811)
	for _, c := range []struct {
		name string
		data []byte
		want float64
	}{
		{"none.jpg", j, 0},
		{"inch.jpg", withSegment(j, 0xe0, jfif(1, 300, 300)), 300},
		{"cm.jpg", withSegment(j, 0xe0, jfif(2, 100, 100)), 254},
		{"aspect.jpg", withSegment(j, 0xe0, jfif(0, 300, 300)), 0},
		{"exif.jpg", withExif(j, 1, 400), 400},
		{"both.jpg", withExif(withSegment(j, 0xe0, jfif(1, 300, 300)), 1, 400), 300},
		{"turned.jpg", withExif(withSegment(j, 0xe0, jfif(1, 300, 200)), 6, 400), 200},
		{"none.png", p, 0},
		{"phys.png", withChunk(p, "pHYs", phys(11811, 11811, 1)), 300},
		{"aspect.png", withChunk(p, "pHYs", phys(11811, 11811, 0)), 0},
		{"exif.png", withChunk(p, "eXIf", exifBlock(binary.LittleEndian, 1, 600)), 600},
		{"cm.tif", plainTIFF(m, 1, 100), 254},
		{"metre.bmp", bm, 300},
		{"wild.jpg", withSegment(j, 0xe0, jfif(1, 65535, 65535)), 0},
	} {
		h, err := ReadHeader(fstest.MapFS{c.name: {Data: c.data}}, c.name)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if math.Abs(h.DPI-c.want) > 1e-9 {
			t.Errorf("%s: %g dpi, want %g", c.name, h.DPI, c.want)
		}
	}
}

// onlyRead hides everything but the least a file must have.
type onlyRead struct{ fs.FS }

func (o onlyRead) Open(name string) (fs.File, error) {
	f, err := o.FS.Open(name)
	if err != nil {
		return nil, err
	}
	return struct{ fs.File }{f}, nil
}

func TestOpenWithoutReadAt(t *testing.T) {
	t.Parallel()
	data := tiffOf(t, address(48, 32))
	s, err := Open(t.Context(), onlyRead{fstest.MapFS{"a/b.tif": {Data: data}}}, "a/b.tif", Options{})
	if err != nil || s.Image.Bounds().Dx() != 48 {
		t.Fatalf("got %v, %v", s, err)
	}
	_, err = Open(t.Context(), fstest.MapFS{}, "gone.png", Options{})
	if !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("missing file: %v, want fs.ErrNotExist", err)
	}
	_, err = Open(t.Context(), fstest.MapFS{"d/x.png": {}}, "d", Options{})
	if !errors.Is(err, ErrNotPicture) {
		t.Errorf("folder: %v, want ErrNotPicture", err)
	}
}

func TestProgress(t *testing.T) {
	t.Parallel()
	for name, data := range map[string][]byte{
		"n.png": pngOf(t, noise(600, 400)), "n.jpg": jpegOf(t, noise(600, 400)), "n.tif": tiffOf(t, noise(600, 400)),
	} {
		var stage string
		var last int64 = -1
		calls := 0
		_, err := openData(t.Context(), name, data, Options{Progress: func(s string, done, total int64) {
			if s != stage {
				stage, last = s, -1
			}
			if done <= last || done > total || total <= 0 {
				t.Errorf("%s: %s %d of %d after %d", name, s, done, total, last)
			}
			last = done
			calls++
		}})
		if err != nil {
			t.Fatal(err)
		}
		if stage != StageDecode || last != 400 || calls < 2 || calls > 500 {
			t.Errorf("%s: ended with %s %d after %d calls, want %s 400", name, stage, last, calls, StageDecode)
		}
	}
}

// A large picture in a small file is decoded with reports of progress, though the file is
// read at once.
func TestProgressOfASmallFile(t *testing.T) {
	t.Parallel()
	img := image.NewGray(image.Rect(0, 0, 3000, 3000))
	for i := range img.Pix {
		img.Pix[i] = uint8(i/3000*(i%3000)>>16) & 31
	}
	data := pngOf(t, img)
	if len(data) > 256<<10 {
		t.Fatalf("%d bytes: the test tries nothing", len(data))
	}
	steps := 0
	_, err := openData(t.Context(), "small.png", data, Options{Progress: func(_ string, done, total int64) {
		if done > 0 && done < total {
			steps++
		}
	}})
	if err != nil || steps < 5 {
		t.Errorf("%v: %d steps between the begin and the end of %d bytes, want at least 5", err, steps, len(data))
	}
}

// slowFS delivers a file in small pieces, as a failing drive, and tells of each.
type slowFS struct {
	data []byte
	read func()
}

func (s slowFS) Open(string) (fs.File, error) {
	return &slowFile{at: bytes.NewReader(s.data), read: s.read}, nil
}

type slowFile struct {
	fs.File
	at   *bytes.Reader
	read func()
}

func (f *slowFile) Stat() (fs.FileInfo, error) {
	return fs.Stat(fstest.MapFS{"x": {Data: make([]byte, f.at.Size())}}, "x")
}
func (f *slowFile) Close() error { return nil }
func (f *slowFile) ReadAt(p []byte, off int64) (int, error) {
	f.read()
	return f.at.ReadAt(p[:min(len(p), 4096)], off)
}

func (f *slowFile) Read(p []byte) (int, error) { return 0, io.EOF }

// TestCancelled cancels at the tenth piece of a file that comes in hundreds.
func TestCancelled(t *testing.T) {
	t.Parallel()
	data := noisePNG()
	ctx, cancel := context.WithCancel(t.Context())
	var pieces atomic.Int64
	s, err := Open(ctx, slowFS{data, func() {
		if pieces.Add(1) == 10 {
			cancel()
		}
	}}, "n.png", Options{})
	if s != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, %v, want context.Canceled", s, err)
	}
	if most := int64(len(data) / 4096 / 2); pieces.Load() > most {
		t.Errorf("%d pieces were read, want fewer than %d", pieces.Load(), most)
	}
}

// hungFS is a drive that stops answering in the midst of a file.
type hungFS struct {
	slowFS
	free chan struct{}
}

func (h hungFS) Open(string) (fs.File, error) {
	return &hungFile{slowFile{at: bytes.NewReader(h.data), read: h.read}, h.free}, nil
}

type hungFile struct {
	slowFile
	free chan struct{}
}

func (f *hungFile) ReadAt(p []byte, off int64) (int, error) {
	if off > 100_000 {
		f.read()
		<-f.free
	}
	return f.at.ReadAt(p, off)
}

// TestCancelledWhileHung: the answer does not wait for the decoder either.
func TestCancelledWhileHung(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	h := hungFS{slowFS{noisePNG(), cancel}, make(chan struct{})}
	defer close(h.free)
	if _, err := Open(ctx, h, "n.png", Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want context.Canceled", err)
	}
}

// TestOneAtATime: an Opener does not begin a second decode before the first,
// cancelled, has ended.
func TestOneAtATime(t *testing.T) {
	t.Parallel()
	o := NewOpener()
	o.slot <- struct{}{} // a decode that still runs out
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer cancel()
	fsys := fstest.MapFS{"a.png": {Data: pngOf(t, address(48, 32))}}
	if _, err := o.Open(ctx, fsys, "a.png", Options{}); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("while another decode runs: %v, want a deadline error", err)
	}
	<-o.slot
	if _, err := o.Open(t.Context(), fsys, "a.png", Options{}); err != nil {
		t.Errorf("after it: %v", err)
	}
	if _, err := o.Open(t.Context(), fsys, "a.png", Options{}); err != nil {
		t.Errorf("a third time: %v", err)
	}
}

// A file name that is not a text is refused as that, not as an invalid argument.
func TestOpenANameThatIsNoText(t *testing.T) {
	t.Parallel()
	_, err := Open(t.Context(), fstest.MapFS{}, "isle\xff.png", Options{})
	if !errors.Is(err, fs.ErrInvalid) || !strings.Contains(err.Error(), "rename it") {
		t.Errorf("got %v, want advice to rename it", err)
	}
}
