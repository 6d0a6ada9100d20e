package scan

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"io"
	"runtime"
	"strings"
	"testing"
)

func openErr(t *testing.T, name string, data []byte) error {
	t.Helper()
	s, err := openData(t.Context(), name, data, Options{})
	if err == nil {
		t.Errorf("%s opened as %+v, want an error", name, s.Header)
	}
	return err
}

// TestNotAPicture names what the content is instead.
func TestNotAPicture(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, data, words string }{
		{"text.png", "Dear all, the map is on the website.\n", `text beginning "Dear all, the map is on the website."`},
		{"latin.png", "\ufeffGrüße", `text beginning "Grüße"`},
		{"empty.jpg", "", "the file is empty"},
		{"web.jpg", "<!DOCTYPE html><p>404", "web page"},
		{"hill.asc", "ncols 403\nnrows 344\n", "open it as terrain"},
		{"N44W072.hgt", "\x01\x02\x03\xfe\xfd", "open it as terrain"},
		{"phone.jpg", "\x00\x00\x00\x18ftypheic", "a HEIC picture: save it as PNG or JPEG first"},
		{"zero.tif", strings.Repeat("\x00", 5000), "nothing but zeros"},
		{"junk.gif", "\x01\x02\x03\xfe\xfd", "not of any known kind; choose a PNG"},
		{"note.bmp", "BM is short for bitmap and this is a text", "text beginning"},
	} {
		err := openErr(t, c.name, []byte(c.data))
		if !errors.Is(err, ErrNotPicture) || !strings.Contains(err.Error(), c.words) || !strings.Contains(err.Error(), c.name) {
			t.Errorf("%s: %q, want ErrNotPicture with %q", c.name, err, c.words)
		}
	}
}

// header100k gives headers that promise 100,000 × 100,000 pixels.
func headersOf(w, h uint32, t *testing.T) map[string][]byte {
	m := address(16, 16)
	p := bytes.Clone(pngOf(t, m))
	binary.BigEndian.PutUint32(p[16:], w)
	binary.BigEndian.PutUint32(p[20:], h)
	p = append(appendChunk(bytes.Clone(p[:8]), "IHDR", p[16:29]), p[33:]...)
	b := bmpOf(t, m)
	binary.LittleEndian.PutUint32(b[18:], w)
	binary.LittleEndian.PutUint32(b[22:], h)
	ti := plainTIFF(m, 1, 100)
	binary.LittleEndian.PutUint32(ti[10+8:], w)
	binary.LittleEndian.PutUint32(ti[22+8:], h)
	return map[string][]byte{"a.png": p, "a.bmp": b, "a.tif": ti}
}

// TestTooLarge: refused from the header, with the limit named and nothing of
// the picture's size allocated.
func TestTooLarge(t *testing.T) {
	for _, c := range []struct {
		w, h  uint32
		words string
	}{{100_000, 100_000, "65535"}, {65_000, 65_000, "400"}, {25_000, 20_000, "at most 400"}, {65_536, 10, "65535"}} {
		for name, data := range headersOf(c.w, c.h, t) {
			var err error
			kb := allocatedKB(func() { _, err = openData(t.Context(), name, data, Options{}) })
			if !errors.Is(err, ErrTooLarge) || !strings.Contains(err.Error(), c.words) {
				t.Errorf("%s %d × %d: %v, want ErrTooLarge naming %s", name, c.w, c.h, err, c.words)
			}
			if kb > 100 {
				t.Errorf("%s %d × %d: %d KB allocated, want at most 100", name, c.w, c.h, kb)
			}
		}
	}
	jpg := jpegOf(t, address(16, 16))
	i := bytes.Index(jpg, []byte{0xff, 0xc0})
	binary.BigEndian.PutUint16(jpg[i+5:], 65535)
	binary.BigEndian.PutUint16(jpg[i+7:], 65535)
	if err := openErr(t, "a.jpg", jpg); !errors.Is(err, ErrTooLarge) || !strings.Contains(err.Error(), "400") {
		t.Errorf("JPEG of 65535 × 65535: %v, want ErrTooLarge", err)
	}
	gif := gifOf(t, address(16, 16))
	copy(gif[6:], "\xff\xff\xff\xff")
	if err := openErr(t, "a.gif", gif); !errors.Is(err, ErrTooLarge) {
		t.Errorf("GIF of 65535 × 65535: %v, want ErrTooLarge", err)
	}
	deep := Header{Format: "PNG", Width: 19000, Height: 19000, Channels: 4, BitDepth: 16}
	if err := checkLimits(deep); !errors.Is(err, ErrTooLarge) || !strings.Contains(err.Error(), "8 bits") {
		t.Errorf("361 megapixels of 8 bytes: %v, want ErrTooLarge", err)
	}
	if err := checkLimits(Header{Format: "JPEG", Width: 14000, Height: 21500, Channels: 3, BitDepth: 8}); err != nil {
		t.Errorf("301 megapixels of JPEG: %v, want no error", err)
	}
}

