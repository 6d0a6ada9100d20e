package tiff

import (
	"encoding/binary"
	"io"
	"math"
)

const (
	maxEntries     = 4096    // of a directory; more than that is damage
	maxDirectories = 4096    // of a file, reduced copies and masks included
	maxAllEntries  = 1 << 16 // of all directories of a file together
	maxTagBytes    = 1 << 26 // of one tag's values
)

// input is the file with its byte order and layout.
type input struct {
	r     io.ReaderAt
	size  int64
	order binary.ByteOrder
	big   bool // BigTIFF: 64-bit counts and offsets
}

// entry is one field of a directory: where its values stand and what they are.
type entry struct {
	kind   uint16
	count  uint64
	at     int64
	inline [8]byte
	inside bool // the values are in inline
}

// directory holds the fields by tag, and where the next directory is.
type directory struct {
	in      *input
	entries map[uint16]entry
	next    int64
}

// valueSize is the bytes of one value of a field type, 0 for types unknown.
func valueSize(kind uint16) int64 {
	switch kind {
	case 1, 2, 6, 7:
		return 1
	case 3, 8:
		return 2
	case 4, 9, 11, 13:
		return 4
	case 5, 10, 12, 16, 17, 18:
		return 8
	}
	return 0
}

// bytes reads n bytes, which must lie within the file.
func (in *input) bytes(at, n int64) ([]byte, error) {
	if at < 0 || n < 0 || n > in.size || at > in.size-n {
		return nil, truncated("%d bytes at %d are beyond its end at %d", n, at, in.size)
	}
	b := make([]byte, n)
	if m, err := in.r.ReadAt(b, at); m < len(b) {
		if err == nil || err == io.EOF {
			return nil, truncated("only %d of %d bytes at %d can be read", m, n, at)
		}
		return nil, &readError{err}
	}
	return b, nil
}

// header reads the first bytes and gives the place of the first directory.
func (in *input) header() (int64, error) {
	b, err := in.bytes(0, 8)
	if err != nil {
		return 0, err
	}
	switch string(b[:2]) {
	case "II":
		in.order = binary.LittleEndian
	case "MM":
		in.order = binary.BigEndian
	default:
		return 0, ErrNotTIFF
	}
	switch in.order.Uint16(b[2:]) {
	case 42:
		return int64(in.order.Uint32(b[4:])), nil
	case 43:
		in.big = true
	default:
		return 0, ErrNotTIFF
	}
	if w := in.order.Uint16(b[4:]); w != 8 {
		return 0, corrupt("its offsets are %d bytes wide, but must be 8", w)
	}
	if b, err = in.bytes(8, 8); err != nil {
		return 0, err
	}
	return in.offset(b), nil
}

// offset reads a 64-bit offset; one beyond all files becomes the greatest.
func (in *input) offset(b []byte) int64 {
	return int64(min(in.order.Uint64(b), math.MaxInt64))
}

// directory reads the one at an offset; the values outside it are not read.
func (in *input) directory(at int64) (*directory, error) {
	head, width, tail := int64(2), int64(12), int64(4)
	if in.big {
		head, width, tail = 8, 20, 8
	}
	b, err := in.bytes(at, head)
	if err != nil {
		return nil, truncated("a directory at byte %d is beyond its end at %d", at, in.size)
	}
	n := uint64(in.order.Uint16(b))
	if in.big {
		n = in.order.Uint64(b)
	}
	if n == 0 || n > maxEntries {
		return nil, corrupt("the directory at byte %d claims %d entries, but only 1 to %d are allowed", at, n, maxEntries)
	}
	if b, err = in.bytes(at+head, int64(n)*width); err != nil {
		return nil, truncated("the directory at byte %d has no room for its %d entries", at, n)
	}
	d := &directory{in: in, entries: make(map[uint16]entry, n)}
	for i := range int64(n) {
		tag := in.order.Uint16(b[i*width:])
		if _, twice := d.entries[tag]; !twice {
			d.entries[tag] = in.entry(b[i*width:][:width])
		}
	}
	if b, err = in.bytes(at+head+int64(n)*width, tail); err == nil {
		if in.big {
			d.next = in.offset(b)
		} else {
			d.next = int64(in.order.Uint32(b))
		}
	}
	return d, nil
}

