package report

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"
	"strconv"

	"codeberg.org/go-pdf/fpdf"
	"github.com/disintegration/imaging"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

const (
	mostPicturePx = 1700  // along the longer side of the picture on the page: 240 to the inch
	arrowMM       = 11.0  // about how long the longest arrow is drawn
	mostTimes     = 10000 // by which residuals are lengthened at most
	gridLines     = 8     // about how many lines of the grid cross the figure
	linePieces    = 48    // of a line of the grid, which may bend
	mostNumbered  = 40    // control points that get their number
)

// drawn is the figure's place on the page.
type drawn struct {
	x, y, w, h float64
	f          frame
	scale      float64 // millimetres a pixel
}

func (d drawn) at(p calib.PicturePt) (x, y float64) {
	return d.x + (p.Col-d.f.left)*d.scale, d.y + (p.Row-d.f.top)*d.scale
}

// figure draws the picture with the grid and the residuals, no higher than
// tall, and the words below it.
func (p *page) figure(tall float64) {
	f := frameOf(p.s)
	const words = 9
	scale := math.Min(textW/f.width(), (tall-words)/f.height())
	d := drawn{w: f.width() * scale, h: f.height() * scale, f: f, scale: scale, y: p.y}
	d.x = margin + (textW-d.w)/2
	p.ClipRect(d.x, d.y, d.w, d.h, false)
	if err := p.picture(d); err != nil {
		p.SetError(err)
	}
	step := gridStep(p.s.Calibration, f)
	p.grid(d, step)
	times := p.residuals(d)
	p.ClipEnd()
	p.pen(0.3, grey)
	p.Rect(d.x, d.y, d.w, d.h, "D")
	p.y += d.h + 4
	p.caption(step, times)
}

// picture draws the sheet itself, pale, so that what is drawn over it is seen.
func (p *page) picture(d drawn) error {
	if p.s.Picture == nil {
		return nil
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, reduced(p.s.Picture), &jpeg.Options{Quality: 82}); err != nil {
		return fmt.Errorf("the picture cannot be put on the page: %w", err)
	}
	o := fpdf.ImageOptions{ImageType: "JPG"}
	p.RegisterImageOptionsReader("sheet", o, &b)
	p.ImageOptions("sheet", d.x, d.y, d.w, d.h, false, o, 0, "")
	p.SetAlpha(0.45, "Normal")
	p.SetFillColor(white.rgb())
	p.Rect(d.x, d.y, d.w, d.h, "F")
	p.SetAlpha(1, "Normal")
	return p.Error()
}

