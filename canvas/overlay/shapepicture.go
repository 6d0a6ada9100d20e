package overlay

import (
	"image"
	"math"
	"slices"
	"sync"

	"legwright/app/plan"
)

// shapePictures are areas as they were drawn last, each in a picture of its own. At one scale a
// view moves by whole pixels, so that an area looks the same wherever it lies. While the scale
// changes the pictures are stretched.
type shapePictures struct {
	look shapeLook
	list map[plan.ID]*shapePicture
}

// shapeLook is what all areas of a drawing look alike by.
type shapeLook struct {
	scale, rotation, px float64
	night, faint        bool
}

// shapePicture is one of them.
type shapePicture struct {
	of    Shape
	scale float64
	at    image.Rectangle // from the corner of the sheet, screen pixels at that scale
	inked inked           // empty until it is drawn
}

// mostStretched is how many times larger or smaller than it was drawn a picture is shown at most.
const mostStretched = 3

// keptShare is how many pixels pictures of areas may have together, for each of the drawing.
const keptShare = 1.5

// setPictures finds or draws the pictures of the areas in sight. The first drawing at a scale
// makes none, as another scale may follow; a drawing in haste stretches those that there are. All
// of them have at most keptShare times the pixels of the drawing; areas that are left over are
// drawn each time.
func (d *drawing) setPictures() {
	look := shapeLook{d.v.Scale(), d.v.Rotation(), d.p.px, d.p.night, d.scene.Faint}
	was, had := d.p.shapes.look, d.p.shapes.list
	first := was != look
	if was.scale = look.scale; was != look {
		had = nil
	}
	d.p.shapes = shapePictures{look: look}
	if first && !d.p.hasty {
		return
	}
	d.p.shapes.list = map[plan.ID]*shapePicture{}
	var missing []*shapePicture
	left := keptShare * float64(d.p.img.Rect.Dx()*d.p.img.Rect.Dy())
	for _, list := range [][]Shape{d.scene.Areas, d.scene.Hazards} {
		for i := range list {
			x := &list[i]
			at, size := d.boxOf(x)
			pic := had[x.ID]
			serves := pic != nil && pic.shows(x) && d.serves(pic)
			if serves {
				size = float64(pic.at.Dx()) * float64(pic.at.Dy())
			}
			if !x.Closed || size > left || !at.Overlaps(d.p.img.Rect.Sub(d.origin())) {
				continue
			}
			left -= size
			if !serves {
				pic = &shapePicture{of: *x, scale: look.scale, at: at}
				missing = append(missing, pic)
			}
			d.p.shapes.list[x.ID] = pic
		}
	}
	d.drawPictures(missing)
}

// serves reports whether a picture was drawn at a scale at which it may be shown.
func (d *drawing) serves(pic *shapePicture) bool {
	k := d.v.Scale() / pic.scale
	return k == 1 || d.p.hasty && k <= mostStretched && k >= 1.0/mostStretched
}

// origin is the pixel where the corner of the sheet lies.
func (d *drawing) origin() image.Point {
	return image.Pt(int(d.v.Offset().X), int(d.v.Offset().Y))
}

// boxOf is where all of an area's lines lie, from the corner of the sheet, and how many pixels
// that is; of one too large to keep, no box and more pixels than any.
func (d *drawing) boxOf(x *Shape) (box image.Rectangle, pixels float64) {
	reach := max(d.p.casing[x.ink].reach, d.p.casing[shapeChosen].reach, d.p.casing[vertexDot].reach) + 1
	sin, cos := math.Sincos(d.v.Rotation())
	w, h := d.v.Scale()*(x.bound.Max.X-x.bound.Min.X)/2, d.v.Scale()*(x.bound.Max.Y-x.bound.Min.Y)/2
	wide, high := math.Abs(cos)*w+math.Abs(sin)*h+reach, math.Abs(sin)*w+math.Abs(cos)*h+reach
	mid, from := d.v.ToScreen(x.bound.Centre()), d.v.Offset()
	mid = mid.Add(-from.X, -from.Y)
	if !(max(math.Abs(mid.X), math.Abs(mid.Y), wide, high) <= farthest) {
		return image.Rectangle{}, math.Inf(1)
	}
	box = image.Rect(int(math.Floor(mid.X-wide)), int(math.Floor(mid.Y-high)), int(math.Ceil(mid.X+wide)), int(math.Ceil(mid.Y+high)))
	return box, float64(box.Dx()) * float64(box.Dy())
}

// shows reports whether an area looks as it did in the picture.
func (p *shapePicture) shows(x *Shape) bool {
	return p.of.ink == x.ink && p.of.Selected == x.Selected && p.of.Closed == x.Closed && slices.Equal(p.of.Points, x.Points)
}

// drawPictures draws pictures, two at a time.
func (d *drawing) drawPictures(list []*shapePicture) {
	var wg sync.WaitGroup
	for part := range 2 {
		wg.Go(func() {
			for i := part; i < len(list); i += 2 {
				d.drawPicture(list[i])
			}
		})
	}
	wg.Wait()
}

func (d *drawing) drawPicture(p *shapePicture) {
	img := image.NewRGBA(image.Rectangle{Max: p.at.Size()})
	part := &drawing{p: d.p, v: d.v.Part(p.at.Add(d.origin())), scene: Scene{Faint: d.scene.Faint}}
	part.shape(&strip{img: img, y1: p.at.Dy()}, &p.of)
	p.inked = inkedOf(img)
}

// stamped lays the picture of an area over a strip, and reports whether there is one.
func (d *drawing) stamped(s *strip, x *Shape) bool {
	p := d.p.shapes.list[x.ID]
	if p == nil || !p.shows(x) {
		return false
	}
	k, from := d.v.Scale()/p.scale, d.v.Offset()
	s.stretch(&p.inked, from.X+k*float64(p.at.Min.X), from.Y+k*float64(p.at.Min.Y), k)
	return true
}
