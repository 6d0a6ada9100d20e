package ui

// rect is a rectangle of the screen in pixels, as Windows lays it out in memory.
type rect struct{ Left, Top, Right, Bottom int32 }

// within moves a rectangle into another, and shrinks it where it is larger.
func (r rect) within(o rect) rect {
	w, h := min(r.Right-r.Left, o.Right-o.Left), min(r.Bottom-r.Top, o.Bottom-o.Top)
	left := max(o.Left, min(r.Left, o.Right-w))
	top := max(o.Top, min(r.Top, o.Bottom-h))
	return rect{left, top, left + w, top + h}
}