// TestClaimsOfAGiant: a few bytes that claim a picture within the limits, of
// which they cannot hold a trace, are refused before it is allocated; a real
// one that is cut off to a tenth is not.
func TestClaimsOfAGiant(t *testing.T) {
	jpg := jpegOf(t, address(16, 16))
	i := bytes.Index(jpg, []byte{0xff, 0xc0})
	binary.BigEndian.PutUint16(jpg[i+5:], 14000)
	binary.BigEndian.PutUint16(jpg[i+7:], 21500)
	giants := map[string][]byte{"a.jpg": jpg}
	for name, data := range headersOf(21_500, 14_000, t) {
		if h, err := readHeader(io.NewSectionReader(bytes.NewReader(data), 0, int64(len(data))), 0); err == nil && h.Format == "PNG" {
			giants[name] = data
		}
	}
	if len(giants) != 2 {
		t.Fatalf("%d giants, want a JPEG and a PNG", len(giants))
	}
	for name, data := range giants {
		var err error
		kb := allocatedKB(func() { _, err = openData(t.Context(), name, data, Options{}) })
		if !errors.Is(err, ErrTruncated) || kb > 200 {
			t.Errorf("%s: got %v and %d KB allocated, want ErrTruncated and at most 200", name, err, kb)
		}
	}
	real := Header{Format: "JPEG", Width: 14000, Height: 21500, Channels: 3, BitDepth: 8}
	if err := checkClaims(real, 51_000_000/10); err != nil {
		t.Errorf("a tenth of a sheet: %v", err)
	}
}

// allocatedKB is what f allocates; it counts all goroutines, so a test that
// uses it does not run in parallel.
func allocatedKB(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return (after.TotalAlloc - before.TotalAlloc) >> 10
}

func rowsAlike(a, b image.Image, rows int) bool {
	for y := range rows {
		for x := range a.Bounds().Dx() {
			if apart(a.At(x, y), b.At(x, y)) > 0 {
				return false
			}
		}
	}
	return true
}

// TestCutOff: a picture that ends too soon is refused, whatever its format and
// wherever the cut, with what to do.
func TestCutOff(t *testing.T) {
	t.Parallel()
	m := noise(320, 256)
	for name, data := range map[string][]byte{
		"c.jpg": jpegOf(t, m), "grey.jpg": jpegOf(t, greyNoise(320, 256)), "rst.jpg": restartsOf(t, m), "p.jpg": progressiveOf(t, m),
		"rgb.jpg": asRGB(jpegOf(t, m)), "c.png": pngOf(t, m), "grey.png": pngOf(t, greyNoise(320, 256)), "t.tif": tiffOf(t, m),
		"b.bmp": bmpOf(t, m), "g.gif": gifOf(t, m), "y.webp": testFile(t, "address_lossy.webp"), "l.webp": testFile(t, "address_lossless.webp"),
		"cmyk.jpg": testFile(t, "address_cmyk.jpg"),
	} {
		openBytes(t, name, bytes.Clone(data))
		for _, part := range []int{50, 80, 95} {
			err := openErr(t, name, data[:len(data)*part/100])
			if !errors.Is(err, ErrTruncated) && !errors.Is(err, ErrCorrupt) || !strings.Contains(err.Error(), "again") {
				t.Errorf("%s at %d %%: %v, want ErrTruncated and what to do", name, part, err)
			}
		}
	}
}

