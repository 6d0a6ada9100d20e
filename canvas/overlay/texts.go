package overlay

import (
	"image"
	"image/color"
	"math"
	"slices"
	"strings"

	"legwright/app/plan"
	"legwright/canvas/view"
)

// Sizes of texts in device-independent pixels an em.
const (
	nameSize    = 13
	legSize     = 12.5
	controlSize = 12
	gridSize    = 11
)

// setTexts places the texts, the most important first; one that would cover
// another is left out.
func (d *drawing) setTexts() {
	d.lessonTexts()
	d.residualText()
	d.slipTexts()
	for _, chosen := range []bool{true, false} {
		if !d.scene.Faint {
			for _, k := range thingKinds() {
				if k.texts == nil {
					continue
				}
				before := len(d.texts)
				k.texts(d, chosen)
				if k.draw != nil || k.kind == plan.OfMark {
					d.nameFrom(before)
				}
			}
		}
		d.controlTexts(chosen)
		d.spotTexts(chosen)
		if !d.scene.Faint {
			before := len(d.texts)
			d.endTexts(chosen)
			d.nameFrom(before)
		}
	}
	d.localTexts()
	d.reliefTexts()
	d.gridTexts()
}

// nameFrom takes the texts from a number on as names that the dragged figures keep off.
func (d *drawing) nameFrom(before int) {
	for _, t := range d.texts[before:] {
		d.named = append(d.named, t.letters()...)
	}
}

// put places a text with its middle at mid unless it would cover another or
// lie outside. Turned texts are kept apart by their boxes, which is more than
// they need.
func (d *drawing) put(w words, mid view.ScreenPt) bool {
	p := d.p.letters.textImage(w)
	at := p.rect(mid)
	if !at.Overlaps(d.p.img.Rect) {
		return false
	}
	if d.covers(at) {
		return false
	}
	d.p.letters.draw(p)
	d.taken = append(d.taken, at)
	d.texts = append(d.texts, textAt{p, at})
	return true
}

// beside places a text on one of the four sides of a symbol, rather where it is seen
// whole, and rather clear of the symbols round features: over one, a ± is lost and its
// figure stands alone. It rather lies over no other mark, whose name it would seem to be.
func (d *drawing) beside(text string, size float64, bold bool, ink color.NRGBA, at view.ScreenPt, off float64) bool {
	if text == "" || !d.sees(at, at) {
		return false
	}
	w := words{text: text, size: size * d.p.px, bold: bold, ink: ink}
	half := d.p.letters.width(w) / 2
	off *= d.p.px
	sides := func(right, left, above, below float64) []view.ScreenPt {
		return []view.ScreenPt{
			at.Add(right+half, -off*0.5), at.Add(-left-half, -off*0.5), at.Add(0, -above-size*0.5*d.p.px), at.Add(0, below+size*0.6*d.p.px),
		}
	}
	clear := sides(d.offFits(at, off))
	for _, mid := range append(d.wholly(w, at, clear), clear...) {
		if !d.onFit(w, mid) && !d.onMark(w, mid, at) && d.put(w, mid) {
			return true
		}
	}
	for _, mid := range sides(off, off, off, off) {
		if d.put(w, mid) {
			return true
		}
	}
	return false
}

// wholly lists where a text is seen whole on the right, left, upper or lower side of a
// symbol, then where it is once it is slid along its side.
func (d *drawing) wholly(w words, at view.ScreenPt, sides []view.ScreenPt) []view.ScreenPt {
	var whole, slid []view.ScreenPt
	p, within := d.p.letters.textImage(w), image.Pt(int(at.X), int(at.Y)).In(d.seen)
	for i, mid := range sides {
		to := d.into(p.rect(mid), mid)
		switch {
		case to == mid:
			whole = append(whole, mid)
			continue
		case i < 2:
			to.X = mid.X
		default:
			to.Y = mid.Y
		}
		if within && p.rect(to).In(d.seen) {
			slid = append(slid, to)
		}
	}
	return append(whole, slid...)
}

// offFits is how far from a point texts on its four sides begin, at least off, to stand
// clear of the symbols that it lies in.
func (d *drawing) offFits(at view.ScreenPt, off float64) (right, left, above, below float64) {
	right, left, above, below = off, off, off, off
	for _, fit := range d.lesson.fits {
		if image.Pt(int(at.X), int(at.Y)).In(fit) {
			right, left = max(right, float64(fit.Max.X)-at.X), max(left, at.X-float64(fit.Min.X))
			above, below = max(above, at.Y-float64(fit.Min.Y)), max(below, float64(fit.Max.Y)-at.Y)
		}
	}
	return right, left, above, below
}

