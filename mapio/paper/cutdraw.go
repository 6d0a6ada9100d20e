package paper

import (
	"math"

	"github.com/paulmach/orb"

	"legwright/app/geodesy"
)

// things draws what the plan has on the ground: first what lies there, then the route and its
// escapes, then words, which keep off what is reserved.
func (m *cutMap) things() {
	t := &m.cut.Things
	m.placeWords()
	for _, a := range t.Areas {
		way, k := m.points(a.Outline, true), areaInk(a.Ground)
		m.hatched(way, k.hatch)
		m.line(way, k)
	}
	for _, h := range t.Hazards {
		m.hazard(h)
	}
	for _, h := range t.Havens {
		m.line(m.points(h.Points, false), havenInk)
	}
	for _, l := range t.Lines {
		m.line(m.points(l.Points, false), pick(l.Catching, catchingInk, followInk))
	}
	m.plates()
	for _, h := range t.Hazards { // no name hides where one ends
		m.outline(h)
	}
	for _, e := range t.Escapes {
		m.line(m.points(e.Points, false), pick(e.Stopped, escapeStop, escapeInk))
	}
	for _, l := range t.Legs {
		m.leg(l)
	}
	for _, h := range t.Havens {
		if len(h.Points) == 1 {
			m.gable(m.at(h.Points[0]))
		}
	}
	for _, k := range t.Marks {
		m.lozenge(m.at(k.At))
	}
	m.write()
}

func pick(is bool, yes, no ink) ink {
	if is {
		return yes
	}
	return no
}

// signHalf is half of the height of a sign, millimetres.
const signHalf = 1.8

// reserve keeps words off everything that is drawn.
func (m *cutMap) reserve() {
	t := &m.cut.Things
	for _, w := range t.ways() {
		if m.keepOff(m.points(w, false)); len(w) == 1 {
			m.signs = append(m.signs, boundOf(m.at(w[0]), signHalf, signHalf))
		}
	}
	for _, h := range t.Hazards {
		m.keepOff(m.points(h.Points, h.Closed))
		if h.Closed {
			m.danger = append(m.danger, m.area(h))
		}
	}
	for _, h := range t.Havens {
		m.keepOff(m.points(h.Points, false))
	}
	for _, l := range t.Lines {
		m.keepOff(m.points(l.Points, false))
	}
	for _, a := range t.Areas {
		m.keepOff(m.points(a.Outline, true))
	}
}

func (m *cutMap) hazard(h CutHazard) {
	if h.Closed {
		m.hatched(m.points(h.Points, true), hazardInk(h.Kind).hatch)
	}
	m.outline(h)
}

func (m *cutMap) outline(h CutHazard) {
	k := hazardInk(h.Kind)
	if h.Closed {
		k.tooth = 0 // which would lie in the hatching
	}
	for _, ring := range h.rings() {
		m.line(m.points(ring, h.Closed), k)
	}
}

// area is the area of a hazard on the page.
func (m *cutMap) area(h CutHazard) (out orb.Polygon) {
	for _, list := range h.rings() {
		var ring orb.Ring
		for _, p := range m.points(list, true) {
			ring = append(ring, orb.Point{p.X, p.Y})
		}
		out = append(out, ring)
	}
	return out
}

// keepOff keeps words off a line.
func (m *cutMap) keepOff(way []Point) {
	const step, half = 1.5, 0.9
	for _, run := range m.pieces(way) {
		for i := 1; i < len(run); i++ {
			a, b := run[i-1], run[i]
			n := math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y) / step)
			for j := 0.0; j <= n; j++ {
				f := j / max(n, 1)
				m.take(Point{a.X + f*(b.X-a.X), a.Y + f*(b.Y-a.Y)}, half, half)
			}
		}
	}
}

const (
	tickLong  = 2.2 // millimetres
	leastTick = 1.5 // between ticks across a leg, before only each fifth is drawn
)

// tickM is how far apart the ticks across a leg are, metres on the ground.
func (c *Cut) tickM() float64 {
	if c.mm(100) < leastTick {
		return 500
	}
	return 100
}

// leg draws a leg with its ticks, whose casing lies under all of it.
func (m *cutMap) leg(l CutLeg) {
	way, k := m.points([]geodesy.Grid{l.From, l.To}, false), pick(l.Stopped, legStop, legInk)
	m.inked(way, k.pens...)
	length := math.Hypot(way[1].X-way[0].X, way[1].Y-way[0].Y)
	if !(l.GroundM > 0 && length > 0) {
		return
	}
	step := length * m.cut.tickM() / l.GroundM
	m.across(way, step, tickLong+2*casing, Pen{Width: legTick.Width + 2*casing, White: true})
	m.across(way, step, tickLong, legTick)
	for _, run := range m.pieces(way) {
		m.page.Stroke(run, false, k.pens[0])
	}
}

// lozenge is the sign of a mark, open so that its feature can be seen.
func (m *cutMap) lozenge(at Point) {
	const r = signHalf
	m.inked([]Point{{at.X, at.Y - r}, {at.X + r, at.Y}, {at.X, at.Y + r}, {at.X - r, at.Y}, {at.X, at.Y - r}}, markInk.pens...)
}

// gable is the sign of a haven at one point.
func (m *cutMap) gable(at Point) {
	const r = signHalf
	sign := []Point{{at.X - r, at.Y + r}, {at.X - r, at.Y - r/3}, {at.X, at.Y - 1.2*r}, {at.X + r, at.Y - r/3}, {at.X + r, at.Y + r}, {at.X - r, at.Y + r}}
	m.inked(sign, Pen{Width: 0.7})
}
