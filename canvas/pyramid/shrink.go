package pyramid

import "encoding/binary"

const (
	topBits  = 0x8000800080008000 // of four 16-bit lanes
	laneOnes = 0x0001000100010001
)

// darken is the share by which luma is drawn from the mean of its block
// towards the darkest pixel, as a power of two: 1/4. See the package comment.
const darken = 2

// shrinkRow writes the 2×2 blocks of the rows a and b, w bytes of one
// channel, to dst: mean − (mean − darkest)/4, the mean rounded, the quarter
// cut off. Edges are as in boxRow.
func shrinkRow(dst, a, b []uint8, w int) {
	a, b = a[:w], b[:w]
	x := 0
	for ; x+8 <= w; x += 8 {
		p := binary.LittleEndian.Uint64(a[x:])
		q := binary.LittleEndian.Uint64(b[x:])
		p0, p1, q0, q1 := p&evenBytes, p>>8&evenBytes, q&evenBytes, q>>8&evenBytes
		mean := (p0 + p1 + q0 + q1 + roundTwo) >> 2 & evenBytes
		low := lower(lower(p0, p1), lower(q0, q1))
		binary.LittleEndian.PutUint32(dst[x/2:], packEven(mean-(mean-low)>>darken&evenBytes))
	}
	for ; x < w; x += 2 {
		e := min(x+1, w-1)
		dst[x/2] = darkened(a[x], a[e], b[x], b[e])
	}
}

// darkened is one block of shrinkRow.
func darkened(p, q, r, s uint8) uint8 {
	mean := uint8((uint(p) + uint(q) + uint(r) + uint(s) + 2) >> 2)
	return mean - (mean-min(p, q, r, s))>>darken
}

// lower takes the lesser of a and b in each of four 16-bit lanes below 2¹⁵.
func lower(a, b uint64) uint64 {
	less := (a | topBits) - b                // the top bit stays where a ≥ b
	keep := (less >> 15 & laneOnes) * 0xffff // all ones where a ≥ b
	return b&keep | a&^keep
}

// shrinkRowRGBA is shrinkRow for rows of w pixels of four channels. Alpha is
// darkened with the colours, so that a premultiplied colour stays within it.
func shrinkRowRGBA(dst, a, b []uint8, w int) {
	a, b = a[:4*w], b[:4*w]
	x := 0
	for ; x+8 <= 4*w; x += 8 {
		p := binary.LittleEndian.Uint64(a[x:])
		q := binary.LittleEndian.Uint64(b[x:])
		rb := pairs(p&evenBytes, q&evenBytes)
		ga := pairs(p>>8&evenBytes, q>>8&evenBytes)
		binary.LittleEndian.PutUint32(dst[x/2:], rb|ga<<8)
	}
	if x < 4*w {
		for i := range 4 {
			dst[x/2+i] = darkened(a[x+i], a[x+i], b[x+i], b[x+i])
		}
	}
}

// pairs makes the block of two channels of two rows p and q of two pixels,
// each channel in a lane of 16 bits.
func pairs(p, q uint64) uint32 {
	sum := p + q
	mean := (sum + sum>>32 + 0x00020002) >> 2 & 0x00ff00ff
	low := lower(p, q)
	low = lower(low&0xffffffff, low>>32)
	return uint32(mean - (mean-low)>>darken&0x00ff00ff)
}
