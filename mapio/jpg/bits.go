package jpg

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
)

const (
	rawSize = 256 << 10
	// padding is how many zero bytes stand behind the data of a segment, so
	// that eight can always be loaded.
	padding = 16
)

// bits reads markers, segments and entropy-coded bits. Coded data is copied
// without its stuffed bytes, so that eight can be loaded at once.
type bits struct {
	r     io.Reader
	raw   []byte // as read
	at, n int

	buf  []byte // coded data, unstuffed, then padding
	pos  int    // the next byte of buf to load
	acc  uint64 // the next bits, left-aligned; those beyond have are true too, or zero
	have uint

	marker byte  // met behind the coded data, 0 for none
	err    error // of reading, met behind the coded data
	ended  bool  // the end of the coded data is in buf, at end
	end    int
}

func newBits(r io.Reader) *bits {
	return &bits{r: r, raw: make([]byte, rawSize), buf: make([]byte, 0, rawSize+padding+8)}
}

// fill reads on; an end of the file is unexpected.
func (b *bits) fill() error {
	for tries := 0; tries < 100; tries++ {
		n, err := b.r.Read(b.raw)
		b.at, b.n = 0, n
		if n > 0 {
			return nil
		}
		if err == io.EOF {
			return io.ErrUnexpectedEOF
		}
		if err != nil {
			return err
		}
	}
	return io.ErrNoProgress
}

func (b *bits) byte() (byte, error) {
	if b.at == b.n {
		if err := b.fill(); err != nil {
			return 0, err
		}
	}
	b.at++
	return b.raw[b.at-1], nil
}

// nextMarker gives the marker a scan ended at, or the one that must come now.
func (b *bits) nextMarker() (byte, error) {
	if m := b.marker; m != 0 {
		b.marker = 0
		return m, nil
	}
	if b.err != nil {
		return 0, b.err
	}
	v, err := b.byte()
	if err == nil && v != 0xff {
		err = ErrDamaged
	}
	for err == nil && v == 0xff {
		v, err = b.byte()
	}
	if err == nil && v == 0 {
		err = ErrDamaged
	}
	return v, err
}

// segment reads the content behind a marker.
func (b *bits) segment() ([]byte, error) {
	hi, err := b.byte()
	if err != nil {
		return nil, err
	}
	lo, err := b.byte()
	if err != nil {
		return nil, err
	}
	n := int(hi)<<8 | int(lo)
	if n < 2 {
		return nil, ErrDamaged
	}
	body := make([]byte, n-2)
	for done := 0; done < len(body); {
		if b.at == b.n {
			if err := b.fill(); err != nil {
				return nil, err
			}
		}
		got := copy(body[done:], b.raw[b.at:b.n])
		done, b.at = done+got, b.at+got
	}
	return body, nil
}

// startScan forgets the bits of the segment before.
func (b *bits) startScan() {
	b.buf, b.pos, b.acc, b.have = b.buf[:0], 0, 0, 0
	b.marker, b.err, b.ended, b.end = 0, nil, false, 0
}

// load brings the bits to 56 or more, zeros behind the end.
func (b *bits) load() {
	if b.pos+8 > len(b.buf) {
		b.more()
	}
	b.acc |= binary.BigEndian.Uint64(b.buf[b.pos:]) >> b.have
	b.pos += int(63-b.have) >> 3
	b.have |= 56
}

// more unstuffs more data behind what is left, and padding behind the last.
// Afterwards there are at least eight bytes at pos.
func (b *bits) more() {
	left := copy(b.buf, b.buf[b.pos:])
	b.buf, b.end, b.pos = b.buf[:left], b.end-b.pos, 0
	for !b.ended && len(b.buf) < 8 {
		b.unstuff()
		if b.marker != 0 || b.err != nil {
			b.ended, b.end = true, len(b.buf)
		}
	}
	if len(b.buf) < 8 {
		b.buf = append(b.buf, make([]byte, padding)...)
	}
}

// remaining is the number of bits not yet taken, once the end is known;
// negative if more were taken than there are.
func (b *bits) remaining() int { return 8*(b.end-b.pos) + int(b.have) }

// over says that more bits were taken than there are.
func (b *bits) over() bool { return b.ended && b.remaining() < 0 }

// drained says that no more than the padding of the last byte, and one byte
// of grace, is left before the next marker or the end of the file.
func (b *bits) drained() bool {
	if !b.ended && len(b.buf)-b.pos < 8 {
		b.more()
	}
	return b.ended && b.remaining() < 16
}

// cause is why there are no more bits: a marker in the midst of data is
// damage.
func (b *bits) cause() error {
	if b.err != nil {
		return b.err
	}
	return ErrDamaged
}

// orEnd returns the error of the data's end if a fault lies in the bits made up
// behind that end.
func (b *bits) orEnd(err error) error {
	if errors.Is(err, ErrDamaged) && b.over() {
		return b.cause()
	}
	return err
}

// badCode is what a code without a meaning says: that there is no more data,
// or that it is damaged.
func (b *bits) badCode() error {
	if b.ended && b.remaining() < 16 {
		return b.cause()
	}
	return ErrDamaged
}

// restart checks that the interval ends here with the expected marker.
func (b *bits) restart(want byte) error {
	switch {
	case !b.drained():
		return ErrDamaged
	case b.marker != want:
		return b.cause()
	}
	b.startScan()
	return nil
}

// skipScan goes on to the marker that ends a scan.
func (b *bits) skipScan() error {
	for {
		for !b.ended {
			b.pos = len(b.buf)
			b.more()
		}
		if b.err != nil {
			return b.err
		}
		if b.marker < 0xd0 || b.marker > 0xd7 {
			return nil
		}
		b.startScan()
	}
}

// take reads n bits, at most 32, as a number.
func (b *bits) take(n uint) uint32 {
	if b.have < 32 {
		b.load()
	}
	v := uint32(b.acc >> 1 >> (63 - n))
	b.acc <<= n
	b.have -= n
	return v
}

// symbol decodes one code; at least 16 bits stay behind it, or zeros.
func (b *bits) symbol(t *huffman) (byte, error) {
	if b.have < 32 {
		b.load()
	}
	n, sym, ok := t.symbolIn(b.acc)
	if !ok {
		return 0, b.badCode()
	}
	b.acc <<= n
	b.have -= n
	return sym, nil
}

// unstuff copies coded data up to the end of what was read or to a marker.
func (b *bits) unstuff() {
	if b.at == b.n {
		if b.err = b.fill(); b.err != nil {
			return
		}
	}
	for b.at < b.n && len(b.buf) < rawSize {
		chunk := b.raw[b.at:b.n]
		i := bytes.IndexByte(chunk, 0xff)
		if i < 0 {
			b.buf = append(b.buf, chunk...)
			b.at = b.n
			return
		}
		b.buf = append(b.buf, chunk[:i]...)
		b.at += i + 1
		m := byte(0xff)
		for m == 0xff {
			if m, b.err = b.byte(); b.err != nil {
				return
			}
		}
		if m != 0 {
			b.marker = m
			return
		}
		b.buf = append(b.buf, 0xff)
	}
}
