package overlay

import (
	"image"
	"slices"
	"sync"

	"legwright/canvas/view"
)

// Painter draws scenes. It keeps its tables and its letters from one drawing
// to the next, and is not safe for concurrent use.
type Painter struct {
	own     *image.RGBA // of Paint
	img     *image.RGBA // being drawn on
	px      float64
	table   [kinds]style
	casing  [kinds]profile
	ink     [kinds]profile
	full    [kinds]profile // casing and ink at once
	faint   [kinds]profile // ink alone, pale
	stamps  map[stampKey]*image.RGBA
	shapes  shapePictures
	letters *textRenderer // of what is committed
	live    *textRenderer // of what is dragged: every frame another text
	night   bool
	hasty   bool
	written Written
}

// Text images kept beyond those in use.
const (
	textImages     = 400
	liveTextImages = 4
)

// NewPainter returns a painter.
func NewPainter() *Painter {
	return &Painter{letters: newTextRenderer(textImages), live: newTextRenderer(liveTextImages), table: styles()}
}

// SetNight says whether the sheet below is darkened for the night. Then texts are
// light within dark halos, for a halo of a name's width would not let dark letters be
// read on dark ground. Legs, sights, escapes and symbols stay as they are, by their pale casing; the
// outlines of what is drawn on the ground are long and many, and their casing is dimmed.
func (p *Painter) SetNight(yes bool) {
	if p.night != yes {
		p.night, p.px = yes, 0 // the tables are made again
	}
	p.letters.setNight(yes)
	p.live.setNight(yes)
}

// SetHasty says whether the drawings that follow are soon replaced, because the scale changes.
// Then areas are not drawn anew at each scale, but stretched.
func (p *Painter) SetHasty(yes bool) { p.hasty = yes }

// blank is a picture without pixels, for its size alone.
func blank(w, h int) *image.RGBA { return &image.RGBA{Rect: image.Rect(0, 0, w, h)} }

// Paint draws the scene as v shows it into a transparent picture of w × h
// pixels, px of them to a device-independent one. The picture belongs to the
// painter and holds until the next call.
func (p *Painter) Paint(w, h int, v view.View, px float64, s Scene) *image.RGBA {
	w, h = max(w, 1), max(h, 1)
	if p.own == nil || p.own.Rect.Dx() != w || p.own.Rect.Dy() != h {
		p.own = image.NewRGBA(image.Rect(0, 0, w, h))
	}
	clear(p.own.Pix)
	p.Onto(p.own, v, px, s, p.own.Rect)
	return p.own
}

// Onto draws the scene over what img already shows, img being the map area of
// v, px of its pixels to a device-independent one. Texts keep within seen, the
// part of img that a person sees, as far as what they belong to lies there.
// The picture must be tight and its corner at (0, 0).
func (p *Painter) Onto(img *image.RGBA, v view.View, px float64, s Scene, seen image.Rectangle) {
	if v.IsZero() || img.Rect.Empty() {
		return
	}
	p.prepare(img, px)
	defer func() { p.img = nil }()
	p.letters.turnOver()
	plan := newDrawing(p, v, s, seen.Intersect(img.Rect))
	p.written = Written{plan.lesson.norths, plan.named}
	var wg sync.WaitGroup
	for _, strip := range p.strips() {
		wg.Go(func() { plan.on(strip) })
	}
	wg.Wait()
}

// strips halves the picture.
func (p *Painter) strips() []*strip {
	h := p.img.Rect.Dy()
	return []*strip{{p.img, 0, h / 2}, {p.img, h / 2, h}}
}

// prepare takes the picture and makes the tables fit the scale.
func (p *Painter) prepare(img *image.RGBA, px float64) {
	p.img = img
	if px = max(px, 0.5); p.px != px {
		p.px = px
		p.stamps = map[stampKey]*image.RGBA{}
		for k, s := range p.table {
			if p.night && onGround(kind(k)) {
				s.casing = dimmed(s.casing)
			}
			p.casing[k], p.ink[k] = newProfile(s.casing, px), newProfile(s.ink, px)
			p.full[k] = newProfile(slices.Concat(s.casing, s.ink), px)
			p.faint[k] = newProfile(pale(s.ink), px)
		}
	}
}

// Written is where texts stand in a picture: the letters of the norths with their note, and
// the names of marks, escapes and of what is drawn on the ground.
type Written struct{ Norths, Named []image.Rectangle }

// Written is that of the picture that was drawn last.
func (p *Painter) Written() Written { return p.written }

// Beside is what the text of the line being dragged keeps off as far as there is room:
// texts that stand on the sheet already, and what cannot be seen.
type Beside struct {
	Covered image.Rectangle // under something else; may be empty
	Written
}

// Along draws one line of text as it is written along the line from a to b
// while that is dragged: the figure to set first and bold, the rest after it.
// It returns a small picture and where its corner belongs. w and h are the
// size of the map area in pixels. The picture is good until the next but one is asked
// for; it is nil where no place is left that is not covered: whatever covers the sheet
// then says the figures itself.
func (p *Painter) Along(set, text string, a, b view.ScreenPt, px float64, w, h int, by Beside) (img *image.RGBA, x, y int) {
	p.live.turnOver()
	return p.live.line(set, text, a, b, px, image.Pt(w, h), by)
}
