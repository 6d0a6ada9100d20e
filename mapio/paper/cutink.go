package paper

import (
	"math"

	"legwright/app/pace"
	"legwright/app/plan"
)

// ink is how a kind of line is drawn. All is black: kinds differ in width, dashes, rails
// and teeth.
type ink struct {
	pens  []Pen
	tooth float64 // between the strokes across the line, millimetres; 0 for none
	hatch []hatch // over an area
}

// hatch is one family of parallel lines over an area.
type hatch struct {
	deg  float64 // clockwise from the level
	gap  float64 // millimetres
	dash []float64
}

func solid(w float64, dash ...float64) ink { return ink{pens: []Pen{{Width: w, Dash: dash}}} }

// rails are two lines with white between, or around a third where core is not 0.
func rails(w, white, core float64) ink {
	pens := []Pen{{Width: w}, {Width: white, White: true}}
	if core > 0 {
		pens = append(pens, Pen{Width: core})
	}
	return ink{pens: pens}
}

// The lines of a plan on paper, millimetres (our own choice):
//
//	leg         a line with a tick across every 100 m and its number; broken where
//	            nobody may walk on it
//	escape      a wider line of a dash and two dots; short dashes where it is a draft
//	line        long dashes; a catching feature a wide line
//	haven       three lines, or a gable
//	crag        short teeth close together; an area with hatching that crosses
//	steep       teeth farther apart; rising hatching
//	water       two rails; level hatching
//	bog         dots; level dashes
//	private     dash and dot; falling broken hatching
//	plantation  upright lines; rough ground upright dashes
//	off path    dots around it; a path's area close short dashes
var (
	legInk      = solid(0.6)
	legStop     = solid(0.6, 2.4, 1.6)
	legTick     = Pen{Width: 0.4}
	escapeInk   = solid(0.8, 4, 1.4, 0.8, 1.4, 0.8, 1.4)
	escapeStop  = solid(0.8, 1.6, 2.4)
	followInk   = solid(0.5, 3, 1.5)
	catchingInk = solid(1.3)
	havenInk    = rails(2.6, 1.8, 0.6)
	markInk     = solid(0.5)
)

// hazardInk is how a kind of hazard is drawn.
func hazardInk(k plan.HazardKind) ink {
	switch k {
	case plan.Crag:
		return ink{pens: solid(0.6).pens, tooth: 1.6, hatch: []hatch{{deg: -45, gap: 2}, {deg: 45, gap: 2}}}
	case plan.Steep:
		return ink{pens: solid(0.5).pens, tooth: 4, hatch: []hatch{{deg: -45, gap: 2.2}}}
	case plan.Water:
		return ink{pens: rails(1.4, 0.6, 0).pens, hatch: []hatch{{gap: 2}}}
	case plan.Bog:
		return ink{pens: solid(0.7, 0.7, 1.6).pens, hatch: []hatch{{gap: 2.6, dash: []float64{1.6, 2.4}}}}
	}
	return ink{pens: solid(0.5, 4, 1.4, 0.7, 1.4).pens, hatch: []hatch{{deg: 45, gap: 4, dash: []float64{4, 2}}}}
}

// areaInk is how an area of one ground is drawn.
func areaInk(g pace.Ground) ink {
	switch g {
	case pace.Plantation:
		return ink{pens: solid(0.5, 6, 0.8).pens, hatch: []hatch{{deg: 90, gap: 2.4}}}
	case pace.Rough:
		return ink{pens: solid(0.5, 2.4, 0.8).pens, hatch: []hatch{{deg: 90, gap: 2.8, dash: []float64{1.4, 2.4}}}}
	case pace.OffPath:
		return solid(0.5, 0.5, 1.4)
	}
	return solid(0.5, 1, 0.8)
}

// toothLong is the length of a tooth, millimetres.
const toothLong = 1.8

// line draws a line on the map with its teeth.
func (m *cutMap) line(points []Point, k ink) {
	m.inked(points, k.pens...)
	if k.tooth > 0 {
		for _, run := range m.pieces(points) {
			m.across(run, k.tooth, toothLong, Pen{Width: MinRule})
		}
	}
}

// across draws a stroke across a line every so many millimetres, the first after one step.
func (m *cutMap) across(line []Point, step, long float64, pen Pen) {
	next := step
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		for ; next < l; next += step {
			x, y := (b.X-a.X)/l, (b.Y-a.Y)/l
			at := Point{a.X + x*next, a.Y + y*next}
			m.page.Stroke([]Point{{at.X - y*long/2, at.Y + x*long/2}, {at.X + y*long/2, at.Y - x*long/2}}, false, pen)
		}
		next -= l
	}
}

// mostHatched bounds the hatching lines of one family on a page.
const mostHatched = 2000

// hatched lays hatching over the part of an area that lies on the map.
func (m *cutMap) hatched(outline []Point, list []hatch) {
	for _, h := range list {
		sin, cos := math.Sincos(h.deg * math.Pi / 180)
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, c := range m.box.corners() {
			off := c.Y*cos - c.X*sin
			lo, hi = min(lo, off), max(hi, off)
		}
		if (hi-lo)/h.gap > mostHatched {
			continue
		}
		for n := math.Ceil(lo / h.gap); n*h.gap <= hi; n++ {
			cuts := crossings(outline, n*h.gap, sin, cos)
			for i := 1; i < len(cuts); i += 2 {
				for _, run := range m.pieces([]Point{along(n*h.gap, cuts[i-1], sin, cos), along(n*h.gap, cuts[i], sin, cos)}) {
					m.page.Stroke(run, false, Pen{Width: MinRule, Dash: h.dash})
				}
			}
		}
	}
}
