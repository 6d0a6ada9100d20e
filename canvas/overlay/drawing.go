package overlay

import (
	"image"
	"math"
	"slices"

	"legwright/canvas/view"
)

// drawing is a scene as one view shows it: what is far outside has been left
// out, texts are set and have their places. Strips may be drawn from it
// concurrently.
type drawing struct {
	p       *Painter
	v       view.View
	seen    image.Rectangle // where texts are placed first
	scene   Scene
	lines   []lineAt
	dots    []stampAt // at the ends of lines
	marks   []stampAt
	points  [2][]stampAt // the control points: their casing, their ink
	rings   []stampAt    // around intersections found
	strokes []strokeAt   // of the hatching
	relief  reliefAt
	times   float64 // by which residuals are lengthened
	texts   []textAt
	taken   []image.Rectangle // by texts
	named   []image.Rectangle // by the names of marks, ends, escapes and of what is drawn on the ground
	lesson  lessonAt
}

// lineAt is a leg or sight on the screen.
type lineAt struct {
	kind, tick kind
	a, b       view.ScreenPt // the ends
	ticks      ticks
}

// textAt is a text and where its picture lies.
type textAt struct {
	textImage *textImage
	at        image.Rectangle
}

// rimPx is how far outside the picture something may begin and still be
// drawn, device-independent pixels.
const rimPx = 24

func newDrawing(p *Painter, v view.View, s Scene, seen image.Rectangle) *drawing {
	d := &drawing{p: p, v: v, scene: s, seen: seen, times: s.Magnified(v, p.px)}
	d.setLines()
	d.setStamps()
	d.setControls()
	d.setRings()
	d.setPictures()
	d.setLocal()
	d.setRelief()
	d.setLesson()
	d.setTexts()
	return d
}

// sees says whether a box around two points meets what is shown. Points off
// the picture count: marks may be typed that lie beside the sheet.
func (d *drawing) sees(a, b view.ScreenPt) bool {
	w, h := float64(d.p.img.Rect.Dx()), float64(d.p.img.Rect.Dy())
	rim := rimPx * d.p.px
	return max(a.X, b.X) >= -rim && min(a.X, b.X) <= w+rim && max(a.Y, b.Y) >= -rim && min(a.Y, b.Y) <= h+rim
}

// addLine adds a straight line of a thing to a drawing, if it is in sight.
type addLine func(l lineAt, from, to view.PicPt, chosen bool)

// setLines finds the straight lines in sight, the chosen ones last.
func (d *drawing) setLines() {
	var last []lineAt
	add := func(l lineAt, from, to view.PicPt, chosen bool) {
		l.a, l.b = d.v.ToScreen(from), d.v.ToScreen(to)
		switch {
		case !d.sees(l.a, l.b):
		case chosen:
			last = append(last, l)
		default:
			d.lines = append(d.lines, l)
		}
	}
	for _, k := range slices.Backward(thingKinds()) {
		if k.lines != nil {
			k.lines(d, add)
		}
	}
	d.lines = append(d.lines, last...)
}

func (d *drawing) sightLines(add addLine) {
	for _, s := range d.scene.Sights {
		plain, stopped := sightLine, sightStopped
		if s.Selected {
			plain, stopped = sightChosen, sightChosenStopped
		}
		add(lineAt{kind: pick(s.Stopped, stopped, plain)}, s.From, s.To, s.Selected)
	}
}

func (d *drawing) legLines(add addLine) {
	for _, l := range d.scene.Legs {
		plain, stopped, tick := legLine, legStopped, legTick
		if l.Selected {
			plain, stopped, tick = legChosen, legChosenStopped, legTickChosen
		}
		ticks := ticksOf(l.LengthM, d.v.Scale()*l.From.Dist(l.To), d.p.px)
		add(lineAt{kind: pick(l.Stopped, stopped, plain), tick: tick, ticks: ticks}, l.From, l.To, l.Selected)
	}
}

// setControls places the control points in sight.
func (d *drawing) setControls() {
	crowded := crowded(d.scene.Controls, d.v, d.p.px)
	for _, c := range d.scene.Controls {
		at := d.v.ToScreen(c.At)
		if !d.sees(at, at) {
			continue
		}
		k, sh := pick(c.Selected, controlChosen, controlLine), pick(c.Selected || !crowded, cornersShape, controlShape)
		for i, pass := range []*profile{&d.p.casing[k], &d.p.ink[k]} {
			d.points[i] = append(d.points[i], d.p.stampPass(sh, pass, at))
		}
	}
}

// setStamps places the dots and marks in sight, the chosen marks last.
func (d *drawing) setStamps() {
	for _, l := range d.lines {
		for _, at := range []view.ScreenPt{l.a, l.b} {
			if d.sees(at, at) {
				d.dots = append(d.dots, d.p.stamp(dotShape, at))
			}
		}
	}
	for _, chosen := range []bool{false, true} {
		for _, m := range d.scene.Marks {
			if at := d.v.ToScreen(m.At); m.Selected == chosen && d.sees(at, at) {
				d.marks = append(d.marks, d.p.stamp(pick(d.scene.Faint, faintShape, pick(chosen, chosenShape, markShape)), at))
			}
		}
	}
}

func pick[T any](yes bool, a, b T) T {
	if yes {
		return a
	}
	return b
}

