package tiff

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"io"
	"runtime"
	"slices"
	"strings"
	"testing"
)

func deflated(t testing.TB, p []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z, err := zlib.NewWriterLevel(&b, zlib.BestSpeed)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := z.Write(p); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// refused says that a page gives no picture, whole or from top to bottom, but an
// error of a kind.
func refused(t testing.TB, what string, p *Page, want error) {
	t.Helper()
	m, err := p.Decode(t.Context(), p.Bounds(), nil)
	if m != nil || !errors.Is(err, want) {
		t.Errorf("%s: picture %v, %v, want %v", what, m != nil, err, want)
	}
	down := p.decodeDown(t.Context(), max(32, 2*p.ChunkHeight), dirty, func(image.Image) {}, func(int) {})
	if !errors.Is(down, want) && !errors.Is(down, ErrUnsupported) {
		t.Errorf("%s: from top to bottom it ends with %v, want %v", what, down, want)
	}
}

// edit gives a copy with a directory entry's value overwritten.
func edit(t testing.TB, data []byte, tag uint16, change func(entry []byte)) []byte {
	t.Helper()
	out := slices.Clone(data)
	at := int(binary.LittleEndian.Uint32(out[4:]))
	n := int(binary.LittleEndian.Uint16(out[at:]))
	for i := range n {
		e := out[at+2+12*i:][:12]
		if binary.LittleEndian.Uint16(e) == tag {
			change(e)
			return out
		}
	}
	t.Fatalf("no tag %d", tag)
	return nil
}

func set(v uint32) func([]byte) {
	return func(e []byte) { binary.LittleEndian.PutUint32(e[8:], v) }
}

func count(v uint32) func([]byte) {
	return func(e []byte) { binary.LittleEndian.PutUint32(e[4:], v) }
}

// TestBadFiles: what each kind of wrong file gives, from Open or Decode.
func TestBadFiles(t *testing.T) {
	t.Parallel()
	good := simple(binary.LittleEndian, false, 20, 12, 4)
	at := binary.LittleEndian.Uint32(good[4:])
	for _, c := range []struct {
		name string
		data []byte
		want error
	}{
		{"empty", nil, ErrTruncated},
		{"seven bytes", good[:7], ErrTruncated},
		{"no TIFF", []byte("GIF89a and more"), ErrNotTIFF},
		{"unknown version", append([]byte("II\x2c\x00"), good[4:]...), ErrNotTIFF},
		{"no directory", append([]byte("II\x2a\x00\x00\x00\x00\x00"), good[8:]...), ErrCorrupt},
		{"directory beyond the end", append([]byte("II\x2a\x00\xff\xff\xff\x7f"), good[8:]...), ErrTruncated},
		{"cut within the directory", good[:at+20], ErrTruncated},
		{"BigTIFF with wide offsets", append([]byte("II\x2b\x00\x10\x00\x00\x00"), good[8:]...), ErrCorrupt},
		{"BigTIFF, offset past all files", append([]byte("II\x2b\x00\x08\x00\x00\x00\xff\xff\xff\xff\xff\xff\xff\xff"), good...), ErrTruncated},
		{"no width", edit(t, good, tagImageWidth, set(0)), ErrCorrupt},
		{"wide beyond reason", edit(t, good, tagImageWidth, set(0xffffffff)), ErrCorrupt},
		{"65,535 × 65,535", edit(t, edit(t, good, tagImageWidth, set(65535)), tagImageLength, set(65535)), ErrTooLarge},
		{"long beyond the data", edit(t, edit(t, good, tagImageWidth, set(40000)), tagImageLength, set(10000)), ErrTruncated},
		{"strips of one row, without end", edit(t, edit(t, good, tagImageLength, set(50_000_000)), tagRowsPerStrip, set(1)), ErrUnsupported},
		{"no samples", edit(t, good, tagSamplesPerPixel, set(0)), ErrCorrupt},
		{"60,000 samples", edit(t, good, tagSamplesPerPixel, set(60000)), ErrCorrupt},
		{"bits of 0", edit(t, good, tagBitsPerSample, set(0)), ErrUnsupported},
		{"bits of 60,000", edit(t, good, tagBitsPerSample, set(60000)), ErrUnsupported},
		{"unknown compression", edit(t, good, tagCompression, set(777)), ErrUnsupported},
		{"known but unread compression", edit(t, good, tagCompression, set(50000)), ErrUnsupported},
		{"old-style JPEG", edit(t, good, tagCompression, set(compOldJPEG)), ErrUnsupported},
		{"JPEG that is none", edit(t, good, tagCompression, set(compJPEG)), ErrCorrupt},
		{"deflate that is none", edit(t, good, tagCompression, set(compDeflate)), ErrCorrupt},
		{"LZW that is none", edit(t, good, tagCompression, set(compLZW)), ErrUnsupported}, // it begins as old LZW does
		{"facsimile of bytes", edit(t, good, tagCompression, set(compG4)), ErrCorrupt},
		{"unknown colours", edit(t, good, tagPhotometric, set(99)), ErrUnsupported},
		{"RGB of one sample", edit(t, good, tagPhotometric, set(photoRGB)), ErrCorrupt},
		{"palette without colours", edit(t, good, tagPhotometric, set(photoPalette)), ErrCorrupt},
		{"mask only", edit(t, good, tagPhotometric, set(photoMask)), ErrNotPicture},
		{"strips far past the end", edit(t, good, tagStripOffsets, set(0x7fffffff)), ErrTruncated},
		{"four thousand million strips", edit(t, good, tagStripOffsets, count(0xffffffff)), nil},
		{"no strips", edit(t, good, tagStripOffsets, func(e []byte) { e[0] = 9 }), ErrCorrupt},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			f, err := openRaw(c.data)
			if err == nil {
				p := f.Pages()[0]
				_, err = p.Decode(t.Context(), p.Bounds(), nil)
			}
			if !errors.Is(err, c.want) {
				t.Fatalf("got error %v, want %v", err, c.want)
			}
			if err != nil && c.want != ErrNotTIFF && !strings.Contains(err.Error(), ";") {
				t.Errorf("%q does not say what to do", err)
			}
		})
	}
}