func TestCutOffSmall(t *testing.T) {
	t.Parallel()
	m := noise(100, 80)
	j := jpegOf(t, m)
	s := openBytes(t, "noend.jpg", j[:len(j)-2])
	if !rowsAlike(s.Image, openBytes(t, "whole.jpg", j).Image, 80) {
		t.Error("without its end mark alone the picture differs")
	}
	p := progressiveOf(t, m)
	for name, data := range map[string][]byte{
		"header.jpg": j[:200], "two.jpg": j[:2], "header.png": pngOf(t, m)[:30], "t.tif": tiffOf(t, m)[:500],
		"b.bmp": bmpOf(t, m)[:500], "hb.bmp": bmpOf(t, m)[:30], "g.gif": gifOf(t, m)[:900], "hg.gif": gifOf(t, m)[:8],
		"w.webp": testFile(t, "address_lossy.webp")[:120], "l.webp": testFile(t, "address_lossless.webp")[:50],
		"hw.webp": testFile(t, "address_lossy.webp")[:16], "ht.tif": tiffOf(t, m)[:6], "noend.p.jpg": p[:len(p)-2],
	} {
		err := openErr(t, name, data)
		if !errors.Is(err, ErrTruncated) || !strings.Contains(err.Error(), "again") {
			t.Errorf("%s: %v, want ErrTruncated and what to do", name, err)
		}
	}
}

// TestDamagedJPEG flips bytes in the coded data. Damage that moves later blocks
// must not pass in silence: whatever the standard library refuses is refused.
func TestDamagedJPEG(t *testing.T) {
	t.Parallel()
	for name, data := range map[string][]byte{
		"c.jpg": jpegOf(t, noise(160, 128)), "flat.jpg": jpegOf(t, address(48, 32)), "rst.jpg": restartsOf(t, noise(160, 128)),
		"p.jpg": progressiveOf(t, noise(160, 128)), "rgb.jpg": asRGB(jpegOf(t, noise(160, 128))),
	} {
		noticed, refused := 0, 0
		start := bytes.Index(data, []byte{0xff, 0xda}) + 14
		for i := range 150 {
			bad := bytes.Clone(data)
			at := start + (i*7919)%(len(data)-start-20)
			bad[at] ^= byte(1 + i*37%255)
			bad[at+5] ^= 0x55
			s, err := openData(t.Context(), name, bad, Options{})
			checkOpened(t, s, err)
			if err != nil {
				noticed++
			}
			if _, std := stdJPEG(bad); std != nil {
				refused++
				if err == nil {
					t.Errorf("%s byte %d: opened, image/jpeg says %v", name, at, std)
				}
			}
		}
		t.Logf("%s: %d of 150 damages noticed, image/jpeg refuses %d", name, noticed, refused)
		if noticed < 50 {
			t.Errorf("%s: %d of 150 damages noticed, want at least a third", name, noticed)
		}
	}
}

