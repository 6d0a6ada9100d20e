package overlay

import (
	"cmp"
	"image/color"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"legwright/app/escape"
	"legwright/app/ground"
	"legwright/app/leg"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/canvas/view"
)

// Shape is a hazard, a haven, a line or an area on the ground: an area, a line or a point. Make it
// with NewHazard, NewHaven, NewLine or NewArea.
type Shape struct {
	ID       plan.ID
	Points   []view.PicPt
	Closed   bool // an area
	Name     string
	Selected bool
	Keep     [][]view.PicPt // outlines of what no leg may come into, closed; nil draws none

	ink   kind
	bound view.Rect
	on    []int          // of an area with holes: on which ring each point lies, see ground.Rings
	rings [][]view.PicPt // of an area with holes: its border and theirs, each back to its first point
}

// Drawn is a shape that somebody is drawing.
type Drawn struct {
	Points []view.PicPt // the last one is where the pointer is
	Closed bool         // it will be an area
}

// NewHazard prepares a hazard for drawing. It keeps points.
func NewHazard(id plan.ID, k plan.HazardKind, closed bool, points []view.PicPt, name string) Shape {
	ink := map[plan.HazardKind]kind{plan.Crag: cragLine, plan.Steep: steepLine, plan.Water: waterLine, plan.Bog: bogLine, plan.Private: privateLine}
	return Shape{ID: id, Points: points, Closed: closed, Name: name, ink: ink[k], bound: view.RectOf(points...)}.withRings()
}

// NewProposed prepares an area of steep ground that somebody may keep as a hazard.
func NewProposed(points []view.PicPt) Shape {
	return Shape{Points: points, Closed: true, ink: drawnLine, bound: view.RectOf(points...)}.withRings()
}

// withRings finds the holes of an area: the slits that lead to them are not drawn.
func (x Shape) withRings() Shape {
	if !x.Closed {
		return x
	}
	list := make([]orb.Point, len(x.Points))
	for i, p := range x.Points {
		list[i] = orb.Point{p.X, p.Y}
	}
	if x.on = ground.Rings(list); x.on == nil {
		return x
	}
	for _, ring := range ground.OnRings(x.Points, x.on) {
		x.rings = append(x.rings, append(ring, ring[0]))
	}
	return x
}

// NewHaven prepares a haven for drawing.
func NewHaven(id plan.ID, points []view.PicPt, name string) Shape {
	return Shape{ID: id, Points: points, Name: name, ink: havenLine, bound: view.RectOf(points...)}
}

// NewLine prepares a line to follow, or a catching feature.
func NewLine(id plan.ID, catching bool, points []view.PicPt, name string) Shape {
	return Shape{ID: id, Points: points, Name: name, ink: pick(catching, catchingLine, followLine), bound: view.RectOf(points...)}
}

// NewArea prepares an area of one ground.
func NewArea(id plan.ID, g pace.Ground, points []view.PicPt, name string) Shape {
	ink := map[pace.Ground]kind{pace.Plantation: plantationLine, pace.Rough: roughLine, pace.OffPath: offPathLine, pace.Path: pathAreaLine}
	return Shape{ID: id, Points: points, Closed: true, Name: name, ink: ink[g], bound: view.RectOf(points...)}
}

// way is the points in order, back to the first one around an area.
func (x *Shape) way() []view.PicPt {
	if !x.Closed {
		return x.Points
	}
	return append(slices.Clone(x.Points), x.Points[0])
}

// shapePoints are the vertices of a thing where all of them lie on the sheet: a part of an
// outline would show another area.
func (b *builder) shapePoints(list []plan.Position) ([]view.PicPt, bool) {
	out := make([]view.PicPt, len(list))
	for i, pos := range list {
		at, ok := b.onSheet(pos)
		if !ok {
			return nil, false
		}
		out[i] = at
	}
	return out, len(out) > 0
}

func (b *builder) hazards() {
	concerned := b.concerned()
	for _, h := range b.p.Hazards {
		if points, ok := b.shapePoints(h.Points); ok {
			x := b.shape(NewHazard(h.ID, h.Kind, h.Closed, points, shortName(h.Title())))
			if concerned[h.ID] {
				x.Keep = b.keep(h.ID)
			}
			b.out.Hazards = append(b.out.Hazards, x)
		}
	}
}

// concerned are the chosen hazard, and those near the chosen leg or escape: how far to keep
// from them is drawn while somebody works there.
func (b *builder) concerned() map[plan.ID]bool {
	out := map[plan.ID]bool{b.sel.ID: true}
	add := func(m leg.Met) {
		for _, n := range m.Near {
			out[n.Hazard] = true
		}
	}
	for _, row := range b.rows {
		if row.ID == b.sel.ID {
			add(row.Met)
		}
	}
	e, _ := escape.Judged{Escapes: b.o.Escapes}.ByID(b.sel.ID)
	for _, l := range e.Legs {
		add(l.Met)
	}
	return out
}