// TestOddButReadable: slips that do not keep a picture from being read.
func TestOddButReadable(t *testing.T) {
	t.Parallel()
	good := simple(binary.LittleEndian, false, 20, 12, 4)
	one := simple(binary.LittleEndian, false, 20, 12, 12)
	tile := func(w, h int) []byte { // tiles whose sides are no multiple of 16
		b := newBuilder(binary.BigEndian, true)
		var tiles [][]byte
		for y0 := 0; y0 < 12; y0 += h {
			for x0 := 0; x0 < 20; x0 += w {
				var s []byte
				for y := range h {
					for x := range w {
						s = append(s, uint8(10*(y0+y)+x0+x))
					}
				}
				tiles = append(tiles, s)
			}
		}
		b.page(join(b.tiles(tiles...), size(20, 12, 1, 8, photoBlackIsZero, compNone),
			[]tagged{short(tagTileWidth, float64(w)), short(tagTileLength, float64(h))})...)
		return b.out
	}
	for _, c := range []struct {
		name string
		data []byte
	}{
		{"as it should be", good},
		{"big-endian", simple(binary.BigEndian, false, 20, 12, 5)},
		{"BigTIFF", simple(binary.LittleEndian, true, 20, 12, 5)},
		{"BigTIFF big-endian", simple(binary.BigEndian, true, 20, 12, 1)},
		{"zero rows a strip", edit(t, good, tagRowsPerStrip, set(0))},
		{"zero rows, one strip", edit(t, one, tagRowsPerStrip, set(0))},
		{"rows without end", edit(t, one, tagRowsPerStrip, set(0xffffffff))},
		{"byte count too small, one strip", edit(t, one, tagStripByteCounts, set(7))},
		{"byte count zero", edit(t, one, tagStripByteCounts, set(0))},
		{"no byte counts", edit(t, good, tagStripByteCounts, func(e []byte) { e[0], e[1] = 1, 0 })},
		{"byte counts past the end", edit(t, good, tagStripByteCounts, func(e []byte) { copy(e[8:], "\xff\xff\xff\x7f") })},
		{"byte counts of a silly type", edit(t, good, tagStripByteCounts, func(e []byte) { e[2] = 77 })},
		{"orientation of 99", simple(binary.LittleEndian, false, 20, 12, 4, short(tagOrientation, 99))},
		{"resolution over zero", simple(binary.LittleEndian, false, 20, 12, 4, tagged{tagXResolution, 4, []float64{0}})},
		{"tiles of 7 × 5", tile(7, 5)},
		{"tiles of 33 × 17", tile(33, 17)},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			m := decodeAll(t, c.data)
			for y := range 12 {
				for x := range 20 {
					if g, want := greyAt(m, x, y), uint8(10*y+x); g != want {
						t.Fatalf("pixel %d, %d: got %d, want %d", x, y, g, want)
					}
				}
			}
		})
	}
}

