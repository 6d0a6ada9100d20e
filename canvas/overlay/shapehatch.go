package overlay

import (
	"cmp"
	"math"
	"slices"

	"legwright/canvas/view"
)

// shapeHatch is how far apart the hatching lines of an area lie, device-independent
// pixels, or up to twice as far.
const shapeHatch = 7

// areaHatch is the hatching of one area. Line n lies where off, which grows evenly over the
// screen, is n · gap.
type areaHatch struct {
	pr    *profile
	gap   float64 // picture pixels
	scale float64 // of the view
	// off is that of the screen's corner, perX and perY what it gains in a pixel.
	off, perX, perY float64
}

// hatchShape lays slanting lines over an area, still on the sheet while that moves. outline is the
// area's way on the screen. It goes row by row: line by line, each pixel would lie in another page of
// the memory.
func (d *drawing) hatchShape(s *strip, x *Shape, outline []view.ScreenPt) {
	cuts := rowCuts(outline, s)
	for _, l := range hatchLines(x.ink) {
		h := d.areaHatch(x.ink, l)
		for i := 0; i+1 < len(cuts); i += 2 { // every row has an even number
			h.span(s, cuts[i].y, cuts[i].x, cuts[i+1].x)
		}
	}
}

// slanting are the hatching lines of one direction in an area.
type slanting struct {
	rises bool    // to the right
	gaps  float64 // how far apart they lie, in gaps of the usual hatching
}

// hatchLines are the lines within an area: those of danger rise to the right, the others fall or do
// both.
func hatchLines(k kind) []slanting {
	switch k {
	case cragLine, steepLine, waterLine, drawnLine:
		return []slanting{{true, 1}}
	case plantationLine:
		return []slanting{{true, 1}, {false, 1}}
	case pathAreaLine:
		return []slanting{{true, 4}, {false, 4}}
	case offPathLine:
		return []slanting{{false, 4}}
	}
	return []slanting{{false, 1}}
}

// areaHatch prepares hatching lines as they lie on the screen.
func (d *drawing) areaHatch(k kind, l slanting) areaHatch {
	offAt := func(p view.ScreenPt) float64 {
		off, _ := slant(d.v.ToPicture(p), l.rises)
		return off
	}
	h := areaHatch{pr: &d.p.ink[shapeHatchOf(k)], scale: d.v.Scale(), off: offAt(view.ScreenPt{})}
	h.gap = l.gaps * math.Exp2(math.Ceil(math.Log2(shapeHatch*d.p.px/h.scale)))
	h.perX, h.perY = offAt(view.ScreenPt{X: 1})-h.off, offAt(view.ScreenPt{Y: 1})-h.off
	return h
}

// slant is which hatching line a point lies on, and where along it.
func slant(p view.PicPt, crossed bool) (off, t float64) {
	if crossed {
		return (p.X + p.Y) / math.Sqrt2, (p.X - p.Y) / math.Sqrt2
	}
	return (p.X - p.Y) / math.Sqrt2, (p.X + p.Y) / math.Sqrt2
}

// rowCut is where an outline crosses the middle of a row.
type rowCut struct {
	y int
	x float64
}

// rowCuts are the crossings of a closed outline with the rows of a strip, in their order.
func rowCuts(outline []view.ScreenPt, s *strip) (out []rowCut) {
	for i := 1; i < len(outline); i++ {
		a, b := outline[i-1], outline[i]
		if a.Y > b.Y {
			a, b = b, a
		}
		if !(b.Y-a.Y > 0) || b.Y < float64(s.y0) || a.Y > float64(s.y1) {
			continue
		}
		slope := (b.X - a.X) / (b.Y - a.Y)
		from, to := max(math.Ceil(a.Y-0.5), float64(s.y0)), min(math.Ceil(b.Y-0.5), float64(s.y1))
		for y := int(from); y < int(to); y++ {
			out = append(out, rowCut{y, a.X + slope*(float64(y)+0.5-a.Y)})
		}
	}
	slices.SortFunc(out, func(a, b rowCut) int { return cmp.Or(cmp.Compare(a.y, b.y), cmp.Compare(a.x, b.x)) })
	return out
}

// span draws the hatching between two places of a row.
func (h *areaHatch) span(s *strip, y int, from, to float64) {
	x0, x1 := int(max(math.Ceil(from-0.5), 0)), int(min(math.Ceil(to-0.5), float64(s.img.Rect.Dx())))
	if x0 >= x1 {
		return
	}
	at := func(x int) float64 { return h.off + h.perX*(float64(x)+0.5) + h.perY*(float64(y)+0.5) }
	reach := h.pr.reach / h.scale
	lo, hi := min(at(x0), at(x1-1)), max(at(x0), at(x1-1))
	row := s.img.Pix[y*s.img.Stride:]
	for n := math.Ceil((lo - reach) / h.gap); n*h.gap <= hi+reach; n++ {
		a, b := x0, x1
		if math.Abs(h.perX) > 1e-9 {
			middle, half := (n*h.gap-at(0))/h.perX, reach/math.Abs(h.perX)
			a, b = max(x0, int(math.Ceil(middle-half))), min(x1, int(math.Floor(middle+half))+1)
		}
		if a < b {
			h.pr.row(row[4*a:4*b], (at(a)-n*h.gap)*h.scale, h.perX*h.scale)
		}
	}
}
