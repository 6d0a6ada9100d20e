package dial

import (
	"image"
	"image/color"

	"legwright/app/lettering"
	"legwright/app/ui/dial/housing"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// picture is the panel as it is drawn: the face and all that is written. It is
// one picture, because every text object of the toolkit costs each frame of a
// drag as much as all letters here together. Only what changed is drawn again.
type picture struct {
	img     *image.RGBA
	face    *housing.Face
	at      image.Point // the face's corner, in pixels
	drawn   housing.State
	letters *lettering.Setter // before the first picture that of a plain display: letters are as wide at every scale
	ink     look.Palette
	ahead   chan struct{} // closed when the face has been drawn ahead
}

// drawAhead begins to draw the face of a state on another core, while the main
// thread still draws the line being dragged; it is a fifth of such a frame.
func (p *picture) drawAhead(s housing.State) {
	p.wait()
	if p.face == nil || s == p.drawn {
		return
	}
	face, done := p.face, make(chan struct{})
	p.ahead = done
	go func() {
		defer close(done)
		face.Draw(s)
	}()
}

// wait returns when what drawAhead began is done: the face is its until then.
func (p *picture) wait() {
	if p.ahead != nil {
		<-p.ahead
		p.ahead = nil
	}
}

// paint draws the panel into w × h physical pixels; Fyne calls it by way of
// the raster.
func (d *Dial) paint(w, h int) image.Image {
	widgets.Crisp(d.raster)
	p, size := d.picture, d.Size()
	scale := float32(w) / max(size.Width, 1)
	if w < 1 || h < 1 {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	p.letters = p.letters.At(scale)
	if ink := look.Current(); p.img == nil || p.img.Rect.Max != image.Pt(w, h) || p.ink != ink {
		p.img, p.ink, p.face = image.NewRGBA(image.Rect(0, 0, w, h)), ink, nil
	}
	side, y := d.faceSide(size)
	px := func(v float32) int { return int(v*scale + 0.5) }
	p.at = image.Pt(px((size.Width-side)/2), px(topGap))
	below := min(px(y), h)
	if p.drawFace(px(side), below, d.seen().Face) {
		p.write(d.beside())
	}
	clear(p.img.Pix[p.img.Stride*below:])
	p.write(d.beneath(size.Width, y))
	return p.img
}

// beside is what is written beside the face.
func (d *Dial) beside() page {
	w := &writer{letters: d.picture.letters, ink: d.picture.ink}
	w.put(circleName(d.seen().Face.Circle), label(), edge, topGap, w.ink[look.Quiet])
	return w.page
}

// beneath is what is written below y.
func (d *Dial) beneath(width, y float32) page {
	w := &writer{page{make([]word, 0, 24), make([]bar, 0, 8)}, d.picture.letters, d.picture.ink, width}
	w.write(d, y)
	return w.page
}

// drawFace draws the face and clears what is beside it, down to a row, where
// the face changed, and reports whether it did.
func (p *picture) drawFace(side, below int, s housing.State) bool {
	p.wait()
	switch {
	case p.face == nil || p.face.Side() != side:
		face, err := housing.New(side, InkOf(p.ink))
		if err != nil { // too small a panel to read: nothing is drawn
			return false
		}
		p.face = face
	case s == p.drawn:
		return false
	}
	p.drawn = s
	clear(p.img.Pix[:p.img.Stride*below])
	from := p.face.Draw(s)
	to := from.Rect.Add(p.at).Intersect(p.img.Rect)
	for y := to.Min.Y; y < to.Max.Y; y++ {
		i, j := p.img.PixOffset(to.Min.X, y), from.PixOffset(to.Min.X-p.at.X, y-p.at.Y)
		copy(p.img.Pix[i:i+4*to.Dx()], from.Pix[j:])
	}
	return true
}

// write draws what is written.
func (p *picture) write(g page) {
	for _, b := range g.bars {
		p.fill(b, p.letters.Scale())
	}
	for _, w := range g.words {
		p.letters.Write(p.img, w.text, w.style, w.x, w.line, w.ink)
	}
}

// fill paints a bar, at least one pixel high.
func (p *picture) fill(b bar, scale float32) {
	px := func(v float32) int { return int(v*scale + 0.5) }
	r := image.Rect(px(b.x), px(b.y), px(b.x+b.w), max(px(b.y+b.h), px(b.y)+1)).Intersect(p.img.Rect)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			p.img.SetRGBA(x, y, opaque(b.ink))
		}
	}
}

// opaque is a colour of the palette that has no alpha.
func opaque(c color.NRGBA) color.RGBA { return color.RGBA{c.R, c.G, c.B, 0xff} }
