package overlay

import (
	"image"
	"math"

	"legwright/app/plan"
	"legwright/app/units"
	"legwright/canvas/view"
)

// lessonAt is what of a lesson was placed for a view, once for all strips.
type lessonAt struct {
	hatch  [2][]strokeAt // of the wedges: of the one ray and of the other
	stamps []stampAt
	water  *image.RGBA // the watermark, pale
	drops  []image.Point
	ring   float64           // radius of the arc, pixels
	fits   []image.Rectangle // of the symbols round features
	norths []image.Rectangle // of the letters of the norths, and of their note
	named  map[plan.ID]bool  // marks whose names are written
}

const (
	// ringMost and ringLeast bound the radius of the arc, which keeps to ringShare of
	// the line, and northLong is the length of a north line; device-independent pixels.
	ringMost, ringLeast, ringShare = 54, 20, 0.6
	northLong                      = 130
	// arcBarb is the length of the arc's arrow head.
	arcBarb = 13
)

// setLesson places what strips share.
func (d *drawing) setLesson() {
	l := &d.scene.Lesson
	if l.Empty() {
		return
	}
	d.lesson.ring = ringMost * d.p.px
	if l.Line != nil {
		long := d.v.Scale() * l.Line.From.Dist(l.Line.To)
		d.lesson.ring = max(min(d.lesson.ring, ringShare*long), ringLeast*d.p.px)
	}
	for i := range l.Rays {
		r := &l.Rays[i]
		n := pick(r.Second, 1, 0)
		d.lesson.hatch[n] = append(d.lesson.hatch[n], d.wedge(r)...)
	}
	for _, f := range l.Features {
		sh := spotShape + shape(f.Fit)
		d.lessonStamp(sh, f.At)
		d.lesson.fits = append(d.lesson.fits, around(d.v.ToScreen(f.At), fitReaches[sh]*d.p.px)...)
	}
	for _, e := range l.Led {
		d.lessonStamp(ledShape, e.To)
	}
	for _, c := range l.Crossings {
		d.lessonStamp(crossShape, c.At)
	}
	if l.Line != nil {
		d.lessonStamp(dotShape, l.Line.From)
		d.lessonStamp(dotShape, l.Line.To)
	}
	d.setWatermark(l.Watermark)
}

func (d *drawing) lessonStamp(sh shape, p view.PicPt) {
	if at := d.v.ToScreen(p); d.sees(at, at) {
		d.lesson.stamps = append(d.lesson.stamps, d.p.stamp(sh, at))
	}
}

// beneath draws what of a lesson lies under everything else.
func (d *drawing) beneath(s *strip) {
	for _, at := range d.lesson.drops {
		s.blit(d.lesson.water, at.X, at.Y)
	}
	for n, k := range [2]kind{rayHatch, secondHatch} {
		for _, t := range d.lesson.hatch[n] {
			s.segment(&d.p.ink[k], t.a, t.b, false)
		}
	}
}

// lessonLines draws the lines of a lesson, from below.
func (d *drawing) lessonLines(s *strip) {
	l := &d.scene.Lesson
	d.fan(s)
	for _, e := range l.Led {
		d.piece(s, ledLine, d.v.ToScreen(e.From), d.v.ToScreen(e.To), 0, 5)
	}
	for i := range l.Rays {
		d.ray(s, &l.Rays[i])
	}
	for _, c := range l.Crossings {
		d.polyline(s, crossingLine, c.rim)
	}
	if l.Line != nil {
		d.piece(s, lessonLine, d.v.ToScreen(l.Line.From), d.v.ToScreen(l.Line.To), 0, trim)
	}
	for _, n := range l.Norths.Lines {
		d.north(s, n)
	}
	d.arc(s)
}

// piece draws a straight line in its kind's dashes, as far from its ends as given in
// device-independent pixels.
func (d *drawing) piece(s *strip, k kind, a, b view.ScreenPt, fromA, fromB float64) {
	length := a.Dist(b)
	if !d.sees(a, b) || !(length > (fromA+fromB)*d.p.px) {
		return
	}
	ux, uy := (b.X-a.X)/length*d.p.px, (b.Y-a.Y)/length*d.p.px
	a, b = a.Add(ux*fromA, uy*fromA), b.Add(-ux*fromB, -uy*fromB)
	if dash := d.p.table[k].dash; dash != nil {
		s.dashed(&d.p.full[k], a, b, scaledDash(dash, d.p.px), false)
		return
	}
	s.segment(&d.p.full[k], a, b, false)
}

// fan draws the guesses, all casings first: close together they would else cover one
// another. They begin outside the arc, where they come apart.
func (d *drawing) fan(s *strip) {
	for _, median := range []bool{false, true} {
		k := pick(median, guessMedian, guessLine)
		for _, pr := range []*profile{&d.p.casing[k], &d.p.ink[k]} {
			for _, l := range d.scene.Lesson.Fan {
				if l.Median == median {
					d.guess(s, pr, k, l)
				}
			}
		}
	}
}