// onFit reports whether a text with its middle at mid lies over the symbol round a feature.
func (d *drawing) onFit(w words, mid view.ScreenPt) bool {
	return slices.ContainsFunc(d.lesson.fits, d.letters(w, mid).Overlaps)
}

// onMark reports whether a text with its middle at mid lies over a mark other than the
// one at own.
func (d *drawing) onMark(w words, mid, own view.ScreenPt) bool {
	box, self := d.letters(w, mid), d.p.stamp(markShape, own).rect()
	return slices.ContainsFunc(d.marks, func(m stampAt) bool { return m.rect() != self && box.Overlaps(m.rect()) })
}

// letters is what the letters of a text with its middle at mid cover, without their casing.
func (d *drawing) letters(w words, mid view.ScreenPt) image.Rectangle {
	p := d.p.letters.textImage(w)
	x, y := p.width/2, p.height/2
	return image.Rect(int(math.Ceil(mid.X-x)), int(math.Ceil(mid.Y-y)), int(mid.X+x), int(mid.Y+y))
}

// markName writes the name of a mark beside it, so many device-independent pixels off.
func (d *drawing) markName(m Mark, off float64) {
	d.beside(m.Name, nameSize, true, pick(m.Selected, vermillion, black), d.v.ToScreen(m.At), off)
}

func (d *drawing) markNames(chosen bool) {
	for _, m := range d.scene.Marks {
		if m.Selected == chosen && !d.lesson.named[m.ID] {
			d.markName(m, nameOff)
		}
	}
}

// endTexts writes the letters of ends that no mark names. Those of the chosen line come
// before the names of other marks: the ledger names its ends by nothing else.
func (d *drawing) endTexts(chosen bool) {
	for _, e := range d.scene.Ends {
		if d.endsChosen(e.At) == chosen {
			d.beside(e.Text, nameSize, true, pick(chosen, vermillion, blue), d.v.ToScreen(e.At), endOff)
		}
	}
}

// endsChosen reports whether the chosen leg or sight begins or ends at a point.
func (d *drawing) endsChosen(at view.PicPt) bool {
	return slices.ContainsFunc(d.scene.Legs, func(l Leg) bool { return l.Selected && (l.From == at || l.To == at) }) ||
		slices.ContainsFunc(d.scene.Sights, func(s Sight) bool { return s.Selected && (s.From == at || s.To == at) })
}

// mostNamed is how many control points are named on the sheet: the intersections
// of a printed grid, taken together, would cover the map with figures.
const mostNamed = 24

func (d *drawing) controlTexts(chosen bool) {
	if len(d.scene.Controls) > mostNamed && !chosen {
		return
	}
	for _, c := range d.scene.Controls {
		if c.Selected == chosen {
			d.beside(c.Text, controlSize, true, pick(chosen, vermillion, green), d.v.ToScreen(c.At), 15)
		}
	}
}

func (d *drawing) legTexts(chosen bool) {
	for _, l := range d.scene.Legs {
		if l.Selected == chosen {
			d.lineText(l.Label, l.From, l.To, pick(chosen, vermillion, blue))
		}
	}
}

func (d *drawing) sightTexts(chosen bool) {
	for _, s := range d.scene.Sights {
		if s.Selected == chosen {
			d.lineText(s.Label, s.From, s.To, pick(chosen, vermillion, black))
		}
	}
}

// lineText writes along a line, where the line in sight has room, or else the bearing
// alone with its ±, which ends at two blanks, or else the number of the leg alone.
func (d *drawing) lineText(text string, from, to view.PicPt, ink color.NRGBA) {
	a, b := d.v.ToScreen(from), d.v.ToScreen(to)
	if text == "" || !d.sees(a, b) {
		return
	}
	bearing, _, more := strings.Cut(text, "  ")
	number, _, leg := strings.Cut(bearing, ": ")
	_ = d.along(text, a, b, ink) || more && d.along(bearing, a, b, ink) || leg && d.along(number, a, b, ink)
}

// along writes a text along a–b, in the middle or nearer to an end, on either side, where
// it covers no other, and reports whether it is written.
func (d *drawing) along(text string, a, b view.ScreenPt, ink color.NRGBA) bool {
	return d.alongIn(d.seen, text, a, b, ink, 0, 0.5, -0.5) || d.alongIn(d.p.img.Rect, text, a, b, ink, 0, 0.5, -0.5)
}

