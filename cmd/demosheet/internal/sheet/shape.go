package sheet

import (
	"math"

	"legwright/cmd/demosheet/internal/ground"
	"legwright/cmd/demosheet/internal/ink"
)

// points takes ground points as plain points, for questions of inside and outside.
func points(l ground.Line) []ink.Pt {
	out := make([]ink.Pt, len(l))
	for i, p := range l {
		out[i] = ink.Pt(p)
	}
	return out
}

func bounds(line []ink.Pt) (lo, hi ink.Pt) {
	lo, hi = line[0], line[0]
	for _, p := range line {
		lo.X, lo.Y = math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)
		hi.X, hi.Y = math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)
	}
	return lo, hi
}

// within reports whether p lies inside the outline (even-odd rule).
func within(outline []ink.Pt, p ink.Pt) bool {
	in := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)*(b.X-a.X)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// margin returns the distance in pixels from p to the line.
func margin(line []ink.Pt, p ink.Pt) float64 {
	best := math.Inf(1)
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		dx, dy := b.X-a.X, b.Y-a.Y
		t := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			t = math.Max(0, math.Min(1, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l))
		}
		best = math.Min(best, math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy))
	}
	return best
}
