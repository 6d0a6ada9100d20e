package jpg

const (
	// lookBits is the length of code that one look-up finds.
	lookBits = 10
	// endOfBlock is the advance of an entry that ends its block.
	endOfBlock = 64
)

// The flags of an entry of huffman.step.
const (
	stepLength = 0x3f // mask of the number of bits to drop
	stepMore   = 0x40 // the value's bits follow; their number stands for it
	stepLong   = 0x80 // the code is longer than lookBits
)

// huffman decodes one table's codes (T.81, annex C).
type huffman struct {
	look   [1 << lookBits]uint16 // length<<8 | symbol, 0 for longer codes
	step   [1 << lookBits]uint32 // value<<16 | advance<<8 | flags and length: a whole coefficient
	limit  [17]uint32            // first 16-bit pattern beyond the codes of a length
	offset [17]int               // symbol index minus code, by length
	syms   []byte
}

// newHuffman builds a table from its 16 counts and its symbols and says how
// many bytes it took; nil if they are no table.
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
	for i := range t.step {
		t.step[i] = t.stepAt(uint32(i))
	}
	return t, 16 + total
}

func (t *huffman) enter(code uint32, length int, sym byte) {
	if length > lookBits {
		return
	}
	first := code << (lookBits - length)
	for i := range uint32(1) << (lookBits - length) {
		t.look[first+i] = uint16(length)<<8 | uint16(sym)
	}
}

// stepAt is what the next lookBits bits mean as an AC coefficient: how far it
// lies from the one before, and its value if all its bits are among them.
func (t *huffman) stepAt(bits uint32) uint32 {
	e := t.look[bits]
	if e == 0 {
		return stepLong
	}
	n, run, size := uint32(e>>8), uint32(e>>4&15), uint32(e&15)
	switch {
	case size == 0 && run == 15:
		return 16<<8 | n
	case size == 0:
		return endOfBlock<<8 | n
	case n+size > lookBits:
		return size<<16 | (run+1)<<8 | stepMore | n
	}
	v := extend(uint64(bits)<<(64-lookBits+n), uint(size))
	return uint32(uint16(v))<<16 | (run+1)<<8 | n + size
}

// extend reads the size top bits of acc as a coefficient (T.81, F.2.2.1).
func extend(acc uint64, size uint) int {
	v := int(acc >> (64 - size))
	negative := ^(int64(acc) >> 63)
	return v + int(negative)&(1-1<<size)
}

// long finds a code longer than lookBits in the next 16 bits.
func (t *huffman) long(next uint32) (length uint, sym byte, ok bool) {
	for n := lookBits + 1; n <= 16; n++ {
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

// symbolIn finds the code at the top of acc.
func (t *huffman) symbolIn(acc uint64) (length uint, sym byte, ok bool) {
	if e := t.look[acc>>(64-lookBits)]; e != 0 {
		return uint(e >> 8), byte(e), true
	}
	return t.long(uint32(acc >> 48))
}