// alongIn is along within a part of the picture, moved back from the middle by parts of
// the text's width.
func (d *drawing) alongIn(in image.Rectangle, text string, a, b view.ScreenPt, ink color.NRGBA, backs ...float64) bool {
	w := words{text: text, size: legSize * d.p.px, bold: true, ink: ink}
	wide := d.p.letters.width(w)
	for _, back := range backs {
		for _, side := range [...]float64{lift, -lift} {
			mid, angle, ok := d.lineMid(a, b, wide, back*wide, side, in)
			if w.angle = angle; ok && d.put(w, mid) {
				return true
			}
		}
	}
	return false
}

// lineMid is where a text along a–b is written within a part of the picture,
// if the line is long enough there; back and lift are those of shifted.
func (d *drawing) lineMid(a, b view.ScreenPt, width, back, lift float64, in image.Rectangle) (mid view.ScreenPt, angle float64, ok bool) {
	dx, dy := float64(in.Min.X), float64(in.Min.Y)
	a, b = a.Add(-dx, -dy), b.Add(-dx, -dy)
	s := strip{img: blank(in.Dx(), in.Dy()), y1: in.Dy()}
	t0, t1, ok := s.span(a, b, 0)
	if !ok || (t1-t0)*a.Dist(b) < width+2*shy*d.p.px {
		return mid, 0, false
	}
	mid, angle = shifted(a, b, width, back, lift, d.p.px, in.Dx(), in.Dy())
	return mid.Add(dx, dy), angle, true
}

// letters are boxes along the letters of a text: one around all of a turned text would be
// much larger.
func (t textAt) letters() []image.Rectangle {
	p := t.textImage
	if p.of.angle == 0 {
		return []image.Rectangle{t.at}
	}
	sin, cos := math.Sincos(p.of.angle)
	n := math.Ceil(p.width / p.height)
	half := (math.Abs(cos) + math.Abs(sin)) * p.height / 2
	var out []image.Rectangle
	for i := 0.5; i < n; i++ {
		along := (i/n - 0.5) * p.width
		x, y := float64(t.at.Min.X)+p.midX+along*cos, float64(t.at.Min.Y)+p.midY+along*sin
		out = append(out, image.Rect(int(x-half), int(y-half), int(math.Ceil(x+half)), int(math.Ceil(y+half))))
	}
	return out
}

// gridTexts writes the figures of grid lines where these enter what is seen at the top
// or the left.
func (d *drawing) gridTexts() {
	all := d.gridApart() >= 3*leastGrid*d.p.px
	for _, g := range d.scene.Grid {
		if g.Label == "" || (!all && !g.Index) || len(g.Points) < 2 {
			continue
		}
		w := words{text: g.Label, size: gridSize * d.p.px, bold: true, ink: green}
		a, b := d.v.ToScreen(g.Points[0]), d.v.ToScreen(g.Points[len(g.Points)-1])
		if mid, ok := d.edge(a, b, d.p.letters.width(w)/2); ok {
			d.put(w, mid)
		}
	}
}

// edge is where a grid line is labelled: on its uppermost point in sight if it runs
// rather up and down, else just above its leftmost, for before a figure a piece of a
// level line looks like a minus sign. half is half the width of the text.
func (d *drawing) edge(a, b view.ScreenPt, half float64) (view.ScreenPt, bool) {
	dx, dy := float64(d.seen.Min.X), float64(d.seen.Min.Y)
	s := strip{img: blank(d.seen.Dx(), d.seen.Dy()), y1: d.seen.Dy()}
	inset := 12 * d.p.px
	a, b, ok := s.clip(a.Add(-dx, -dy), b.Add(-dx, -dy), -inset)
	a, b = a.Add(dx, dy), b.Add(dx, dy)
	if !ok {
		return a, false
	}
	steep := math.Abs(b.Y-a.Y) > math.Abs(b.X-a.X)
	if (steep && b.Y < a.Y) || (!steep && b.X < a.X) {
		a, b = b, a
	}
	if steep {
		return a, true
	}
	a.X = max(a.X, dx+half+gap*d.p.px)
	slope := math.Abs(b.Y-a.Y) / max(math.Abs(b.X-a.X), 1)
	return a.Add(0, -(gridSize*0.8*d.p.px + slope*half)), true
}