// TestTruncated: whatever the place of the cut, there is no picture and the
// error says that the file ends too soon; what lies before the cut can be read
// by itself.
func TestTruncated(t *testing.T) {
	t.Parallel()
	b := newBuilder(binary.LittleEndian, false)
	dir := len(b.out) + 4096
	b.out = append(b.out, make([]byte, 4096)...) // the directory goes in front
	var strips [][]byte
	pix := noisy(64 * 64)
	for y := 0; y < 64; y += 16 {
		strips = append(strips, deflated(t, pix[64*y:64*(y+16)]))
	}
	fields := join(b.strips(strips...), size(64, 64, 1, 8, photoBlackIsZero, compDeflate), []tagged{long(tagRowsPerStrip, 16)})
	end := len(b.out)
	b.page(fields...)
	data := slices.Clone(b.out[:end])
	moveDirectory(t, b.out, data, dir-4096)
	for cut := dir + 1; cut < end; cut += 97 {
		p := openBytes(t, data[:cut]).Pages()[0]
		refused(t, fmt.Sprintf("cut at %d", cut), p, ErrTruncated)
		if cut < dir+len(strips[0]) {
			continue
		}
		m, err := p.Decode(t.Context(), image.Rect(0, 0, 64, 16), nil)
		if err != nil || greyAt(m, 63, 15) != pix[64*16-1] {
			t.Errorf("cut at %d: the first strip gives %v", cut, err)
		}
	}
}

func noisy(n int) []byte {
	out := make([]byte, n)
	v := uint32(1)
	for i := range out {
		v = v*1664525 + 1013904223
		out[i] = byte(v>>24) & 0x3f
	}
	return out
}

// moveDirectory copies the directory that was written last, and its values,
// to a place in front.
func moveDirectory(t *testing.T, from, to []byte, at int) {
	t.Helper()
	order := binary.LittleEndian
	src := int(order.Uint32(from[4:]))
	n := int(order.Uint16(from[src:]))
	order.PutUint32(to[4:], uint32(at))
	copy(to[at:], from[src:src+2+12*n+4])
	free := at + 2 + 12*n + 4
	for i := range n {
		e := to[at+2+12*i:][:12]
		size := int(valueSize(order.Uint16(e[2:]))) * int(order.Uint32(e[4:]))
		if size > 4 {
			copy(to[free:], from[order.Uint32(e[8:]):][:size])
			order.PutUint32(e[8:], uint32(free))
			free += size
		}
	}
}

// TestDamagedStrip: one strip spoilt by a wrong byte is an error of any window
// that meets it, and of no other.
func TestDamagedStrip(t *testing.T) {
	t.Parallel()
	pix := noisy(64 * 64)
	for _, c := range []struct {
		name string
		at   func(n int) int // of a strip of n bytes
	}{
		{"head", func(int) int { return 0 }},
		{"middle", func(n int) int { return n / 2 }},
		{"checksum", func(n int) int { return n - 1 }},
	} {
		b := newBuilder(binary.LittleEndian, false)
		var strips [][]byte
		for y := 0; y < 64; y += 16 {
			strips = append(strips, deflated(t, pix[64*y:64*(y+16)]))
		}
		strips[1][c.at(len(strips[1]))] ^= 0x55
		b.page(join(b.strips(strips...), size(64, 64, 1, 8, photoBlackIsZero, compDeflate), []tagged{long(tagRowsPerStrip, 16)})...)
		p := openBytes(t, b.out).Pages()[0]
		refused(t, c.name, p, ErrCorrupt)
		last := 0
		_ = p.decodeDown(t.Context(), 32, dirty, func(image.Image) {}, func(done int) { last = done }) // refused says how it ends
		if last != 16 {
			t.Errorf("%s: from top to bottom it ends after row %d, want 16", c.name, last)
		}
		m, err := p.Decode(t.Context(), image.Rect(0, 32, 64, 64), nil)
		if err != nil {
			t.Errorf("%s: the lower half gives %v", c.name, err)
			continue
		}
		for i, v := range pix[64*32:] {
			if greyAt(m, i%64, 32+i/64) != v {
				t.Fatalf("%s: pixel %d, %d of the lower half is wrong", c.name, i%64, 32+i/64)
			}
		}
	}
}

