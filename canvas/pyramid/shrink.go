package pyramid

import "encoding/binary"

// topBits are the highest of four 16-bit lanes.
const topBits = 0x8000800080008000

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

// lower takes the lesser of a and b in each of four 16-bit lanes below 2¹⁵:
// a less what it is above b.
func lower(a, b uint64) uint64 {
	above := (a | topBits) - b // the top bit stays where a ≥ b
	keep := above & topBits
	return a - above&(keep-keep>>15)
}

// shrinkRowRGBA is shrinkRow for rows of w pixels of four channels. Alpha is
// darkened with the colours, so that a premultiplied colour stays within it.
func shrinkRowRGBA(dst, a, b []uint8, w int) {
	a, b = a[:4*w], b[:4*w]
	x := 0
	for ; x+16 <= 4*w; x += 16 { // four pixels of each row, two blocks
		p, q := binary.LittleEndian.Uint64(a[x:]), binary.LittleEndian.Uint64(b[x:])
		r, s := binary.LittleEndian.Uint64(a[x+8:]), binary.LittleEndian.Uint64(b[x+8:])
		rb := blocks(p&evenBytes, q&evenBytes, r&evenBytes, s&evenBytes)
		ga := blocks(p>>8&evenBytes, q>>8&evenBytes, r>>8&evenBytes, s>>8&evenBytes)
		binary.LittleEndian.PutUint64(dst[x/2:], rb|ga<<8)
	}
	for ; x+8 <= 4*w; x += 8 {
		for i := range 4 {
			dst[x/2+i] = darkened(a[x+i], a[x+4+i], b[x+i], b[x+4+i])
		}
	}
	if x < 4*w {
		for i := range 4 {
			dst[x/2+i] = darkened(a[x+i], a[x+i], b[x+i], b[x+i])
		}
	}
}

// blocks makes two blocks of two channels, each channel in a lane of 16 bits:
// p and q hold two pixels of the upper and the lower row, r and s the next
// two.
func blocks(p, q, r, s uint64) uint64 {
	const half = 0xffffffff
	sum, next := p+q, r+s
	mean := (sum&half | next<<32) + (sum>>32 | next&^half) + roundTwo
	mean = mean >> 2 & evenBytes
	low, lowNext := lower(p, q), lower(r, s)
	low = lower(low&half|lowNext<<32, low>>32|lowNext&^half)
	return mean - (mean-low)>>darken&evenBytes
}
