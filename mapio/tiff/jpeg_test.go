package tiff

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"math"
	"slices"
	"sync/atomic"
	"testing"
)

// jpegTIFF makes tiles of 32 × 32 that are whole JPEG streams, and lets a
// test spoil them.
func jpegTIFF(t testing.TB, spoil func(i int, data []byte) []byte) []byte {
	t.Helper()
	var tiles [][]byte
	for i := range 6 {
		m := image.NewGray(image.Rect(0, 0, 32, 32))
		for p := range m.Pix {
			m.Pix[p] = uint8(30*i + p%32)
		}
		var b bytes.Buffer
		if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
			t.Fatal(err)
		}
		tiles = append(tiles, spoil(i, b.Bytes()))
	}
	b := newBuilder(binary.LittleEndian, false)
	b.page(join(b.tiles(tiles...), size(96, 64, 1, 8, photoBlackIsZero, compJPEG),
		[]tagged{short(tagTileWidth, 32), short(tagTileLength, 32)})...)
	return b.out
}

// TestDamagedJPEG: a spoilt tile is an error of any window that meets it, and of
// no other.
func TestDamagedJPEG(t *testing.T) {
	t.Parallel()
	frame := func(data []byte) int { return bytes.Index(data, []byte{0xff, 0xc0}) }
	for _, c := range []struct {
		name  string
		spoil func(data []byte) []byte
		want  error
	}{
		{"cut off", func(d []byte) []byte { return d[:len(d)-40] }, ErrCorrupt},
		{"no frame", func(d []byte) []byte { return d[:frame(d)] }, ErrCorrupt},
		{"two bytes", func(d []byte) []byte { return d[:2] }, ErrTruncated},
		{"not a JPEG", func(d []byte) []byte { return make([]byte, len(d)) }, ErrCorrupt},
		{"65,535 × 65,535", func(d []byte) []byte {
			copy(d[frame(d)+5:], "\xff\xff\xff\xff")
			return d
		}, ErrCorrupt},
		{"too small", func(d []byte) []byte {
			copy(d[frame(d)+5:], []byte{0, 8, 0, 32})
			return d
		}, ErrCorrupt},
		{"of three parts", func(d []byte) []byte {
			d[frame(d)+9] = 3
			return d
		}, ErrCorrupt},
		{"data left over", func(d []byte) []byte {
			return append(append(slices.Clone(d[:len(d)-2]), 0x12, 0x34, 0x56), d[len(d)-2:]...)
		}, ErrCorrupt},
		{"blocks lost", func(d []byte) []byte {
			at := bytes.Index(d, []byte{0xff, 0xda}) + 30
			return slices.Delete(d, at, at+5)
		}, ErrCorrupt},
		{"cut off in its head", func(d []byte) []byte { return d[:len(d)/2] }, ErrCorrupt},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			data := jpegTIFF(t, func(i int, d []byte) []byte {
				if i == 4 {
					return c.spoil(slices.Clone(d))
				}
				return d
			})
			p := openBytes(t, data).Pages()[0]
			refused(t, c.name, p, c.want)
			m, err := p.Decode(t.Context(), image.Rect(0, 0, 96, 32), nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, at := range []image.Point{{5, 5}, {40, 5}, {90, 31}} {
				i := at.X/32 + 3*(at.Y/32)
				if g, want := int(greyAt(m, at.X, at.Y)), 30*i+at.X%32; g < want-3 || g > want+3 {
					t.Errorf("pixel %v: got %d, want %d ± 3", at, g, want)
				}
			}
		})
	}
}