// TestMoreRows: rows behind those of the page are passed over in the last strip,
// where writers fill it up, and their checksum counts; a chunk that never ends
// is damage.
func TestMoreRows(t *testing.T) {
	t.Parallel()
	pix := noisy(64 * 64)
	strip := func(packed []byte) *Page {
		b := newBuilder(binary.LittleEndian, false)
		b.page(join(b.strips(packed), size(64, 40, 1, 8, photoBlackIsZero, compDeflate), []tagged{long(tagRowsPerStrip, 64)})...)
		return openBytes(t, b.out).Pages()[0]
	}
	packed := deflated(t, pix)
	p := strip(packed)
	m, err := p.Decode(t.Context(), p.Bounds(), nil)
	if err != nil || greyAt(m, 63, 39) != pix[64*40-1] {
		t.Errorf("a strip filled up: %v", err)
	}
	packed[len(packed)-1] ^= 1
	refused(t, "with a wrong checksum", strip(packed), ErrCorrupt)
	refused(t, "without end", strip(deflated(t, make([]byte, 64*6400))), ErrCorrupt)
}

// TestTooFewTiles: tiles that the list leaves out are damage, not blank by
// intent.
func TestTooFewTiles(t *testing.T) {
	t.Parallel()
	b := newBuilder(binary.LittleEndian, false)
	b.page(join(b.tiles(noisy(256), noisy(256)), size(32, 32, 1, 8, photoBlackIsZero, compNone),
		[]tagged{short(tagTileWidth, 16), short(tagTileLength, 16)})...)
	p := openBytes(t, b.out).Pages()[0]
	refused(t, "half of the tiles", p, ErrCorrupt)
	if _, err := p.Decode(t.Context(), image.Rect(0, 0, 32, 16), nil); err != nil {
		t.Errorf("got %v from the upper half, want no error", err)
	}
}

// TestEntryFlood: thousands of directories over the same bytes do not fill
// the memory.
func TestEntryFlood(t *testing.T) {
	b := newBuilder(binary.LittleEndian, false)
	var fields []tagged
	for tag := range 4000 {
		fields = append(fields, short(uint16(40000+tag), 1))
	}
	fields = append(fields, size(10, 10, 1, 8, photoBlackIsZero, compNone)...)
	list := tagged{tag: tagSubIFDs, kind: 4}
	for range 200 {
		list.values = append(list.values, float64(b.directory(fields...)))
	}
	b.page(append(size(20, 20, 1, 8, photoBlackIsZero, compNone), list)...)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if n := len(openBytes(t, b.out).Pages()[0].Overviews); n < 10 || n > 20 {
		t.Errorf("got %d reduced copies, want those of %d entries", n, maxAllEntries)
	}
	runtime.ReadMemStats(&after)
	if got := after.TotalAlloc - before.TotalAlloc; got > 32<<20 {
		t.Errorf("took %d MB", got>>20)
	}
}

// TestCycles: directories that lead back, and reduced copies that are their
// own, end.
func TestCycles(t *testing.T) {
	t.Parallel()
	b := newBuilder(binary.LittleEndian, false)
	fields := join(b.strips(noisy(100)), size(10, 10, 1, 8, photoBlackIsZero, compNone))
	b.page(fields...)
	b.page(append(fields, long(tagSubIFDs, float64(binary.LittleEndian.Uint32(b.out[4:])), 8, 0, 4e9))...)
	copy(b.out[b.link:], b.out[4:8]) // back to the first
	if n := len(openBytes(t, b.out).Pages()); n != 2 {
		t.Errorf("got %d pages, want 2", n)
	}
	many := newBuilder(binary.LittleEndian, false)
	for range maxDirectories + 100 {
		many.page(size(10, 10, 1, 8, photoBlackIsZero, compNone)...)
	}
	if n := len(openBytes(t, many.out).Pages()); n > maxDirectories {
		t.Errorf("got %d pages, want at most %d", n, maxDirectories)
	}
}

