package scan

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"io"
	"runtime"
	"strings"
	"testing"

	"golang.org/x/image/tiff"
)

func openErr(t *testing.T, name string, data []byte) error {
	t.Helper()
	s, err := OpenBytes(t.Context(), name, data, Options{})
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
		{"phone.jpg", "\x00\x00\x00\x18ftypheic", "HEIC"},
		{"zero.tif", strings.Repeat("\x00", 5000), "nothing but zeros"},
		{"junk.gif", "\x01\x02\x03\xfe\xfd", "no known kind"},
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
			kb := allocatedKB(func() { _, err = OpenBytes(t.Context(), name, data, Options{}) })
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
		kb := allocatedKB(func() { _, err = OpenBytes(t.Context(), name, data, Options{}) })
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

// TestCutOff: what a JPEG or PNG still holds is shown and the rest is blank;
// the number of rows said is the number of rows that are right.
func TestCutOff(t *testing.T) {
	t.Parallel()
	for name, data := range map[string][]byte{
		"c.jpg": jpegOf(t, noise(320, 256)), "grey.jpg": jpegOf(t, greyNoise(320, 256)), "rst.jpg": restartsOf(t, noise(320, 256)),
		"c.png": pngOf(t, noise(320, 256)), "grey.png": pngOf(t, greyNoise(320, 256)),
	} {
		whole := openBytes(t, name, bytes.Clone(data))
		for _, part := range []int{50, 80} {
			s := openBytes(t, name, data[:len(data)*part/100])
			if !s.Truncated || len(s.Warnings) != 1 || !strings.Contains(s.Warnings[0], "cut off") {
				t.Errorf("%s at %d %%: truncated %v, warnings %q", name, part, s.Truncated, s.Warnings)
				continue
			}
			rows := firstNumber(s.Warnings[0])
			if want := 256 * part / 100; rows < want-28 || rows > want+12 {
				t.Errorf("%s at %d %%: %d of 256 rows shown, want about %d", name, part, rows, want)
			}
			if !rowsAlike(s.Image, whole.Image, rows) {
				t.Errorf("%s at %d %%: the upper %d rows differ from the whole picture's", name, part, rows)
			}
			if rowsAlike(s.Image, whole.Image, rows+17) {
				t.Errorf("%s at %d %%: more rows are right than the %d named", name, part, rows)
			}
		}
	}
}

func firstNumber(s string) int {
	n, seen := 0, false
	for _, r := range s {
		if r >= '0' && r <= '9' {
			n, seen = 10*n+int(r-'0'), true
		} else if seen {
			break
		}
	}
	return n
}

func TestCutOffSmall(t *testing.T) {
	t.Parallel()
	m := noise(100, 80)
	p := progressiveOf(t, m)
	s := openBytes(t, "p.jpg", p[:len(p)*2/3])
	if !s.Truncated || len(s.Warnings) != 1 || !strings.Contains(s.Warnings[0], "finest detail") {
		t.Errorf("progressive: truncated %v, warnings %q", s.Truncated, s.Warnings)
	}
	j := jpegOf(t, m)
	s = openBytes(t, "noend.jpg", j[:len(j)-2])
	if s.Truncated || len(s.Warnings) != 1 || !strings.Contains(s.Warnings[0], "end mark") {
		t.Errorf("without end mark: truncated %v, warnings %q", s.Truncated, s.Warnings)
	}
	for name, data := range map[string][]byte{
		"header.jpg": j[:200], "two.jpg": j[:2], "header.png": pngOf(t, m)[:30], "t.tif": tiffOf(t, m)[:500],
		"b.bmp": bmpOf(t, m)[:500], "hb.bmp": bmpOf(t, m)[:30], "g.gif": gifOf(t, m)[:900], "hg.gif": gifOf(t, m)[:8],
		"w.webp": testFile(t, "address_lossy.webp")[:120], "l.webp": testFile(t, "address_lossless.webp")[:50],
		"hw.webp": testFile(t, "address_lossy.webp")[:16], "ht.tif": tiffOf(t, m)[:6],
	} {
		err := openErr(t, name, data)
		if !errors.Is(err, ErrTruncated) || !strings.Contains(err.Error(), "again") {
			t.Errorf("%s: %v, want ErrTruncated and what to do", name, err)
		}
	}
}

// TestDamagedJPEG flips bytes in the coded data. Damage that moves later
// blocks must not pass in silence: every flip after which the standard
// library refuses the file has to be noticed.
func TestDamagedJPEG(t *testing.T) {
	t.Parallel()
	for name, data := range map[string][]byte{
		"c.jpg": jpegOf(t, noise(160, 128)), "flat.jpg": jpegOf(t, address(48, 32)), "rst.jpg": restartsOf(t, noise(160, 128)),
	} {
		noticed, refused := 0, 0
		start := bytes.Index(data, []byte{0xff, 0xda}) + 14
		for i := range 150 {
			bad := bytes.Clone(data)
			at := start + (i*7919)%(len(data)-start-20)
			bad[at] ^= byte(1 + i*37%255)
			bad[at+5] ^= 0x55
			s := openBytes(t, name, bad)
			if len(s.Warnings) > 0 {
				noticed++
				if !strings.Contains(s.Warnings[0], "damaged") {
					t.Errorf("%s byte %d: %q", name, at, s.Warnings[0])
				}
			}
			if _, err := stdJPEG(bad); err != nil {
				refused++
				if len(s.Warnings) == 0 {
					t.Errorf("%s byte %d: opened without a word, image/jpeg says %v", name, at, err)
				}
			}
		}
		t.Logf("%s: %d of 150 damages noticed, image/jpeg refuses %d", name, noticed, refused)
		if noticed < 50 {
			t.Errorf("%s: %d of 150 damages noticed, want at least a third", name, noticed)
		}
	}
}

func TestDamagedPNG(t *testing.T) {
	t.Parallel()
	for name, data := range map[string][]byte{"c.png": pngOf(t, noise(160, 128)), "pal.png": pngOf(t, palNoise(160, 128))} {
		start := bytes.Index(data, []byte("IDAT")) + 4
		shown := 0
		for i := range 60 {
			bad := bytes.Clone(data)
			bad[start+2+(i*977)%(len(data)-start-20)] ^= byte(1 + i*37%255)
			s, err := OpenBytes(t.Context(), name, bad, Options{})
			if err == nil && len(s.Warnings) == 1 {
				shown++
			} else if !errors.Is(err, ErrCorrupt) && !errors.Is(err, ErrTruncated) {
				t.Errorf("%s flip %d: %v without a warning", name, i, err)
			}
		}
		if shown < 40 {
			t.Errorf("%s: shown in part after %d of 60 flips, want at least 40", name, shown)
		}
	}
}

// TestBadFilterPNG: sound data that holds a row no PNG can have is shown down
// to that row.
func TestBadFilterPNG(t *testing.T) {
	t.Parallel()
	whole := pngOf(t, greyNoise(40, 30))
	out := bytes.NewBuffer(bytes.Clone(whole[:33]))
	z := zlib.NewWriter(chunkWriter{out})
	for y := range 30 {
		row := bytes.Repeat([]byte{90}, 41)
		row[0] = 0
		if y == 20 {
			row[0] = 9
		}
		if _, err := z.Write(row); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	s := openBytes(t, "f.png", appendChunk(out.Bytes(), "IEND", nil))
	if !s.Truncated || len(s.Warnings) != 1 || firstNumber(s.Warnings[0]) != 20 {
		t.Errorf("truncated %v, warnings %q, want 20 rows shown", s.Truncated, s.Warnings)
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
		s := openBytes(t, name, bad)
		if len(s.Warnings) != 1 || !strings.Contains(s.Warnings[0], "do not measure") {
			t.Errorf("%s: warnings %q", name, s.Warnings)
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

// TestDamagedOthers: no panic, and an error of the kinds promised or a
// picture of the size promised.
func TestDamagedOthers(t *testing.T) {
	t.Parallel()
	m := noise(60, 50)
	lzw := encoded(t, func(b *bytes.Buffer) error {
		return tiff.Encode(b, palNoise(60, 50), &tiff.Options{Compression: tiff.Deflate, Predictor: true})
	})
	for name, data := range map[string][]byte{
		"t.tif": tiffOf(t, m), "p.tif": lzw, "g.gif": gifOf(t, m), "b.bmp": bmpOf(t, palNoise(60, 50)), "p.jpg": progressiveOf(t, m),
		"y.webp": testFile(t, "address_lossy.webp"), "l.webp": testFile(t, "address_lossless.webp"),
		"a.webp": testFile(t, "address_alpha.webp"), "cmyk.jpg": testFile(t, "address_cmyk.jpg"),
	} {
		for i := range 400 {
			bad := bytes.Clone(data)
			bad[(i*7919)%len(bad)] ^= byte(1 + i*37%255)
			s, err := OpenBytes(t.Context(), name, bad, Options{})
			checkOpened(t, s, err)
		}
	}
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
	for name, data := range map[string][]byte{
		"twelve.jpg": twelve, "arithmetic.jpg": arithmetic,
	} {
		if err := openErr(t, name, data); !errors.Is(err, ErrUnsupported) || !strings.Contains(err.Error(), "save it again") {
			t.Errorf("%s: %v, want ErrUnsupported and what to do", name, err)
		}
	}
}