// keep is what lies within the distance to keep from a hazard, where all of it is on the
// sheet.
func (b *builder) keep(id plan.ID) (out [][]view.PicPt) {
	common := b.r.Common()
	for _, outline := range b.r.Keep(id) {
		list := make([]plan.Position, len(outline))
		for i, at := range outline {
			list[i] = plan.ImportedAt(common.Code(), at, 0)
		}
		if points, ok := b.shapePoints(list); ok {
			out = append(out, points)
		}
	}
	return out
}

func (b *builder) havens() {
	for _, h := range b.p.Havens {
		if points, ok := b.shapePoints(h.Points); ok {
			b.out.Havens = append(b.out.Havens, b.shape(NewHaven(h.ID, points, shortName(h.Title()))))
		}
	}
}

func (b *builder) shapeLines() {
	for _, l := range b.p.Lines {
		if points, ok := b.shapePoints(l.Points); ok {
			b.out.Lines = append(b.out.Lines, b.shape(NewLine(l.ID, l.Catching, points, shortName(l.Title()))))
		}
	}
}

func (b *builder) areas() {
	for _, a := range b.p.Areas {
		if points, ok := b.shapePoints(a.Points); ok {
			b.out.Areas = append(b.out.Areas, b.shape(NewArea(a.ID, a.Ground, points, shortName(a.Title()))))
		}
	}
}

func (b *builder) shape(x Shape) Shape {
	x.Selected = x.ID == b.sel.ID
	return x
}

func hazardPaths(s *Scene, yield func(Path)) { shapePaths(s.Hazards, yield) }
func havenPaths(s *Scene, yield func(Path))  { shapePaths(s.Havens, yield) }
func linePaths(s *Scene, yield func(Path))   { shapePaths(s.Lines, yield) }
func areaPaths(s *Scene, yield func(Path))   { shapePaths(s.Areas, yield) }

func shapePaths(list []Shape, yield func(Path)) {
	for _, x := range list {
		yield(Path{ID: x.ID, Points: x.Points, Closed: x.Closed, On: x.on})
	}
}

func (d *drawing) hazards(s *strip) {
	for i := range d.scene.Hazards {
		for _, outline := range d.scene.Hazards[i].Keep {
			if !d.scene.Faint && d.meets(view.RectOf(outline...), s) {
				d.polyway(s, keepLine, d.onScreen(outline), d.p.table[keepLine].dash)
			}
		}
	}
	d.shapes(s, d.scene.Hazards)
}

func (d *drawing) havens(s *strip)     { d.shapes(s, d.scene.Havens) }
func (d *drawing) shapeLines(s *strip) { d.shapes(s, d.scene.Lines) }
func (d *drawing) areas(s *strip)      { d.shapes(s, d.scene.Areas) }

// shapes draws areas, lines and points, the chosen ones last.
func (d *drawing) shapes(s *strip, list []Shape) {
	for _, chosen := range []bool{false, true} {
		for i := range list {
			if x := &list[i]; x.Selected == chosen && d.meets(x.bound, s) && !d.stamped(s, x) {
				d.shape(s, x)
			}
		}
	}
}

func (d *drawing) shape(s *strip, x *Shape) {
	way := seenWay(d.onScreen(x.way()), d.p.px)
	if x.Closed && !d.scene.Faint {
		d.hatchShape(s, x, way)
	}
	ways := [][]view.ScreenPt{way}
	if x.rings != nil {
		ways = nil
		for _, ring := range x.rings {
			ways = append(ways, seenWay(d.onScreen(ring), d.p.px))
		}
	}
	for _, way := range ways {
		if x.Selected && !d.scene.Faint {
			d.polyway(s, shapeChosen, way, nil)
		}
		d.polyway(s, x.ink, way, d.p.table[x.ink].dash)
	}
	if len(x.Points) == 1 {
		d.shelter(s, x.ink, way[0])
	}
	if x.Selected && !d.scene.Faint {
		d.vertices(s, d.onScreen(x.handles()))
	}
}

// handles are the points that somebody can take hold of: not the ends of slits, which would open.
func (x *Shape) handles() (out []view.PicPt) {
	for i, p := range x.Points {
		if !ground.SlitEnd(x.on, i) {
			out = append(out, p)
		}
	}
	return out
}

func (d *drawing) onScreen(points []view.PicPt) []view.ScreenPt {
	out := make([]view.ScreenPt, len(points))
	for i, p := range points {
		out[i] = d.v.ToScreen(p)
	}
	return out
}

// polyway draws a way with a kind of line: all its casing first, which would else cover
// the ends of its pieces. Dashes go on around corners.
func (d *drawing) polyway(s *strip, k kind, way []view.ScreenPt, dash []float64) {
	passes := []*profile{&d.p.casing[k], &d.p.ink[k]}
	if d.scene.Faint {
		passes = []*profile{&d.p.faint[k]}
	}
	dash = scaledDash(dash, d.p.px)
	bends := bendsOf(way)
	for n, pr := range passes {
		along := 0.0
		for i := 1; i < len(way); i++ {
			a, b := way[i-1], way[i]
			switch length := a.Dist(b); {
			case !(length <= farthest):
			case len(dash) == 0 || n+1 < len(passes): // the casing has no gaps
				s.piece(pr, a, b, true, 1+bends[i-1]*pr.reach, 1+bends[i]*pr.reach)
			default:
				s.dashedFrom(pr, a, b, dash, along, true)
				along += length
			}
		}
	}
}

