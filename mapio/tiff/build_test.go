package tiff

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"image"
	"math"
	"slices"
)

// builder makes TIFF files for tests, right or wrong ones.
type builder struct {
	order binary.ByteOrder
	big   bool
	out   []byte
	link  int // where the next directory's offset belongs
}

// tagged is one field.
type tagged struct {
	tag, kind uint16
	values    []float64
}

func short(tag uint16, v ...float64) tagged  { return tagged{tag, 3, v} }
func long(tag uint16, v ...float64) tagged   { return tagged{tag, 4, v} }
func double(tag uint16, v ...float64) tagged { return tagged{tag, 12, v} }
func ascii(tag uint16, s string) tagged {
	t := tagged{tag: tag, kind: 2}
	for _, c := range append([]byte(s), 0) {
		t.values = append(t.values, float64(c))
	}
	return t
}

func newBuilder(order binary.ByteOrder, big bool) *builder {
	b := &builder{order: order, big: big}
	b.out = append(b.out, "II"...)
	if order == binary.ByteOrder(binary.BigEndian) {
		b.out = []byte("MM")
	}
	if big {
		b.u16(43)
		b.u16(8)
		b.u16(0)
	} else {
		b.u16(42)
	}
	b.link = len(b.out)
	b.offset(0)
	return b
}

func (b *builder) u16(v uint16) { b.out = b.appendUint(b.out, uint64(v), 2) }

func (b *builder) appendUint(to []byte, v uint64, size int) []byte {
	var x [8]byte
	switch size {
	case 1:
		x[0] = byte(v)
	case 2:
		b.order.PutUint16(x[:], uint16(v))
	case 4:
		b.order.PutUint32(x[:], uint32(v))
	case 8:
		b.order.PutUint64(x[:], v)
	}
	return append(to, x[:size]...)
}

func (b *builder) offset(v int) {
	b.out = b.appendUint(b.out, uint64(v), b.width())
}

func (b *builder) width() int {
	if b.big {
		return 8
	}
	return 4
}

// data puts bytes into the file and gives their place.
func (b *builder) data(p []byte) float64 {
	b.out = append(b.out, p...)
	return float64(len(b.out) - len(p))
}

// chunks puts strips or tiles into the file and gives their two fields.
func (b *builder) chunks(offsets, counts uint16, all ...[]byte) []tagged {
	at, n := tagged{tag: offsets, kind: 4}, tagged{tag: counts, kind: 4}
	if b.big {
		at.kind, n.kind = 16, 16
	}
	for _, c := range all {
		at.values = append(at.values, b.data(c))
		n.values = append(n.values, float64(len(c)))
	}
	return []tagged{at, n}
}

func (b *builder) strips(all ...[]byte) []tagged {
	return b.chunks(tagStripOffsets, tagStripByteCounts, all...)
}

func (b *builder) tiles(all ...[]byte) []tagged {
	return b.chunks(tagTileOffsets, tagTileByteCounts, all...)
}

// values packs those of a field.
func (b *builder) values(t tagged) []byte {
	var out []byte
	for _, v := range t.values {
		switch t.kind {
		case 11:
			out = b.appendUint(out, uint64(math.Float32bits(float32(v))), 4)
		case 12:
			out = b.appendUint(out, math.Float64bits(v), 8)
		case 5:
			out = b.appendUint(b.appendUint(out, uint64(v*1000), 4), 1000, 4)
		default:
			out = b.appendUint(out, uint64(v), int(valueSize(t.kind)))
		}
	}
	return out
}

// directory puts one into the file, without linking it, and gives its place.
func (b *builder) directory(fields ...tagged) int {
	var entries []byte
	fields = slices.SortedStableFunc(slices.Values(fields), func(a, b tagged) int { return cmp.Compare(a.tag, b.tag) })
	for _, t := range fields {
		v := b.values(t)
		entries = b.appendUint(b.appendUint(entries, uint64(t.tag), 2), uint64(t.kind), 2)
		entries = b.appendUint(entries, uint64(len(t.values)), b.width())
		if len(v) > b.width() {
			entries = b.appendUint(entries, uint64(b.data(v)), b.width())
		} else {
			entries = append(entries, append(v, make([]byte, b.width()-len(v))...)...)
		}
	}
	at := len(b.out)
	if b.big {
		b.out = b.appendUint(b.out, uint64(len(fields)), 8)
	} else {
		b.u16(uint16(len(fields)))
	}
	b.out = append(b.out, entries...)
	b.offset(0)
	return at
}

// page puts a directory into the chain.
func (b *builder) page(fields ...tagged) {
	at := b.directory(fields...)
	copy(b.out[b.link:], b.appendUint(nil, uint64(at), b.width()))
	b.link = len(b.out) - b.width()
}

// size gives the fields of size and samples.
func size(w, h, channels, bits, photometric, compression int) []tagged {
	each := make([]float64, channels)
	for i := range each {
		each[i] = float64(bits)
	}
	return []tagged{
		long(tagImageWidth, float64(w)), long(tagImageLength, float64(h)), short(tagBitsPerSample, each...),
		short(tagCompression, float64(compression)), short(tagPhotometric, float64(photometric)),
		short(tagSamplesPerPixel, float64(channels)),
	}
}

func join(parts ...[]tagged) []tagged {
	var out []tagged
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

// simple makes a grey picture of strips, each row numbered: pixel = 10·row +
// column.
func simple(order binary.ByteOrder, big bool, w, h, rows int, more ...tagged) []byte {
	b := newBuilder(order, big)
	var strips [][]byte
	for y := 0; y < h; y += rows {
		var s []byte
		for yy := y; yy < min(y+rows, h); yy++ {
			for x := range w {
				s = append(s, uint8(10*yy+x))
			}
		}
		strips = append(strips, s)
	}
	b.page(join(b.strips(strips...), size(w, h, 1, 8, photoBlackIsZero, compNone), []tagged{long(tagRowsPerStrip, float64(rows))}, more)...)
	return b.out
}

func openRaw(data []byte) (*File, error) {
	return Open(bytes.NewReader(data), int64(len(data)))
}

func greyAt(m image.Image, x, y int) uint8 { return stored(m, x, y).R }