// on draws everything on a strip, from below.
func (d *drawing) on(s *strip) {
	d.beneath(s)
	d.relief.draw(d, s)
	d.local(s)
	d.grid(s)
	if d.scene.Faint {
		d.things(s)
	}
	d.found(s)
	if !d.scene.Faint {
		d.things(s)
	}
	for i, pass := range []*[kinds]profile{&d.p.casing, &d.p.ink} {
		for _, r := range d.scene.Residuals {
			a, b := d.residual(r)
			d.arrow(s, &pass[residualLine], a, b)
		}
		for _, c := range d.points[i] {
			s.blit(c.img, c.x, c.y)
		}
		for _, spot := range d.scene.Spots {
			d.spot(s, &pass[spot.kind()], spot)
		}
	}
	d.slips(s)
	d.drawn(s)
	d.lessonLines(s)
	over := [][]stampAt{d.rings, d.dots, d.marks, d.lesson.stamps}
	if d.scene.Faint {
		over = over[:1]
	}
	for _, m := range over {
		for _, m := range m {
			s.blit(m.img, m.x, m.y)
		}
	}
	for _, t := range d.texts {
		s.blit(t.textImage.img, t.at.Min.X, t.at.Min.Y)
	}
}

// things draws what lies on the ground, and the marks too where it stands back.
func (d *drawing) things(s *strip) {
	for _, k := range slices.Backward(thingKinds()) {
		if k.draw != nil {
			k.draw(d, s)
		}
	}
	for i := range d.lines {
		d.line(s, &d.lines[i])
	}
	if d.scene.Faint {
		for _, m := range d.marks {
			s.blit(m.img, m.x, m.y)
		}
	}
}

// full is a line's whole cross-section, or its pale ink where things stand back.
func (d *drawing) full(k kind) *profile {
	if d.scene.Faint {
		return &d.p.faint[k]
	}
	return &d.p.full[k]
}

// trim is how far a leg or sight stays away from its ends, so that the
// features there can be seen; a dot stands at the end itself. Legs shorter
// than noTrim are drawn whole. Device-independent pixels. At each end at most the
// share mostTrim of a leg is left away, so that short ones can still be followed.
const (
	trim     = 10
	noTrim   = 30
	mostTrim = 1.0 / 8
)

// line draws a leg or sight with its casing; where lines cross, the later one
// lies over the earlier.
func (d *drawing) line(s *strip, l *lineAt) {
	pr, px := d.full(l.kind), d.p.px
	a, b := l.a, l.b
	if length := a.Dist(b); length > noTrim*px {
		f := min(trim*px/length, mostTrim)
		a = view.ScreenPt{X: l.a.X + f*(l.b.X-l.a.X), Y: l.a.Y + f*(l.b.Y-l.a.Y)}
		b = view.ScreenPt{X: l.b.X - f*(l.b.X-l.a.X), Y: l.b.Y - f*(l.b.Y-l.a.Y)}
	}
	if dash := d.p.table[l.kind].dash; dash != nil {
		s.dashed(pr, a, b, scaledDash(dash, px), false)
	} else {
		s.segment(pr, a, b, false)
	}
	d.ticks(s, l)
}

func scaledDash(dash []float64, px float64) []float64 {
	out := make([]float64, len(dash))
	for i, v := range dash {
		out[i] = v * px
	}
	return out
}

// arrow draws a shaft with two barbs at its head.
func (d *drawing) arrow(s *strip, pr *profile, a, b view.ScreenPt) {
	length := a.Dist(b)
	if length < 1 || !d.sees(a, b) {
		return
	}
	s.segment(pr, a, b, true)
	barb := min(7*d.p.px, length)
	ux, uy := (b.X-a.X)/length*barb, (b.Y-a.Y)/length*barb
	const sin, cos = 0.5, 0.866 // barbs stand 30° off the shaft
	s.segment(pr, b, b.Add(-ux*cos+uy*sin, -uy*cos-ux*sin), true)
	s.segment(pr, b, b.Add(-ux*cos-uy*sin, -uy*cos+ux*sin), true)
}

// ticks says where a leg is ticked: n of them, each the given part of the
// leg's length after the other, the first at the first part.
type ticks struct {
	n, every int // every counts hundreds of metres
	part     float64
}

// leastTick is how near ticks may come to each other, device-independent
// pixels; nearer, only every fifth or tenth is drawn.
const leastTick = 10

func ticksOf(lengthM, lengthPx, px float64) ticks {
	if !(lengthM > 0) || math.IsInf(lengthM, 0) || lengthPx < 1 {
		return ticks{}
	}
	for _, every := range []int{1, 5, 10, 50, 100} {
		part := float64(every) * 100 / lengthM
		if part*lengthPx >= leastTick*px {
			return ticks{n: int(0.999999 / part), every: every, part: part}
		}
	}
	return ticks{}
}

// Half the length of a tick and of every fifth, device-independent pixels.
// Plain ticks end within the leg's own casing and need none.
const (
	tickHalf     = 4.2
	longTickHalf = 7.5
)

// ticks draws the ticks that lie in the strip; every fifth is longer.
func (d *drawing) ticks(s *strip, l *lineAt) {
	if l.ticks.n == 0 {
		return
	}
	px := d.p.px
	t0, t1, ok := s.span(l.a, l.b, longTickHalf*px)
	if !ok {
		return
	}
	dx, dy := l.b.X-l.a.X, l.b.Y-l.a.Y
	length := math.Hypot(dx, dy)
	nx, ny := -dy/length*px, dx/length*px
	from, to := int(t0/l.ticks.part), int(math.Ceil(t1/l.ticks.part))
	for i := max(from, 1); i <= min(to, l.ticks.n); i++ {
		half, pr := tickHalf, &d.p.ink[l.tick]
		if i*l.ticks.every%5 == 0 {
			half, pr = longTickHalf, d.full(l.tick)
		}
		if d.scene.Faint {
			pr = &d.p.faint[l.tick]
		}
		f := float64(i) * l.ticks.part
		at := view.ScreenPt{X: l.a.X + f*dx, Y: l.a.Y + f*dy}
		s.segment(pr, at.Add(nx*half, ny*half), at.Add(-nx*half, -ny*half), false)
	}
}