// bendsOf says for each point of a way how far the round end of a piece must reach there, of
// the line's half width, so that two pieces together fill the outside of the bend.
func bendsOf(way []view.ScreenPt) []float64 {
	out := make([]float64, len(way))
	for i := range way {
		before, after := i-1, i+1
		if n := len(way) - 1; n > 0 && way[0] == way[n] { // around an area
			before, after = (i+n-1)%n, (i+1)%n
		}
		out[i] = 1
		if before < 0 || after >= len(way) {
			continue
		}
		a, b, c := way[before], way[i], way[after]
		cos := ((b.X-a.X)*(c.X-b.X) + (b.Y-a.Y)*(c.Y-b.Y)) / (a.Dist(b) * b.Dist(c))
		if cos > 0 {
			out[i] = math.Sqrt((1 - min(cos, 1)) / 2) // the sine of half the turn
		}
	}
	return out
}

// shelter draws the sign of a haven at one point: a gable.
func (d *drawing) shelter(s *strip, k kind, at view.ScreenPt) {
	r := 8 * d.p.px
	gable := []view.ScreenPt{at.Add(-r, r), at.Add(-r, -r/3), at.Add(0, -r*1.2), at.Add(r, -r/3), at.Add(r, r), at.Add(-r, r)}
	d.polyway(s, k, gable, nil)
}

// vertices draws a dot at each vertex, which can be taken hold of there.
func (d *drawing) vertices(s *strip, points []view.ScreenPt) {
	for _, pr := range []*profile{&d.p.casing[vertexDot], &d.p.ink[vertexDot]} {
		for _, at := range points {
			s.segment(pr, at, at, true)
		}
	}
}

func (d *drawing) hazardTexts(chosen bool) { d.shapeTexts(d.scene.Hazards, chosen) }
func (d *drawing) havenTexts(chosen bool)  { d.shapeTexts(d.scene.Havens, chosen) }
func (d *drawing) lineTexts(chosen bool)   { d.shapeTexts(d.scene.Lines, chosen) }
func (d *drawing) areaTexts(chosen bool)   { d.shapeTexts(d.scene.Areas, chosen) }

// shapeTexts writes the names of shapes: in an area, beside a point, and on a line where
// it is seen.
func (d *drawing) shapeTexts(list []Shape, chosen bool) {
	for i := range list {
		x := &list[i]
		if x.Selected != chosen || x.Name == "" {
			continue
		}
		w := words{text: x.Name, size: controlSize * d.p.px, bold: true, ink: pick(chosen, vermillion, shapeText(x.ink))}
		switch {
		case len(x.Points) == 1:
			d.beside(x.Name, controlSize, true, w.ink, d.v.ToScreen(x.Points[0]), 12)
		case x.Closed && d.put(w, d.v.ToScreen(x.bound.Centre())):
		case x.rings != nil:
			d.alongLongest(x.Name, d.onScreen(x.rings[0]), w.ink)
		default:
			d.alongLongest(x.Name, d.onScreen(x.way()), w.ink)
		}
	}
}

// alongLongest writes a text along the longest piece of a way that has room for it.
func (d *drawing) alongLongest(text string, way []view.ScreenPt, ink color.NRGBA) {
	order := byLength(way)
	for _, i := range order[:min(len(order), 3)] {
		if d.along(text, way[i-1], way[i], ink) {
			return
		}
	}
}

// byLength are the ends of the pieces of a way, the longest first.
func byLength(way []view.ScreenPt) []int {
	order := make([]int, 0, len(way))
	for i := 1; i < len(way); i++ {
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(way[j-1].Dist(way[j]), way[i-1].Dist(way[i])) })
	return order
}

// shapeText is the colour of a shape's name.
func shapeText(k kind) color.NRGBA {
	switch k {
	case waterLine, bogLine:
		return blue
	case havenLine, followLine, catchingLine, plantationLine, offPathLine, pathAreaLine:
		return green
	}
	return black
}

// shapeHatchOf is the hatching within an area.
func shapeHatchOf(k kind) kind {
	switch k {
	case steepLine, drawnLine:
		return steepHatch
	case waterLine, bogLine:
		return waterHatch
	case privateLine:
		return privateHatch
	case plantationLine, offPathLine, pathAreaLine:
		return greenHatch
	}
	return cragHatch
}

// drawn draws what is proposed, and what somebody is drawing: its line so far, and around an area the way back
// to its first point.
func (d *drawing) drawn(s *strip) {
	d.shapes(s, d.scene.Proposed)
	x := d.scene.Drawn
	if len(x.Points) == 0 {
		return
	}
	way := d.onScreen(x.Points)
	if x.Closed && len(way) > 2 {
		d.polyway(s, closingLine, []view.ScreenPt{way[len(way)-1], way[0]}, d.p.table[closingLine].dash)
	}
	d.polyway(s, drawnLine, way, nil)
	d.vertices(s, way)
}
