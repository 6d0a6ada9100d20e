package paper

// Point is a position on the paper in millimetres from its top-left corner.
type Point struct{ X, Y float64 }

// Rect is a box on the paper: its top-left corner, width and height in millimetres.
type Rect struct{ X, Y, W, H float64 }

// Right is the x of the right edge.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom is the y of the lower edge.
func (r Rect) Bottom() float64 { return r.Y + r.H }

// Centre is the middle of the box.
func (r Rect) Centre() Point { return Point{r.X + r.W/2, r.Y + r.H/2} }

// Inset returns the box smaller by mm on each side, at least empty.
func (r Rect) Inset(mm float64) Rect {
	return Rect{r.X + mm, r.Y + mm, max(0, r.W-2*mm), max(0, r.H-2*mm)}
}

// Top cuts the uppermost h millimetres off, or all where there is less.
func (r Rect) Top(h float64) (top, rest Rect) {
	h = min(h, r.H)
	return Rect{r.X, r.Y, r.W, h}, Rect{r.X, r.Y + h, r.W, r.H - h}
}

// Foot cuts the lowest h millimetres off, or all where there is less.
func (r Rect) Foot(h float64) (foot, rest Rect) {
	rest, foot = r.Top(max(0, r.H-h))
	return foot, rest
}

// Left cuts the leftmost w millimetres off, or all where there is less.
func (r Rect) Left(w float64) (left, rest Rect) {
	w = min(w, r.W)
	return Rect{r.X, r.Y, w, r.H}, Rect{r.X + w, r.Y, r.W - w, r.H}
}

// corners are the four corners, clockwise from the top left.
func (r Rect) corners() []Point {
	return []Point{{r.X, r.Y}, {r.Right(), r.Y}, {r.Right(), r.Bottom()}, {r.X, r.Bottom()}}
}

// rectAround is the least box around points, of which there is at least one.
func rectAround(points []Point) Rect {
	r := Rect{points[0].X, points[0].Y, 0, 0}
	for _, p := range points {
		x, y := min(r.X, p.X), min(r.Y, p.Y)
		r = Rect{x, y, max(r.Right(), p.X) - x, max(r.Bottom(), p.Y) - y}
	}
	return r
}
