package baseplate

// box is a part of the picture in pixels. The zero value is none.
type box struct{ left, top, right, bottom float32 }

// around is the box of so much on every side of a position, as a fraction of half the
// side of a picture of so many pixels.
func around(px float32, at Point, room float64) box {
	half := float64(px) / 2
	x, y := float32(half*(1+at[0])), float32(half*(1-at[1]))
	return box{x, y, x, y}.wider(float32(room * half))
}

func (b box) wider(by float32) box {
	return box{b.left - by, b.top - by, b.right + by, b.bottom + by}
}

// common is the area that the box has in common with others.
func (b box) common(others []box) (area float32) {
	for _, o := range others {
		wide, high := min(b.right, o.right)-max(b.left, o.left), min(b.bottom, o.bottom)-max(b.top, o.top)
		area += max(wide, 0) * max(high, 0)
	}
	return area
}