// reduced is the picture at the size of the page, on white where it lets
// through.
func reduced(m image.Image) image.Image {
	b := m.Bounds()
	if long := max(b.Dx(), b.Dy()); long > mostPicturePx {
		m = imaging.Resize(m, max(1, b.Dx()*mostPicturePx/long), max(1, b.Dy()*mostPicturePx/long), imaging.Box)
		b = m.Bounds()
	}
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(out, out.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.Draw(out, out.Rect, m, b.Min, draw.Over)
	return out
}

// corners are the grid places of the frame's corners and of the middles of its
// sides.
func corners(c *calib.Calibration, f frame) []geodesy.Grid {
	var out []geodesy.Grid
	for _, u := range []float64{0, 0.5, 1} {
		for _, v := range []float64{0, 0.5, 1} {
			out = append(out, c.ToGrid(calib.PicturePt{Col: f.left + u*f.width(), Row: f.top + v*f.height()}))
		}
	}
	return out
}

// extent is the range of the grid over the frame.
func extent(c *calib.Calibration, f frame) (low, high geodesy.Grid) {
	low, high = geodesy.Grid{E: math.Inf(1), N: math.Inf(1)}, geodesy.Grid{E: math.Inf(-1), N: math.Inf(-1)}
	for _, g := range corners(c, f) {
		low.E, low.N = math.Min(low.E, g.E), math.Min(low.N, g.N)
		high.E, high.N = math.Max(high.E, g.E), math.Max(high.N, g.N)
	}
	return low, high
}

// gridStep is a round number of metres between lines of the grid.
func gridStep(c *calib.Calibration, f frame) float64 {
	long := math.Max(f.width(), f.height()) * c.MetresPerPixel()
	for tens := 1.0; tens < 1e9; tens *= 10 {
		for _, k := range []float64{1, 2, 5} {
			if long/(k*tens) <= 1.6*gridLines {
				return k * tens
			}
		}
	}
	return 1e9
}

// grid draws the grid's lines where the fit has them.
func (p *page) grid(d drawn, step float64) {
	c := p.s.Calibration
	low, high := extent(c, d.f)
	p.pen(0.13, blue)
	for e := step * math.Ceil(low.E/step); e <= high.E; e += step {
		p.curve(d, func(k float64) geodesy.Grid { return geodesy.Grid{E: e, N: low.N + k*(high.N-low.N)} })
	}
	for n := step * math.Ceil(low.N/step); n <= high.N; n += step {
		p.curve(d, func(k float64) geodesy.Grid { return geodesy.Grid{E: low.E + k*(high.E-low.E), N: n} })
	}
}

// curve draws a line of the grid in pieces; those far outside are left out.
func (p *page) curve(d drawn, at func(k float64) geodesy.Grid) {
	var x0, y0 float64
	for i := range linePieces + 1 {
		x, y := d.at(p.s.Calibration.ToPicture(at(float64(i) / linePieces)))
		near := math.Abs(x-d.x) < 2*pageW && math.Abs(y-d.y) < 2*pageH
		if i > 0 && near && math.Hypot(x-x0, y-y0) < pageH {
			p.Line(x0, y0, x, y)
		}
		x0, y0 = x, y
	}
}

// times is how many times longer than life the residuals are drawn: a round
// figure; 0 where there is nothing to draw.
func times(c *calib.Calibration, mmPerPx float64) float64 {
	var most float64
	for _, r := range c.Residuals() {
		most = math.Max(most, r.Px)
	}
	if !(most > 1e-6) || c.DOF() == 0 {
		return 0
	}
	return math.Min(roundDown(arrowMM/(most*mmPerPx)), mostTimes)
}

// residuals draws the control points and an arrow from each to where its
// reference would lie, and says how many times the arrows are lengthened.
func (p *page) residuals(d drawn) float64 {
	c := p.s.Calibration
	k := times(c, d.scale)
	points := c.Points()
	for i, q := range points {
		x, y := d.at(q.At)
		p.pen(0.75, white)
		p.Circle(x, y, 0.9, "D")
		p.pen(0.25, black)
		p.Circle(x, y, 0.9, "D")
		to := c.ToPicture(q.Ref)
		dx, dy := k*(to.Col-q.At.Col)*d.scale, k*(to.Row-q.At.Row)*d.scale
		p.arrow(x, y, dx, dy)
		if len(points) <= mostNumbered {
			p.number(x, y, dx, i+1)
		}
	}
	return k
}

// number writes a control point's number on the side where its arrow is not.
func (p *page) number(x, y, dx float64, n int) {
	p.text(smallSize, "", black)
	if dx > 0.3 {
		p.putRight(x-1.5, y-1.2, strconv.Itoa(n))
		return
	}
	p.put(x+1.5, y-1.2, strconv.Itoa(n))
}

// arrow draws an arrow from a place by a step, with a white edge around it.
func (p *page) arrow(x, y, dx, dy float64) {
	long := math.Hypot(dx, dy)
	if !(long > 0.25) || long > 2*pageH {
		return
	}
	ux, uy := dx/long, dy/long
	barb := math.Min(1.6, 0.45*long)
	for _, pass := range []struct {
		width float64
		c     ink
	}{{0.95, white}, {0.4, orange}} {
		p.pen(pass.width, pass.c)
		p.Line(x, y, x+dx, y+dy)
		for _, side := range []float64{-0.45, 0.45} {
			p.Line(x+dx, y+dy, x+dx-barb*(ux-side*uy), y+dy-barb*(uy+side*ux))
		}
	}
}

// caption says what the figure shows.
func (p *page) caption(step, times float64) {
	words := fmt.Sprintf("Thin blue lines: the grid as the fit has it, every %s m.", grouped(step))
	switch {
	case times == 1:
		words += " Arrows: from a control point to where its reference would lie, as long as they are."
	case times > 0:
		words += fmt.Sprintf(" Arrows: from a control point to where its reference would lie, drawn %s times as long.", grouped(times))
	case len(p.s.Calibration.Points()) > 0 && p.s.Calibration.DOF() == 0:
		words += " There are no arrows: no control point is to spare, so that nothing can be left over."
	}
	if p.s.Picture == nil {
		words += " There was no picture to draw beneath."
	}
	p.text(smallSize, "", grey)
	for _, l := range p.broken(words, textW) {
		p.put(margin, p.y, l)
		p.y += 3.2
	}
	p.y += 3.5
}