// TestDamagedPNG: each chunk of a PNG has a checksum, so that any flip in its
// data is found.
func TestDamagedPNG(t *testing.T) {
	t.Parallel()
	for name, data := range map[string][]byte{"c.png": pngOf(t, noise(160, 128)), "pal.png": pngOf(t, palNoise(160, 128))} {
		start := bytes.Index(data, []byte("IDAT")) + 4
		for i := range 60 {
			bad := bytes.Clone(data)
			bad[start+2+(i*977)%(len(data)-start-20)] ^= byte(1 + i*37%255)
			if err := openErr(t, name, bad); !errors.Is(err, ErrCorrupt) && !errors.Is(err, ErrTruncated) {
				t.Errorf("%s flip %d: %v, want ErrCorrupt", name, i, err)
			}
		}
	}
}

// TestSpareJPEGData: coded data left over before the end mark means that
// blocks were lost on the way.
func TestSpareJPEGData(t *testing.T) {
	t.Parallel()
	for name, data := range map[string][]byte{"c.jpg": jpegOf(t, noise(40, 30)), "rst.jpg": restartsOf(t, noise(80, 30))} {
		at := len(data) - 2
		if name == "rst.jpg" {
			at = bytes.Index(data, []byte{0xff, 0xd1})
		}
		bad := append(append(bytes.Clone(data[:at]), 0x12, 0x34, 0x56), data[at:]...)
		if err := openErr(t, name, bad); !errors.Is(err, ErrCorrupt) || !strings.Contains(err.Error(), "again") {
			t.Errorf("%s: %v, want ErrCorrupt and what to do", name, err)
		}
	}
}

func palNoise(w, h int) *image.Paletted {
	src := greyNoise(w, h)
	p := make(color.Palette, 168)
	for i := range p {
		p[i] = color.RGBA{uint8(i), uint8(255 - i), 7, 255}
	}
	return &image.Paletted{Pix: src.Pix, Stride: src.Stride, Rect: src.Rect, Palette: p}
}

// checkOpened is what holds for every input.
func checkOpened(t *testing.T, s *Scan, err error) {
	t.Helper()
	if err != nil {
		for _, want := range []error{ErrNotPicture, ErrTooLarge, ErrTruncated, ErrCorrupt, ErrUnsupported} {
			if errors.Is(err, want) {
				return
			}
		}
		t.Errorf("error of no promised kind: %v", err)
		return
	}
	if want := image.Rect(0, 0, s.Header.Width, s.Header.Height); s.Image.Bounds() != want {
		t.Errorf("bounds %v, want %v", s.Image.Bounds(), want)
	}
	if typeName(s.Image) == "another type" {
		t.Errorf("picture of type %T", s.Image)
	}
	b := s.Image.Bounds().Max
	s.Image.At(b.X-1, b.Y-1).RGBA()
}

// TestUnsupported varieties say so.
func TestUnsupported(t *testing.T) {
	t.Parallel()
	j := jpegOf(t, address(16, 16))
	twelve := bytes.Clone(j)
	i := bytes.Index(j, []byte{0xff, 0xc0})
	twelve[i+4] = 12
	arithmetic := bytes.Clone(j)
	arithmetic[i+1] = 0xc9
	le := binary.LittleEndian
	heights := []byte("II*\x00\x08\x00\x00\x00\x0a\x00") // one post, a float of 32 bits
	for _, e := range [][2]uint16{{256, 1}, {257, 1}, {258, 32}, {259, 1}, {262, 1}, {273, 134}, {277, 1}, {278, 1}, {279, 4}, {339, 3}} {
		heights = le.AppendUint16(le.AppendUint16(heights, e[0]), 3)
		heights = le.AppendUint32(le.AppendUint32(heights, 1), uint32(e[1]))
	}
	heights = append(heights, make([]byte, 8)...)
	for _, c := range []struct{ name, data, words string }{
		{"twelve.jpg", string(twelve), "save it again"},
		{"arithmetic.jpg", string(arithmetic), "save it again"},
		{"heights.tif", string(heights), "open it as terrain"},
	} {
		name, data := c.name, []byte(c.data)
		if err := openErr(t, name, data); !errors.Is(err, ErrUnsupported) || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: %v, want ErrUnsupported and what to do", name, err)
		}
	}
}
