package pyramid

import "encoding/binary"

const (
	evenBytes = 0x00ff00ff00ff00ff
	roundTwo  = 0x0002000200020002
	roundOne  = 0x0001000100010001
)

// boxRow writes the rounded mean of each 2×2 block of the rows a and b, both
// w bytes of one channel, to dst, which has (w+1)/2 bytes. A last odd column
// is averaged alone. Passing one row twice averages a last odd row.
func boxRow(dst, a, b []uint8, w int) {
	a, b = a[:w], b[:w]
	x := 0
	for ; x+8 <= w; x += 8 {
		p := binary.LittleEndian.Uint64(a[x:])
		q := binary.LittleEndian.Uint64(b[x:])
		s := p&evenBytes + p>>8&evenBytes + q&evenBytes + q>>8&evenBytes
		binary.LittleEndian.PutUint32(dst[x/2:], packEven((s+roundTwo)>>2&evenBytes))
	}
	for ; x+1 < w; x += 2 {
		s := uint(a[x]) + uint(a[x+1]) + uint(b[x]) + uint(b[x+1])
		dst[x/2] = uint8((s + 2) >> 2)
	}
	if x < w {
		dst[x/2] = uint8((uint(a[x]) + uint(b[x]) + 1) >> 1)
	}
}

// packEven gathers the four even bytes of v, whose odd bytes are zero.
func packEven(v uint64) uint32 {
	v = (v | v>>8) & 0x0000ffff0000ffff
	return uint32(v | v>>16)
}

// meanRows writes the rounded mean of the rows a and b to dst, all w bytes.
func meanRows(dst, a, b []uint8, w int) {
	a, b, dst = a[:w], b[:w], dst[:w]
	x := 0
	for ; x+8 <= w; x += 8 {
		p := binary.LittleEndian.Uint64(a[x:])
		q := binary.LittleEndian.Uint64(b[x:])
		even := (p&evenBytes + q&evenBytes + roundOne) >> 1 & evenBytes
		odd := (p>>8&evenBytes + q>>8&evenBytes + roundOne) >> 1 & evenBytes
		binary.LittleEndian.PutUint64(dst[x:], even|odd<<8)
	}
	for ; x < w; x++ {
		dst[x] = uint8((uint(a[x]) + uint(b[x]) + 1) >> 1)
	}
}
