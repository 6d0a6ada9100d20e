package tiff

import "encoding/binary"

// unpacker turns stored samples into bytes.
type unpacker struct {
	order  binary.ByteOrder
	bits   int
	index  bool       // indices stay as they are; brightness is spread over 0 to 255
	eights [][8]uint8 // for one bit: what a byte stands for
}

func newUnpacker(p *Page, index bool) unpacker {
	u := unpacker{order: p.d.in.order, bits: p.BitDepth, index: index}
	if u.bits != 1 {
		return u
	}
	on := uint8(255)
	if index {
		on = 1
	}
	u.eights = make([][8]uint8, 256)
	for b := range u.eights {
		for i := range 8 {
			if b>>(7-i)&1 == 1 {
				u.eights[b][i] = on
			}
		}
	}
	return u
}

// bytes gives the samples from one place of a row up to another.
func (u *unpacker) bytes(s *scratch, row []byte, from, to int) []uint8 {
	if u.bits == 8 {
		return row[from:to]
	}
	if cap(s.samples) < to-from+8 {
		s.samples = make([]uint8, to-from+8)
	}
	out := s.samples[:to-from]
	switch u.bits {
	case 1:
		return u.ones(s, row, from, to)
	case 16:
		high := 0
		if u.order == binary.ByteOrder(binary.LittleEndian) {
			high = 1
		}
		for i := range out {
			out[i] = row[2*(from+i)+high]
		}
	default:
		most := uint32(1)<<u.bits - 1
		for i := range out {
			v := bitsAt(row, (from+i)*u.bits, u.bits)
			if !u.index {
				v = (v*255 + most/2) / most
			}
			out[i] = uint8(v)
		}
	}
	return out
}

// ones spreads whole bytes of eight samples.
func (u *unpacker) ones(s *scratch, row []byte, from, to int) []uint8 {
	lead := from % 8
	n := (to + 7) / 8 * 8
	if cap(s.samples) < n-from+lead {
		s.samples = make([]uint8, n-from+lead)
	}
	out := s.samples[:n-from+lead]
	for i := range len(out) / 8 {
		*(*[8]uint8)(out[8*i:]) = u.eights[row[from/8+i]]
	}
	return out[lead : lead+to-from]
}

// bitsAt gives n bits, at most 32, from a place in a row; the first bit of a
// byte is its most significant.
func bitsAt(row []byte, at, n int) uint32 {
	var v uint64
	first, last := at/8, (at+n-1)/8
	for i := first; i <= last; i++ {
		v = v<<8 | uint64(row[i])
	}
	return uint32(v >> (8*(last+1) - at - n) & (1<<n - 1))
}
