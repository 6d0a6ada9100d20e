package rectify

import (
	"image"
	"math"

	"legwright/app/calib"
)

// Measures of a block.
const (
	blockPx     = 64
	leastBlock  = 8
	tolerancePx = 0.02 // of a picture pixel
)

// state is what is to be done with a pixel.
type state uint8

const (
	blank     state = iota // paper
	untrusted              // drawn, but struck through
	drawn
)

// spot is where a pixel of the frame lies in the sheet's picture.
type spot struct {
	at calib.PicturePt
	is state
}

// block draws a small part of the frame. It is used again for the next one.
type block struct {
	p     *picture
	m     *image.RGBA // that is drawn on
	r     image.Rectangle
	spots []spot // of r, row by row
	cut   *image.RGBA
	solid bool            // no pixel of cut is transparent
	from  image.Rectangle // of cut, in the sheet's picture
	lanes []uint64        // cut as meanAmid reads it, empty until it does
}

func (b *block) draw(r image.Rectangle) error {
	b.r = r
	b.spots = append(b.spots[:0], make([]spot, r.Dx()*r.Dy())...)
	b.fill(r)
	if err := b.fetch(); err != nil || b.from.Empty() {
		return err
	}
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if s := b.spot(x, y); s.is != blank {
				b.paint(x, y, *s)
			}
		}
	}
	return nil
}

func (b *block) spot(x, y int) *spot { return &b.spots[(y-b.r.Min.Y)*b.r.Dx()+x-b.r.Min.X] }

// look asks the fit where the centre of a pixel, or a point between, lies in the
// picture. For what is blank the answer may only be good for telling on which side of
// the picture it is.
func (b *block) look(x, y float64) spot {
	c, g := b.p.s.Calibration, b.p.f.centre(x, y)
	at := c.ToPicture(g)
	if !c.Given() {
		back := c.ToGrid(at)
		if !(math.Hypot(back.E-g.E, back.N-g.N) < tolerancePx*c.MetresPerPixel()) || !drawable(c, at) {
			return spot{at, blank}
		}
	}
	return spot{at, b.trust(at)}
}

// trust says how a point is drawn.
func (b *block) trust(at calib.PicturePt) state {
	if ok, _ := b.p.s.Calibration.Trusted(at); !ok {
		return untrusted
	}
	return drawn
}

// fill finds the spots of a rectangle, by interpolation where the fit allows.
func (b *block) fill(r image.Rectangle) {
	w, h := r.Dx(), r.Dy()
	if w <= 3 || h <= 3 {
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				*b.spot(x, y) = b.look(float64(x), float64(y))
			}
		}
		return
	}
	at := func(u, v float64) spot {
		return b.look(float64(r.Min.X)+float64(w-1)*u, float64(r.Min.Y)+float64(h-1)*v)
	}
	var s nine
	for j := range 3 {
		for i := range 3 {
			s[j][i] = at(float64(i)/2, float64(j)/2)
		}
	}
	switch {
	case s.beside(float64(b.p.s.Width), float64(b.p.s.Height)), s.every(blank):
		return // blank, as it was made
	case s.any(blank) || !s.holds(at):
		b.quarter(r)
		return
	}
	mixed := !s.every(s[0][0].is)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := s.row(float64(y-r.Min.Y) / float64(h-1))
		for x := r.Min.X; x < r.Max.X; x++ {
			to := spot{along(row, float64(x-r.Min.X)/float64(w-1)), s[0][0].is}
			if mixed {
				to.is = b.trust(to.at)
			}
			*b.spot(x, y) = to
		}
	}
}

func (b *block) quarter(r image.Rectangle) {
	mid := r.Min.Add(r.Size().Div(2))
	for _, q := range []image.Rectangle{
		{r.Min, mid},
		{image.Pt(mid.X, r.Min.Y), image.Pt(r.Max.X, mid.Y)},
		{image.Pt(r.Min.X, mid.Y), image.Pt(mid.X, r.Max.Y)},
		{mid, r.Max},
	} {
		b.fill(q)
	}
}

// reach is how many pixels around a point are read, at least.
const reach = 3

// fetch cuts what the block needs from the picture, and blanks the spots that
// lie outside it.
func (b *block) fetch() (err error) {
	w, h := float64(b.p.s.Width), float64(b.p.s.Height)
	low, high := calib.PicturePt{Col: w, Row: h}, calib.PicturePt{}
	for i := range b.spots {
		s := &b.spots[i]
		if s.is == blank {
			continue
		}
		if !(s.at.Col >= 0 && s.at.Row >= 0 && s.at.Col < w && s.at.Row < h) {
			s.is = blank
			continue
		}
		low.Col, low.Row = min(low.Col, s.at.Col), min(low.Row, s.at.Row)
		high.Col, high.Row = max(high.Col, s.at.Col), max(high.Row, s.at.Row)
	}
	b.from, b.lanes = image.Rectangle{}, b.lanes[:0]
	if high.Col < low.Col || high.Row < low.Row {
		return nil
	}
	wide := reach + int(maxStretch*b.p.f.MetresPerPixel/b.p.s.Calibration.MetresPerPixel()*0.75) // half the diagonal of a pixel
	b.from = image.Rect(int(low.Col)-wide, int(low.Row)-wide, int(high.Col)+wide+1, int(high.Row)+wide+1).
		Intersect(image.Rect(0, 0, b.p.s.Width, b.p.s.Height))
	if b.cut, err = b.p.s.Cut(b.from); err == nil {
		b.solid = b.cut.Opaque()
	}
	return err
}