func (d *drawing) guess(s *strip, pr *profile, k kind, l FanLine) {
	a, b := d.v.ToScreen(l.From), d.v.ToScreen(l.To)
	length := a.Dist(b)
	if !d.sees(a, b) || !(length > 0) {
		return
	}
	ux, uy := (b.X-a.X)/length, (b.Y-a.Y)/length
	if l.Across {
		half := pick(l.Median, 17.0, 11.0) * d.p.px
		s.segment(pr, b.Add(-uy*half, ux*half), b.Add(uy*half, -ux*half), false)
		return
	}
	off := min(d.lesson.ring+8*d.p.px, length/4)
	a = a.Add(ux*off, uy*off)
	if dash := d.p.table[k].dash; dash != nil {
		s.dashed(pr, a, b, scaledDash(dash, d.p.px), false)
		return
	}
	s.segment(pr, a, b, false)
}

// ray draws a ray and the edges of its wedge.
func (d *drawing) ray(s *strip, r *Ray) {
	line, edge := rayLine, rayEdge
	if r.Second {
		line, edge = secondLine, secondEdge
	}
	for _, way := range [][]view.PicPt{r.left, r.right} {
		d.way(s, edge, r.From, way)
	}
	d.way(s, line, r.From, r.line)
}

// way draws a way in its kind's dashes, as far as the sheet reaches.
func (d *drawing) way(s *strip, k kind, from view.PicPt, points []view.PicPt) {
	for i := 1; i < len(points); i++ {
		if a, b, ok := d.onPicture(from, points[i-1], points[i]); ok {
			d.piece(s, k, d.v.ToScreen(a), d.v.ToScreen(b), 0, 0)
		}
	}
}

// north draws a north line: along the ground up to the arc, then to its tip.
func (d *drawing) north(s *strip, n NorthLine) {
	at, bend, tip := d.northAt(n)
	k := northKind(n.North)
	if n.toward == n.spread {
		d.piece(s, k, at, tip, 0, 0)
		return
	}
	if n.North == d.scene.Lesson.Arc.North { // the arc begins on it
		d.piece(s, k, at, bend, 0, 0)
	}
	d.piece(s, k, bend, tip, 0, 0)
}

func northKind(n units.North) kind {
	switch n {
	case units.MagneticNorth:
		return northMagnetic
	case units.TrueNorth:
		return northTrue
	}
	return northGrid
}

// northAt is where a north line begins, where it bends and where its tip is.
func (d *drawing) northAt(n NorthLine) (at, bend, tip view.ScreenPt) {
	p := d.scene.Lesson.Norths.At
	at = d.v.ToScreen(p)
	return at, d.ahead(p, n.toward, d.lesson.ring), d.ahead(p, n.spread, northLong*d.p.px)
}

// ahead is so many pixels of the screen from a point along a direction of the picture.
func (d *drawing) ahead(p, toward view.PicPt, length float64) view.ScreenPt {
	f := length / d.v.Scale()
	return d.v.ToScreen(view.PicPt{X: p.X + f*toward.X, Y: p.Y + f*toward.Y})
}

// arc draws the angle swept and its arrow head.
func (d *drawing) arc(s *strip) {
	a := &d.scene.Lesson.Arc
	n := len(a.toward)
	if n < 2 {
		return
	}
	points := make([]view.ScreenPt, n)
	long := 0.0
	for i, toward := range a.toward {
		points[i] = d.ahead(a.At, toward, d.lesson.ring)
		if i > 0 {
			long += points[i-1].Dist(points[i])
		}
	}
	for _, pr := range []*profile{&d.p.casing[arcLine], &d.p.ink[arcLine]} {
		for i := 1; i < n; i++ {
			if d.sees(points[i-1], points[i]) {
				s.segment(pr, points[i-1], points[i], true)
			}
		}
		d.head(s, pr, points[n-2], points[n-1], min(arcBarb*d.p.px, long/2))
	}
}

// head draws the two barbs of an arrow that comes from a point before its end.
func (d *drawing) head(s *strip, pr *profile, before, end view.ScreenPt, barb float64) {
	length := before.Dist(end)
	if !(length > 0) || !(barb > 1) {
		return
	}
	ux, uy := (end.X-before.X)/length*barb, (end.Y-before.Y)/length*barb
	sin, cos := math.Sincos(math.Pi / 6)
	s.segment(pr, end, end.Add(-ux*cos+uy*sin, -uy*cos-ux*sin), true)
	s.segment(pr, end, end.Add(-ux*cos-uy*sin, -uy*cos+ux*sin), true)
}
