package jpg

import "encoding/binary"

// zigzag gives the place in a block, row by row, of the k-th coefficient
// coded (T.81, figure A.6). The second half keeps damaged runs inside.
func zigzag() [128]uint8 {
	var z [128]uint8
	x, y := 0, 0
	for k := range 64 {
		z[k] = uint8(8*y + x)
		switch up := (x+y)%2 == 0; {
		case up && x == 7, !up && y != 7 && x == 0:
			y++
		case up && y == 0, !up && y == 7:
			x++
		case up:
			x, y = x+1, y-1
		default:
			x, y = x-1, y+1
		}
	}
	for k := 64; k < 128; k++ {
		z[k] = 63
	}
	return z
}

// coder holds the tables that decode the blocks of one component of a scan.
type coder struct {
	dc, ac *huffman
	q      [64]int16 // steps, in coded order
	z      [128]uint8
	pred   int // the DC before
}

// dcDiff decodes the difference of a DC coefficient (T.81, F.2.2.1).
func (b *bits) dcDiff(t *huffman) (int, error) {
	s, err := b.symbol(t)
	if err != nil {
		return 0, err
	}
	if s == 0 {
		return 0, nil
	}
	if s > 15 {
		return 0, ErrDamaged
	}
	d := extend(b.acc, uint(s))
	b.acc <<= s
	b.have -= uint(s)
	return d, nil
}

// block decodes a block of a sequential scan into blk, which must be zero,
// multiplied by its steps. last is the place of its last coefficient in coded
// order. Coefficients of sound data fit into 16 bits.
func (b *bits) block(c *coder, blk *[64]int16) (last int, err error) {
	d, err := b.dcDiff(c.dc)
	if err != nil {
		return 0, err
	}
	c.pred += d
	blk[0] = int16(c.pred) * c.q[0]
	acc, have, step := b.acc, b.have, &c.ac.step
	k := 0
	for k < 63 {
		if have < 32 {
			if b.pos+8 > len(b.buf) {
				b.more()
			}
			acc |= binary.BigEndian.Uint64(b.buf[b.pos:]) >> (have & 63)
			b.pos += int(63-have) >> 3
			have |= 56
		}
		e := step[acc>>(64-lookBits)]
		n := uint(e & stepLength)
		if e&(stepMore|stepLong) != 0 {
			var used uint
			if e, used = c.ac.rare(e, acc); used == 0 {
				b.acc, b.have = acc, have
				return 0, b.badCode()
			}
			n = used
		}
		acc <<= n & 63
		have -= n
		k += int(e >> 8 & 0xff)
		if k > 63 {
			if e>>8&0xff == endOfBlock {
				break
			}
			b.acc, b.have = acc, have
			return 0, ErrDamaged
		}
		blk[c.z[k]&63] = int16(e>>16) * c.q[k&63]
		last = k
	}
	b.acc, b.have = acc, have
	return last, nil
}

// rare decodes what one look-up does not hold: it gives a whole entry and the
// bits it takes, none for a code without a meaning.
func (t *huffman) rare(e uint32, acc uint64) (entry uint32, used uint) {
	n, size, advance := uint(e&stepLength), uint(e>>16), e>>8&0xff
	if e&stepLong != 0 {
		length, sym, ok := t.long(uint32(acc >> 48))
		if !ok {
			return 0, 0
		}
		n, size, advance = length, uint(sym&15), uint32(sym>>4)+1
		if size == 0 {
			if sym != 0xf0 {
				advance = endOfBlock
			}
			return advance << 8, n
		}
	}
	v := extend(acc<<(n&63), size)
	return uint32(uint16(v))<<16 | advance<<8, n + size
}
