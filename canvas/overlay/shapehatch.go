package overlay

import (
	"math"
	"math/bits"
	"slices"

	"legwright/canvas/view"
)

// shapeHatch is how far apart the hatching lines of an area lie, device-independent
// pixels, or up to twice as far.
const shapeHatch = 7

// areaHatch is the hatching of one area on the screen: the same colours again and again, along
// a row as across it. A phase counts how far a pixel lies within them, from a line's middle to
// the next one's, in 1/2³² of the way.
type areaHatch struct {
	tab             []uint32 // the colours by phase
	shift           int      // of a phase to a place in tab
	off, perX, perY float64  // the lines passed up to the screen's corner, and those that a pixel adds
	skip            int      // pixels of a row after the first clear one that are surely clear too
}

// hatchShape lays slanting lines over an area, still on the sheet while that moves. outline is the
// area's way on the screen. It goes row by row: line by line, each pixel would lie in another page of
// the memory.
func (d *drawing) hatchShape(s *strip, x *Shape, outline []view.ScreenPt) {
	cuts := rowCuts(outline, s)
	for _, l := range hatchLines(x.ink) {
		h := d.areaHatch(x.ink, l)
		for i := 0; i+1 < len(cuts); i += 2 { // every row has an even number
			h.span(s, cuts[i].row(), cuts[i].column(), cuts[i+1].column())
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
	gap := l.gaps * math.Exp2(math.Ceil(math.Log2(shapeHatch*d.p.px/d.v.Scale())))
	pr, wide := &d.p.ink[shapeHatchOf(k)], gap*d.v.Scale()
	steps := bits.Len(uint(wide * fine))
	h := areaHatch{tab: make([]uint32, 1<<steps), shift: 32 - steps, off: offAt(view.ScreenPt{}) / gap}
	h.perX, h.perY = offAt(view.ScreenPt{X: 1})/gap-h.off, offAt(view.ScreenPt{Y: 1})/gap-h.off
	for i := range h.tab {
		part := float64(i) / float64(len(h.tab))
		h.tab[i] = pr.at(min(part, 1-part) * wide)
	}
	none := 0
	for _, c := range h.tab {
		if c == 0 {
			none++
		}
	}
	h.skip = max(int(min(float64(none-1)/float64(len(h.tab))/math.Abs(h.perX), farthest))-1, 0)
	return h
}

// slant is which hatching line a point lies on, and where along it.
func slant(p view.PicPt, crossed bool) (off, t float64) {
	if crossed {
		return (p.X + p.Y) / math.Sqrt2, (p.X - p.Y) / math.Sqrt2
	}
	return (p.X - p.Y) / math.Sqrt2, (p.X + p.Y) / math.Sqrt2
}

// rowCut is where an outline crosses the middle of a row of a strip: the row, and below it the
// column in 1/65536 pixels, so that they are in order as numbers.
type rowCut int64

func (c rowCut) row() int        { return int(c >> 32) }
func (c rowCut) column() float64 { return float64(c&math.MaxUint32) / 65536 }

// rowCuts are the crossings of a closed outline with the rows of a strip, in their order.
// Columns beside the picture count as its edges.
func rowCuts(outline []view.ScreenPt, s *strip) (out []rowCut) {
	wide := float64(s.img.Rect.Dx())
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
			x := min(max(a.X+slope*(float64(y)+0.5-a.Y), 0), wide)
			out = append(out, rowCut(y)<<32|rowCut(x*65536+0.5))
		}
	}
	slices.Sort(out)
	return out
}

// span draws the hatching between two places of a row.
func (h *areaHatch) span(s *strip, y int, from, to float64) {
	x0, x1 := int(math.Ceil(from-0.5)), int(math.Ceil(to-0.5))
	if x0 >= x1 {
		return
	}
	at := h.off + h.perX*(float64(x0)+0.5) + h.perY*(float64(y)+0.5) + 0.5/float64(len(h.tab))
	phase, step := wholePhase(at), wholePhase(h.perX)
	row, inked := s.img.Pix[y*s.img.Stride+4*x0:y*s.img.Stride+4*x1], false
	for i := 0; i+4 <= len(row); i, phase = i+4, phase+step {
		c := h.tab[phase>>h.shift]
		if c == 0 && inked { // the first clear pixel after a line
			i, phase = i+4*h.skip, phase+uint32(h.skip)*step
		}
		if inked = c != 0; inked {
			put(row[i:], c)
		}
	}
}

// wholePhase is the phase of so many lines passed.
func wholePhase(lines float64) uint32 { return uint32(int64((lines - math.Floor(lines)) * (1 << 32))) }