// TestBombs: small files with great claims are refused, or read without
// taking memory for what is not there.
func TestBombs(t *testing.T) {
	const w, h = 20000, 20000
	tile := func(compression int) []byte {
		b := newBuilder(binary.LittleEndian, false)
		b.page(join(b.tiles(make([]byte, 64)), size(w, h, 1, 8, photoBlackIsZero, compression),
			[]tagged{short(tagTileWidth, 16384), short(tagTileLength, 16384)})...)
		return b.out
	}
	strip := func(compression, bits int) []byte {
		b := newBuilder(binary.LittleEndian, false)
		b.page(join(b.strips(make([]byte, 64)), size(w, h, 1, bits, photoBlackIsZero, compression))...)
		return b.out
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for _, data := range [][]byte{
		tile(compNone), tile(compLZW), tile(compDeflate), tile(compJPEG), tile(compPackBits),
		strip(compNone, 8), strip(compLZW, 8), strip(compDeflate, 8), strip(compPackBits, 8),
	} {
		p := openBytes(t, data).Pages()[0]
		if m, err := p.Decode(t.Context(), p.Bounds(), nil); m != nil || !errors.Is(err, ErrTruncated) {
			t.Errorf("%s: got error %v, want %v", p.Compression, err, ErrTruncated)
		}
	}
	runtime.ReadMemStats(&after)
	if got := after.TotalAlloc - before.TotalAlloc; got > 8<<20 {
		t.Errorf("took %d MB for nothing", got>>20)
	}
}

// failing fails from a byte of the file on, like a drive that is pulled out.
type failing struct {
	io.ReaderAt
	from int64
	err  error
}

func (f failing) ReadAt(p []byte, at int64) (int, error) {
	if at+int64(len(p)) > f.from {
		return 0, f.err
	}
	return f.ReaderAt.ReadAt(p, at)
}

// TestReaderFails: the reader's own error comes through, and is not taken for
// damage, whatever the encoding.
func TestReaderFails(t *testing.T) {
	t.Parallel()
	gone := errors.New("device is gone")
	for _, compression := range []int{compNone, compLZW, compDeflate, compPackBits, compG3, compG4, compJPEG} {
		b := newBuilder(binary.LittleEndian, false)
		b.out = append(b.out, make([]byte, 4096)...)
		bits := 8
		if compression == compG3 || compression == compG4 {
			bits = 1
		}
		fields := join(b.strips(noisy(64*400), noisy(64*400), noisy(64*400)), size(64, 1200, 1, bits, photoBlackIsZero, compression),
			[]tagged{long(tagRowsPerStrip, 400)})
		end := len(b.out)
		b.page(fields...)
		data := slices.Clone(b.out[:end])
		moveDirectory(t, b.out, data, 8)
		f, err := Open(failing{bytes.NewReader(data), int64(end) - 3*64*400, gone}, int64(end))
		if err != nil {
			t.Fatal(err)
		}
		m, err := f.Pages()[0].Decode(t.Context(), image.Rect(0, 0, 64, 1200), nil)
		if m != nil || !errors.Is(err, gone) || errors.Is(err, ErrCorrupt) {
			t.Errorf("compression %d: got %v, want %v and no picture", compression, err, gone)
		}
	}
}

// TestCancel: an ended context gives its cause and no picture, and decoding
// stops at the next row.
func TestCancel(t *testing.T) {
	t.Parallel()
	cause := errors.New("another sheet is opened")
	ctx, cancel := context.WithCancelCause(t.Context())
	b := newBuilder(binary.LittleEndian, false)
	b.page(join(b.strips(deflated(t, make([]byte, 800*6000))), size(800, 6000, 1, 8, photoBlackIsZero, compDeflate))...)
	p := openBytes(t, b.out).Pages()[0]
	last := 0
	m, err := p.Decode(ctx, p.Bounds(), func(rows int) {
		last = rows
		if rows > 1000 {
			cancel(cause)
		}
	})
	if m != nil || !errors.Is(err, cause) || last > 1000+2*tellRows {
		t.Errorf("picture %v, %v after %d rows, want %v soon after row 1000", m != nil, err, last, cause)
	}
	if _, err := p.Decode(ctx, p.Bounds(), nil); !errors.Is(err, cause) {
		t.Errorf("got %v, want %v", err, cause)
	}
}

// TestProgress: rows are counted up to the last.
func TestProgress(t *testing.T) {
	t.Parallel()
	p := openBytes(t, simple(binary.LittleEndian, false, 20, 1000, 8)).Pages()[0]
	last, calls := 0, 0
	if _, err := p.Decode(t.Context(), p.Bounds(), func(rows int) {
		if rows <= last {
			t.Errorf("got %d rows after %d", rows, last)
		}
		last = rows
		calls++
	}); err != nil {
		t.Fatal(err)
	}
	if last != 1000 || calls < 100 {
		t.Errorf("got %d calls up to %d rows, want at least 100 up to 1000", calls, last)
	}
}
