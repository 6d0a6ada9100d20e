package scan

import "io"

// fastBits is the length of code that one look-up finds.
const fastBits = 9

// huffman decodes one table's codes.
type huffman struct {
	fast   [1 << fastBits]uint16 // length<<8 | symbol, 0 for longer codes
	limit  [17]uint32            // first 16-bit pattern beyond the codes of a length
	offset [17]int               // symbol index minus code, by length
	syms   []byte
}

// newHuffman builds a table from its 16 counts and its symbols (T.81, annex
// C) and says how many bytes it took; nil if they are no table.
func newHuffman(b []byte) (*huffman, int) {
	total := 0
	for _, n := range b[:16] {
		total += int(n)
	}
	if total == 0 || total > 256 || len(b) < 16+total {
		return nil, 0
	}
	t := &huffman{syms: append([]byte(nil), b[16:16+total]...)}
	code, k := uint32(0), 0
	for length := 1; length <= 16; length++ {
		t.offset[length] = k - int(code)
		for range b[length-1] {
			if code >= 1<<length {
				return nil, 0
			}
			t.enter(code, length, t.syms[k])
			code, k = code+1, k+1
		}
		t.limit[length] = code << (16 - length)
		code <<= 1
	}
	return t, 16 + total
}

func (t *huffman) enter(code uint32, length int, sym byte) {
	if length > fastBits {
		return
	}
	first := code << (fastBits - length)
	for i := range uint32(1) << (fastBits - length) {
		t.fast[first+i] = uint16(length)<<8 | uint16(sym)
	}
}

// slow finds a code longer than fastBits in the next 16 bits.
func (t *huffman) slow(next uint32) (length uint, sym byte, ok bool) {
	for n := fastBits + 1; n <= 16; n++ {
		if next < t.limit[n] {
			i := int(next>>(16-n)) + t.offset[n]
			if i < 0 || i >= len(t.syms) {
				return 0, 0, false
			}
			return uint(n), t.syms[i], true
		}
	}
	return 0, 0, false
}

// bitReader reads segments and entropy-coded bits.
type bitReader struct {
	r      io.Reader
	buf    []byte
	at, n  int
	bits   uint64 // left-aligned
	have   uint   // true bits in it; zeros follow
	marker byte   // met behind the bits, 0 for none
	err    error  // of reading, met behind the bits
}

func (b *bitReader) byte() (byte, error) {
	for b.at == b.n {
		n, err := b.r.Read(b.buf)
		b.at, b.n = 0, n
		if n > 0 {
			break
		}
		if err == io.EOF {
			err = io.ErrUnexpectedEOF
		}
		if err != nil {
			return 0, err
		}
	}
	b.at++
	return b.buf[b.at-1], nil
}

// nextMarker gives the marker a scan ended at, or the one that must come now.
func (b *bitReader) nextMarker() (byte, error) {
	if m := b.marker; m != 0 {
		b.marker = 0
		return m, nil
	}
	if b.err != nil {
		return 0, b.err
	}
	v, err := b.byte()
	if err == nil && v != 0xff {
		err = errDamaged
	}
	for err == nil && v == 0xff {
		v, err = b.byte()
	}
	if err == nil && v == 0 {
		err = errDamaged
	}
	return v, err
}

// segment reads the content behind a marker.
func (b *bitReader) segment() ([]byte, error) {
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
		return nil, errDamaged
	}
	body := make([]byte, n-2)
	for i := range body {
		if body[i], err = b.byte(); err != nil {
			return nil, err
		}
	}
	return body, nil
}

func (b *bitReader) startScan() { b.bits, b.have, b.marker, b.err = 0, 0, 0, nil }

// load fills the bits up to more than 48, or to the next marker.
func (b *bitReader) load() {
	for b.have <= 48 && b.marker == 0 && b.err == nil {
		if b.at+8 <= b.n && b.loadFast() {
			continue
		}
		v, err := b.byte()
		if err == nil && v == 0xff {
			var m byte = 0xff
			for err == nil && m == 0xff {
				m, err = b.byte()
			}
			if err == nil && m != 0 {
				b.marker = m
				return
			}
		}
		if err != nil {
			b.err = err
			return
		}
		b.bits |= uint64(v) << (56 - b.have)
		b.have += 8
	}
}

// loadFast takes the next two bytes if neither is 0xff.
func (b *bitReader) loadFast() bool {
	v, w := b.buf[b.at], b.buf[b.at+1]
	if v == 0xff || w == 0xff {
		return false
	}
	b.bits |= (uint64(v)<<8 | uint64(w)) << (48 - b.have)
	b.have += 16
	b.at += 2
	return true
}

// end is why there are no more bits: a marker in the midst of data is damage.
func (b *bitReader) end() error {
	if b.err != nil {
		return b.err
	}
	return errDamaged
}

// symbol decodes one code, and leaves at least 16 bits behind it, or zeros.
func (b *bitReader) symbol(t *huffman) (byte, error) {
	if b.have < 32 {
		b.load()
	}
	e := t.fast[b.bits>>(64-fastBits)]
	n, sym := uint(e>>8), byte(e)
	if e == 0 {
		var ok bool
		if n, sym, ok = t.slow(uint32(b.bits >> 48)); !ok {
			if b.have < 16 {
				return 0, b.end()
			}
			return 0, errDamaged
		}
	}
	return sym, b.drop(n)
}

func (b *bitReader) drop(n uint) error {
	if n > b.have {
		return b.end()
	}
	b.bits <<= n
	b.have -= n
	return nil
}

// block walks one block of 64 coefficients.
func (b *bitReader) block(dc, ac *huffman) error {
	s, err := b.symbol(dc)
	if err != nil {
		return err
	}
	if s > 15 {
		return errDamaged
	}
	if err := b.drop(uint(s)); err != nil {
		return err
	}
	for k := 1; k < 64; k++ {
		rs, err := b.symbol(ac)
		if err != nil {
			return err
		}
		run, size := int(rs>>4), uint(rs&15)
		if size == 0 {
			if run != 15 {
				break
			}
			k += 15
			continue
		}
		if k += run; k > 63 {
			return errDamaged
		}
		if err := b.drop(size); err != nil {
			return err
		}
	}
	return nil
}

// restart checks that the interval ends here with the expected marker.
func (b *bitReader) restart(want byte) error {
	if !b.drained() {
		return errDamaged
	}
	if b.marker == 0 {
		return b.end()
	}
	if b.marker != want {
		return errDamaged
	}
	b.startScan()
	return nil
}

// drained says that no more than the padding of the last byte, and one byte
// of grace, is left before the next marker or the end of the file.
func (b *bitReader) drained() bool {
	b.load()
	return b.have < 16
}

// skipScan goes on to the marker that ends a scan.
func (b *bitReader) skipScan() error {
	for {
		b.startScan()
		for b.marker == 0 && b.err == nil {
			b.load()
			b.bits, b.have = 0, 0
		}
		if b.err != nil {
			return b.err
		}
		if b.marker < 0xd0 || b.marker > 0xd7 {
			return nil
		}
	}
}
