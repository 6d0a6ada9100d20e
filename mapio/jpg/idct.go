package jpg

// The inverse transform (T.81, A.3.3) in two passes of eight one-dimensional
// ones. Each is split into its even and its odd half, with factors
// √2·cos(kπ/16) of 12 bits; both together leave a factor 8. The first pass
// keeps two bits below the point. Against the definition in floating point a
// pixel differs by at most 1, see the tests.
const (
	c1 = 5681 // √2·cos(π/16) · 4096
	c2 = 5352
	c3 = 4816
	c5 = 3218
	c6 = 2217
	c7 = 1130

	firstDown  = 10 // 12 bits of factor less two that stay
	secondDown = 17 // 12 bits of factor, the two, and 8
	// grey and rounding are added before the second shift.
	bias = 128<<secondDown + 1<<(secondDown-1)
)

func clamp(v int32) uint8 {
	if uint32(v) > 255 {
		if v < 0 {
			return 0
		}
		return 255
	}
	return uint8(v)
}

// mean is the block's mean as a pixel.
func mean(dc int16) uint8 { return clamp((int32(dc)+4)>>3 + 128) }

// inverse makes the 8 × 8 pixels of a block at dst. last is the place of its
// last coefficient in coded order: up to the tenth lie in the upper left 4 × 4.
func inverse(blk *[64]int16, last int, dst []uint8, stride int) {
	switch {
	case last == 0:
		flat(mean(blk[0]), dst, stride)
	case last < 10:
		var mid [64]int32
		for x := range 4 {
			shortColumn(blk, &mid, x)
		}
		for y := range 8 {
			shortRow((*[4]int32)(mid[8*y:]), (*[8]uint8)(dst[y*stride:]))
		}
	default:
		var mid [64]int32
		for x := range 8 {
			column(blk, &mid, x)
		}
		for y := range 8 {
			row((*[8]int32)(mid[8*y:]), (*[8]uint8)(dst[y*stride:]))
		}
	}
}

func flat(v uint8, dst []uint8, stride int) {
	for y := range 8 {
		d := (*[8]uint8)(dst[y*stride:])
		*d = [8]uint8{v, v, v, v, v, v, v, v}
	}
}

func column(blk *[64]int16, mid *[64]int32, x int) {
	s0, s1, s2, s3 := int32(blk[x&7]), int32(blk[x&7+8]), int32(blk[x&7+16]), int32(blk[x&7+24])
	s4, s5, s6, s7 := int32(blk[x&7+32]), int32(blk[x&7+40]), int32(blk[x&7+48]), int32(blk[x&7+56])
	const half = 1 << (firstDown - 1)
	if s1|s2|s3|s4|s5|s6|s7 == 0 {
		v := s0 << 2
		for y := range 8 {
			mid[x&7+8*y] = v
		}
		return
	}
	e0, e1 := (s0+s4)<<12+half, (s0-s4)<<12+half
	t2, t3 := c2*s2+c6*s6, c6*s2-c2*s6
	a0, a1, a2, a3 := e0+t2, e1+t3, e1-t3, e0-t2
	b0 := c1*s1 + c3*s3 + c5*s5 + c7*s7
	b1 := c3*s1 - c7*s3 - c1*s5 - c5*s7
	b2 := c5*s1 - c1*s3 + c7*s5 + c3*s7
	b3 := c7*s1 - c5*s3 + c3*s5 - c1*s7
	mid[x&7], mid[x&7+56] = (a0+b0)>>firstDown, (a0-b0)>>firstDown
	mid[x&7+8], mid[x&7+48] = (a1+b1)>>firstDown, (a1-b1)>>firstDown
	mid[x&7+16], mid[x&7+40] = (a2+b2)>>firstDown, (a2-b2)>>firstDown
	mid[x&7+24], mid[x&7+32] = (a3+b3)>>firstDown, (a3-b3)>>firstDown
}

func row(m *[8]int32, d *[8]uint8) {
	s0, s1, s2, s3, s4, s5, s6, s7 := m[0], m[1], m[2], m[3], m[4], m[5], m[6], m[7]
	e0, e1 := (s0+s4)<<12+bias, (s0-s4)<<12+bias
	t2, t3 := c2*s2+c6*s6, c6*s2-c2*s6
	a0, a1, a2, a3 := e0+t2, e1+t3, e1-t3, e0-t2
	b0 := c1*s1 + c3*s3 + c5*s5 + c7*s7
	b1 := c3*s1 - c7*s3 - c1*s5 - c5*s7
	b2 := c5*s1 - c1*s3 + c7*s5 + c3*s7
	b3 := c7*s1 - c5*s3 + c3*s5 - c1*s7
	put(d, a0, a1, a2, a3, b0, b1, b2, b3)
}

func put(d *[8]uint8, a0, a1, a2, a3, b0, b1, b2, b3 int32) {
	d[0], d[7] = clamp((a0+b0)>>secondDown), clamp((a0-b0)>>secondDown)
	d[1], d[6] = clamp((a1+b1)>>secondDown), clamp((a1-b1)>>secondDown)
	d[2], d[5] = clamp((a2+b2)>>secondDown), clamp((a2-b2)>>secondDown)
	d[3], d[4] = clamp((a3+b3)>>secondDown), clamp((a3-b3)>>secondDown)
}

// shortColumn and shortRow have only the first four coefficients.
func shortColumn(blk *[64]int16, mid *[64]int32, x int) {
	s0, s1, s2, s3 := int32(blk[x&3]), int32(blk[x&3+8]), int32(blk[x&3+16]), int32(blk[x&3+24])
	e := s0<<12 + 1<<(firstDown-1)
	t2, t3 := c2*s2, c6*s2
	a0, a1, a2, a3 := e+t2, e+t3, e-t3, e-t2
	b0, b1, b2, b3 := c1*s1+c3*s3, c3*s1-c7*s3, c5*s1-c1*s3, c7*s1-c5*s3
	mid[x&3], mid[x&3+56] = (a0+b0)>>firstDown, (a0-b0)>>firstDown
	mid[x&3+8], mid[x&3+48] = (a1+b1)>>firstDown, (a1-b1)>>firstDown
	mid[x&3+16], mid[x&3+40] = (a2+b2)>>firstDown, (a2-b2)>>firstDown
	mid[x&3+24], mid[x&3+32] = (a3+b3)>>firstDown, (a3-b3)>>firstDown
}

func shortRow(m *[4]int32, d *[8]uint8) {
	s0, s1, s2, s3 := m[0], m[1], m[2], m[3]
	e := s0<<12 + bias
	t2, t3 := c2*s2, c6*s2
	put(d, e+t2, e+t3, e-t3, e-t2, c1*s1+c3*s3, c3*s1-c7*s3, c5*s1-c1*s3, c7*s1-c5*s3)
}
