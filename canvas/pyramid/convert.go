package pyramid

import "encoding/binary"

// The conversion of luma and chroma to RGB is that of JFIF (ITU-T T.871,
// section 7) in 16-bit fixed point, exactly as the standard library's
// color.YCbCrToRGB. It is most of the work of a tile, so two pixels are
// converted at a time, one in each half of 64 bits.

// cutRow converts one row whose first luma stands in column x0.
func cutRow(dst, luma, cb, cr []uint8, x0 int, sx uint) {
	switch sx {
	case 0:
		cutRow444(dst, luma, cb[x0:], cr[x0:])
	case 1:
		cutRowHalf(dst, luma, cb, cr, x0)
	default:
		cutRowWide(dst, luma, cb, cr, x0, sx)
	}
}

// cutRowWide converts a row with chroma for several luma each.
func cutRowWide(dst, luma, cb, cr []uint8, x0 int, sx uint) {
	for i, v := range luma {
		c := (x0 + i) >> sx
		one(dst[4*i:], v, cb[c], cr[c])
	}
}

// cutRowHalf converts a row with chroma for two luma each.
func cutRowHalf(dst, luma, cb, cr []uint8, x0 int) {
	cb, cr = cb[x0/2:], cr[x0/2:]
	if x0%2 == 1 && len(luma) > 0 {
		one(dst, luma[0], cb[0], cr[0])
		dst, luma, cb, cr = dst[4:], luma[1:], cb[1:], cr[1:]
	}
	n := len(luma) / 2
	w := cr[:n]
	for i, u := range cb[:n] {
		r, g, b := chroma(u, w[i])
		y, to := luma[2*i:2*i+2:2*i+2], dst[8*i:8*i+8:8*i+8]
		v, ok := pack2(y[0], y[1], twice(r), twice(g), twice(b))
		if !ok {
			one(to, y[0], u, w[i])
			one(to[4:], y[1], u, w[i])
			continue
		}
		binary.LittleEndian.PutUint64(to, v)
	}
	if len(luma)%2 == 1 {
		one(dst[8*n:], luma[2*n], cb[n], cr[n])
	}
}

// cutRow444 converts a row whose every luma has chroma of its own.
func cutRow444(dst, luma, cb, cr []uint8) {
	cb, cr = cb[:len(luma)], cr[:len(luma)]
	i := 0
	for ; i+2 <= len(luma); i += 2 {
		y, u, w := luma[i:i+2:i+2], cb[i:i+2:i+2], cr[i:i+2:i+2]
		r0, g0, b0 := chroma(u[0], w[0])
		r1, g1, b1 := chroma(u[1], w[1])
		v, ok := pack2(y[0], y[1], both(r0, r1), both(g0, g1), both(b0, b1))
		if !ok {
			one(dst[4*i:], y[0], u[0], w[0])
			one(dst[4*i+4:], y[1], u[1], w[1])
			continue
		}
		binary.LittleEndian.PutUint64(dst[4*i:], v)
	}
	if i < len(luma) {
		one(dst[4*i:], luma[i], cb[i], cr[i])
	}
}

// one converts one pixel.
func one(dst []uint8, y, cb, cr uint8) {
	r, g, b := chroma(cb, cr)
	yy := int32(y) * 0x10101
	binary.LittleEndian.PutUint32(dst, pack(yy+r, yy+g, yy+b))
}

// chroma gives what a chroma sample adds to red, green and blue, in units of
// 1/65536.
func chroma(cb, cr uint8) (r, g, b int32) {
	u, w := int32(cb)-128, int32(cr)-128
	return 91881 * w, -22554*u - 46802*w, 116130 * u
}

// lift keeps a channel of pack2 above 0: the lowest is −11.8 million, that of
// blue −14.9 million. A channel that needs no clamping has exactly the lift in
// its upper eight bits.
const lift = 4 << 24

// both puts what chroma adds to a channel of two pixels into the halves of 64
// bits, twice that of one pixel into both.
func both(p, q int32) uint64 { return uint64(uint32(p+lift)) | uint64(uint32(q+lift))<<32 }
func twice(p int32) uint64   { return uint64(uint32(p+lift)) * 0x1_0000_0001 }

// pack2 makes two opaque pixels of their luma and of what chroma adds, unless
// a channel needs clamping, which is rare.
func pack2(y0, y1 uint8, r, g, b uint64) (pixels uint64, ok bool) {
	yy := (uint64(y0) | uint64(y1)<<32) * 0x10101
	r, g, b = r+yy, g+yy, b+yy
	const (
		tops  = 0xff000000_ff000000
		lifts = lift | lift<<32
	)
	if (r|g|b)&tops != lifts { // the tops are 3, 4 or 5, and 4 | 3 and 4 | 5 are not 4
		return 0, false
	}
	const low = 0x000000ff_000000ff
	return r>>16&low | g>>8&(low<<8) | b&(low<<16) | tops, true
}

// pack makes an opaque pixel of channels in units of 1/65536; that none needs
// clamping is by far the commonest case.
func pack(r, g, b int32) uint32 {
	if uint32(r|g|b)&0xff000000 == 0 {
		return uint32(r)>>16 | uint32(g)>>8&0xff00 | uint32(b)&0xff0000 | 0xff000000
	}
	return packClamped(r, g, b)
}

func packClamped(r, g, b int32) uint32 {
	return clamp16(r) | clamp16(g)<<8 | clamp16(b)<<16 | 0xff000000
}

// clamp16 is v/65536 held to 0–255.
func clamp16(v int32) uint32 {
	return uint32(min(max(v>>16, 0), 255))
}

// convertRaw turns raw pixels into RGBA in place.
func convertRaw(row []uint8) {
	for i := 0; i+4 <= len(row); i += 4 {
		p := binary.LittleEndian.Uint32(row[i:])
		rc, gc, bc := chroma(uint8(p>>8), uint8(p>>16))
		yy := int32(p&0xff) * 0x10101
		binary.LittleEndian.PutUint32(row[i:], pack(yy+rc, yy+gc, yy+bc))
	}
}