// TestTruncatedJPEG: a single strip that the file's end cuts is refused.
func TestTruncatedJPEG(t *testing.T) {
	t.Parallel()
	const w, h = 320, 480
	m := image.NewGray(image.Rect(0, 0, w, h))
	copy(m.Pix, noisy(len(m.Pix)))
	var packed bytes.Buffer
	if err := jpeg.Encode(&packed, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	b := newBuilder(binary.LittleEndian, false)
	b.out = append(b.out, make([]byte, 4096)...)
	fields := join(b.strips(packed.Bytes()), size(w, h, 1, 8, photoBlackIsZero, compJPEG))
	end := len(b.out)
	b.page(fields...)
	data := slices.Clone(b.out[:end])
	moveDirectory(t, b.out, data, 8)
	decodeAll(t, data)
	for _, share := range []float64{0.3, 0.6, 0.9} {
		n := end - int((1-share)*float64(packed.Len()))
		refused(t, fmt.Sprintf("share %g", share), openBytes(t, data[:n]).Pages()[0], ErrTruncated)
	}
}

// counting counts what is read.
type counting struct {
	io.ReaderAt
	bytes atomic.Int64
}

func (c *counting) ReadAt(p []byte, at int64) (int, error) {
	n, err := c.ReaderAt.ReadAt(p, at)
	c.bytes.Add(int64(n))
	return n, err
}

// TestWindowReadsLittle: a window reads its own tiles or rows and no others.
func TestWindowReadsLittle(t *testing.T) {
	t.Parallel()
	var tiles [][]byte
	for range 32 * 32 {
		tiles = append(tiles, noisy(64*64))
	}
	b := newBuilder(binary.LittleEndian, false)
	b.page(join(b.tiles(tiles...), size(2048, 2048, 1, 8, photoBlackIsZero, compNone),
		[]tagged{short(tagTileWidth, 64), short(tagTileLength, 64)})...)
	strip := newBuilder(binary.LittleEndian, false)
	strip.page(join(strip.strips(noisy(2048*2048)), size(2048, 2048, 1, 8, photoBlackIsZero, compNone))...)
	for _, c := range []struct {
		name string
		data []byte
		most int64
	}{
		{"tiles", b.out, 4*64*64 + 16<<10}, // four tiles and the index
		{"one strip", strip.out, 100*2048 + streamBuffer + 1<<10},
	} {
		r := &counting{ReaderAt: bytes.NewReader(c.data)}
		f, err := Open(r, int64(len(c.data)))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Pages()[0].Decode(t.Context(), image.Rect(1000, 1000, 1050, 1100), nil); err != nil {
			t.Fatal(err)
		}
		if got := r.bytes.Load(); got > c.most {
			t.Errorf("%s: read %d bytes, at most %d wanted", c.name, got, c.most)
		}
	}
}

// TestSmallPalette: colours written with 8 bits instead of 16, and fewer of
// them than there are indices.
func TestSmallPalette(t *testing.T) {
	t.Parallel()
	b := newBuilder(binary.LittleEndian, false)
	b.page(join(b.strips([]byte{0, 1, 2, 200}), size(4, 1, 1, 8, photoPalette, compNone),
		[]tagged{short(tagColorMap, 10, 20, 30, 40, 50, 60, 70, 80, 250)})...)
	m := decodeAll(t, b.out)
	want := []color.NRGBA{{10, 40, 70, 255}, {20, 50, 80, 255}, {30, 60, 250, 255}, {0, 0, 0, 255}}
	for x, w := range want {
		if g := stored(m, x, 0); g != w {
			t.Errorf("index %d: got %v, want %v", x, g, w)
		}
	}
}

// TestNoDataSamples: what is marked as unknown is NaN, also where the text
// has more digits than the samples.
func TestNoDataSamples(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		v    float64
	}{{"-32767", -32767}, {"-3.4028234663852886e+38", -math.MaxFloat32}, {"0.1", float64(float32(0.1))}, {"nan", math.NaN()}} {
		b := newBuilder(binary.LittleEndian, false)
		raw := b.values(tagged{kind: 11, values: []float64{5, c.v, 7}})
		b.page(join(b.strips(raw), size(3, 1, 1, 32, photoBlackIsZero, compNone), []tagged{short(tagSampleFormat, 3), ascii(tagNoData, c.text)})...)
		p := openBytes(t, b.out).Pages()[0]
		got, err := p.Samples(t.Context(), p.Bounds())
		if err != nil || got[0] != 5 || !math.IsNaN(got[1]) || got[2] != 7 {
			t.Errorf("%s: got %v, %v, want 5 NaN 7", c.text, got, err)
		}
	}
}
