package view

import "math"

// ScreenPt is a position in physical screen pixels of the map area, (0, 0)
// its top-left corner.
type ScreenPt struct{ X, Y float64 }

// PicPt is a position in picture pixels, column X to the right and row Y
// down, (0, 0) the top-left corner of the top-left pixel.
type PicPt struct{ X, Y float64 }

// Add returns the point moved by dx, dy screen pixels.
func (p ScreenPt) Add(dx, dy float64) ScreenPt { return ScreenPt{p.X + dx, p.Y + dy} }

// Dist returns the distance to q in screen pixels.
func (p ScreenPt) Dist(q ScreenPt) float64 { return hypot(q.X-p.X, q.Y-p.Y) }

// Dist returns the distance to q in picture pixels.
func (p PicPt) Dist(q PicPt) float64 { return hypot(q.X-p.X, q.Y-p.Y) }

// hypot is math.Hypot without its care for numbers near the ends of the
// range, at a fifth of its cost.
func hypot(x, y float64) float64 { return math.Sqrt(x*x + y*y) }

// Rect is an upright rectangle in picture pixels.
type Rect struct{ Min, Max PicPt }

// RectOf returns the smallest rectangle that holds all points. Without a
// point it is the zero Rect.
func RectOf(points ...PicPt) Rect {
	if len(points) == 0 {
		return Rect{}
	}
	r := Rect{points[0], points[0]}
	for _, p := range points[1:] {
		r.Min = PicPt{min(r.Min.X, p.X), min(r.Min.Y, p.Y)}
		r.Max = PicPt{max(r.Max.X, p.X), max(r.Max.Y, p.Y)}
	}
	return r
}

// Centre returns the middle of the rectangle.
func (r Rect) Centre() PicPt { return PicPt{(r.Min.X + r.Max.X) / 2, (r.Min.Y + r.Max.Y) / 2} }

func finite(vs ...float64) bool {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