func (in *input) entry(b []byte) entry {
	e := entry{kind: in.order.Uint16(b[2:])}
	room := b[8:12]
	if in.big {
		e.count, room = in.order.Uint64(b[4:]), b[12:20]
		e.at = in.offset(room)
	} else {
		e.count = uint64(in.order.Uint32(b[4:]))
		e.at = int64(in.order.Uint32(room))
	}
	size := uint64(valueSize(e.kind))
	if size > 0 && e.count <= uint64(len(room))/size {
		copy(e.inline[:], room)
		e.inside = true
	}
	return e
}

// raw reads the first values of a field, at most limit; nil if it is absent.
func (d *directory) raw(tag uint16, limit int) ([]byte, entry, error) {
	e, ok := d.entries[tag]
	if !ok || e.count == 0 || limit <= 0 {
		return nil, e, nil
	}
	size := valueSize(e.kind)
	if size == 0 {
		return nil, e, corrupt("tag %d is of an unknown type %d", tag, e.kind)
	}
	n := int64(min(e.count, uint64(limit), maxTagBytes/uint64(size))) * size
	if e.inside {
		return e.inline[:n], e, nil
	}
	b, err := d.in.bytes(e.at, n)
	return b, e, err
}

// whole reads the first values of a field as whole numbers, at most limit.
func (d *directory) whole(tag uint16, limit int) ([]uint64, error) {
	b, e, err := d.raw(tag, limit)
	if err != nil || b == nil {
		return nil, err
	}
	size := int(valueSize(e.kind))
	out := make([]uint64, len(b)/size)
	for i := range out {
		switch v := b[i*size:]; e.kind {
		case 1, 2, 6, 7:
			out[i] = uint64(v[0])
		case 3, 8:
			out[i] = uint64(d.in.order.Uint16(v))
		case 4, 9, 13:
			out[i] = uint64(d.in.order.Uint32(v))
		case 16, 17, 18:
			out[i] = d.in.order.Uint64(v)
		default:
			return nil, corrupt("tag %d is of type %d, but must be a whole number", tag, e.kind)
		}
	}
	return out, nil
}

// number gives the first value of a field as a whole number, or the value for
// one that is absent, unreadable or greater than 2³¹ − 1.
func (d *directory) number(tag uint16, absent int) int {
	v, err := d.whole(tag, 1)
	if err != nil || len(v) == 0 || v[0] > math.MaxInt32 {
		return absent
	}
	return int(v[0])
}

// floats reads the first values of a field of any numeric type, at most limit.
func (d *directory) floats(tag uint16, limit int) ([]float64, error) {
	b, e, err := d.raw(tag, limit)
	if err != nil || b == nil {
		return nil, err
	}
	order := d.in.order
	out := make([]float64, 0, len(b)/int(valueSize(e.kind)))
	switch e.kind {
	case 5:
		for ; len(b) >= 8; b = b[8:] {
			out = append(out, float64(order.Uint32(b))/float64(order.Uint32(b[4:])))
		}
	case 10:
		for ; len(b) >= 8; b = b[8:] {
			out = append(out, float64(int32(order.Uint32(b)))/float64(int32(order.Uint32(b[4:]))))
		}
	case 11:
		for ; len(b) >= 4; b = b[4:] {
			out = append(out, float64(math.Float32frombits(order.Uint32(b))))
		}
	case 12:
		for ; len(b) >= 8; b = b[8:] {
			out = append(out, math.Float64frombits(order.Uint64(b)))
		}
	default:
		whole, err := d.whole(tag, limit)
		if err != nil {
			return nil, err
		}
		for _, v := range whole {
			out = append(out, float64(v))
		}
	}
	return out, nil
}

// text reads a field of characters up to its closing zero.
func (d *directory) text(tag uint16, limit int) string {
	b, e, err := d.raw(tag, limit)
	if err != nil || e.kind != 2 && e.kind != 1 && e.kind != 7 {
		return ""
	}
	for i, c := range b {
		if c == 0 {
			return string(b[:i])
		}
	}
	return string(b)
}
