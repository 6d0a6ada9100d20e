package paper

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/rectify"
)

// How the picture of a map is printed (our own choice).
const (
	perInch  = 300.0 // pixels, or fewer where the sheet's picture has no more
	paleness = 0.5   // part of the way to white that its colours are taken: black lines must be read over it
	quality  = 85    // of the JPEG
)

// placed is a picture on the page, turned clockwise about its middle.
type placed struct {
	file    []byte // JPEG
	box     Rect
	degrees float64
}

// picture is the part of the sheet's picture that lies on the map of a tile, whose box on
// the page is at. When ctx ends the error is its cause, else it is that of Sheet.Cut.
func (c *Cut) picture(ctx context.Context, t Tile, at Rect, on *canvas) (placed, error) {
	if s, ok := c.similar(t.Ground); ok {
		return c.asItIs(ctx, s, t.Ground, at, on)
	}
	return c.rectified(ctx, t.Ground, at, on)
}

// rectified is the picture with grid north up.
func (c *Cut) rectified(ctx context.Context, g Ground, at Rect, on *canvas) (placed, error) {
	mpp := max(float64(c.Scale)*inchM/perInch, c.Sheet.Calibration.MetresPerPixel())
	f := rectify.Frame{
		West: g.West, North: g.North, MetresPerPixel: mpp,
		Cols: int(math.Ceil(g.wide() / mpp)), Rows: int(math.Ceil(g.high() / mpp)),
	}
	m := on.image(f.Cols, f.Rows, c.Grey || c.Sheet.Grey)
	s := c.Sheet
	s.Pale, s.Grey = paleness, true // what is struck through is struck in black
	err := rectify.Draw(ctx, s, f, func(strip *image.RGBA) error {
		draw.Draw(m, strip.Rect, strip, strip.Rect.Min, draw.Src)
		return nil
	})
	if err != nil {
		return placed{}, err
	}
	file, err := encoded(m)
	return placed{file: file, box: Rect{at.X, at.Y, c.mm(float64(f.Cols) * mpp), c.mm(float64(f.Rows) * mpp)}}, err
}

// canvas is the memory that one picture after the other is drawn in.
type canvas struct{ pix []byte }

// image is a picture of which every pixel is still to be drawn.
func (k *canvas) image(cols, rows int, grey bool) draw.Image {
	r, each := image.Rect(0, 0, cols, rows), 4
	if grey {
		each = 1
	}
	if n := each * cols * rows; cap(k.pix) < n {
		k.pix = make([]byte, n)
	} else {
		k.pix = k.pix[:n]
	}
	if grey {
		return &image.Gray{Pix: k.pix, Stride: cols, Rect: r}
	}
	return &image.RGBA{Pix: k.pix, Stride: 4 * cols, Rect: r}
}

func encoded(m image.Image) ([]byte, error) {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, m, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("the map cannot be written as JPEG: %w", err)
	}
	return out.Bytes(), nil
}

// Limits of a fit by which the picture is printed as it is.
const (
	mostTurned  = 0.2  // degrees
	mostAside   = 0.05 // millimetres on paper, from the similarity
	mostPerInch = 1.25 * perInch
)

// similarity takes the grid to the picture: k pixels a metre, turned clockwise.
type similarity struct {
	from   geodesy.Grid
	to     calib.PicturePt
	k, deg float64
}

// similar returns the similarity that the fit is over the ground of a map, if it is one by
// which the picture can be printed as it is: hardly turned, trusted all over, and not much
// finer than is printed.
func (c *Cut) similar(g Ground) (similarity, bool) {
	var from []geodesy.Grid
	var to []calib.PicturePt
	known := true
	c.look(g, func(at geodesy.Grid, p calib.PicturePt, within, trusted bool) {
		if within {
			from, to, known = append(from, at), append(to, p), known && trusted
		}
	})
	if !known || len(from) < 2*looks {
		return similarity{}, false
	}
	s := fitted(from, to)
	for i := range from {
		p := s.picture(from[i])
		if !(c.mm(math.Hypot(p.Col-to[i].Col, p.Row-to[i].Row)/s.k) <= mostAside) {
			return similarity{}, false
		}
	}
	return s, math.Abs(s.deg) <= mostTurned && float64(c.Scale)*inchM*s.k <= mostPerInch
}

// looks is at how many points along a side of some ground the fit is asked.
const looks = 12

// look asks the fit at points all over some ground where they lie in the picture, whether
// that is within it, and whether the control points reach there.
func (c *Cut) look(g Ground, at func(g geodesy.Grid, p calib.PicturePt, within, trusted bool)) {
	for i := range looks + 1 {
		for j := range looks + 1 {
			to := geodesy.Grid{E: g.West + g.wide()*float64(i)/looks, N: g.South + g.high()*float64(j)/looks}
			p := c.Sheet.Calibration.ToPicture(to)
			trusted, _ := c.Sheet.Calibration.Trusted(p)
			at(to, p, p.Col >= 0 && p.Row >= 0 && p.Col <= float64(c.Sheet.Width) && p.Row <= float64(c.Sheet.Height), trusted)
		}
	}
}

// fitted is the similarity of the least squares: in complex numbers, with rows counted
// upwards, a position times a factor.
func fitted(from []geodesy.Grid, to []calib.PicturePt) (s similarity) {
	n := float64(len(from))
	for i := range from {
		s.from.E, s.from.N = s.from.E+from[i].E/n, s.from.N+from[i].N/n
		s.to.Col, s.to.Row = s.to.Col+to[i].Col/n, s.to.Row+to[i].Row/n
	}
	var re, im, sum float64
	for i := range from {
		e, v := from[i].E-s.from.E, from[i].N-s.from.N
		x, y := to[i].Col-s.to.Col, s.to.Row-to[i].Row
		re, im, sum = re+e*x+v*y, im+e*y-v*x, sum+e*e+v*v
	}
	s.k, s.deg = math.Hypot(re, im)/sum, -math.Atan2(im, re)*180/math.Pi
	return s
}

func (s similarity) picture(g geodesy.Grid) calib.PicturePt {
	sin, cos := math.Sincos(s.deg * math.Pi / 180)
	e, n := s.k*(g.E-s.from.E), s.k*(g.N-s.from.N)
	return calib.PicturePt{Col: s.to.Col + e*cos + n*sin, Row: s.to.Row + e*sin - n*cos}
}

func (s similarity) grid(p calib.PicturePt) geodesy.Grid {
	sin, cos := math.Sincos(s.deg * math.Pi / 180)
	x, y := (p.Col-s.to.Col)/s.k, (p.Row-s.to.Row)/s.k
	return geodesy.Grid{E: s.from.E + x*cos + y*sin, N: s.from.N + x*sin - y*cos}
}

// stripRows is how many rows are taken from the picture at a time.
const stripRows = 256

// asItIs is the picture itself, cut around the ground.
func (c *Cut) asItIs(ctx context.Context, s similarity, g Ground, at Rect, on *canvas) (placed, error) {
	r := image.Rectangle{}
	for i, corner := range []geodesy.Grid{{E: g.West, N: g.North}, {E: g.East, N: g.North}, {E: g.East, N: g.South}, {E: g.West, N: g.South}} {
		p := s.picture(corner)
		one := image.Rect(int(p.Col)-1, int(p.Row)-1, int(p.Col)+2, int(p.Row)+2)
		if i == 0 {
			r = one
		}
		r = r.Union(one)
	}
	r = r.Intersect(image.Rect(0, 0, c.Sheet.Width, c.Sheet.Height))
	m := on.image(r.Dx(), r.Dy(), c.Grey || c.Sheet.Grey)
	for top := r.Min.Y; top < r.Max.Y; top += stripRows {
		if err := context.Cause(ctx); err != nil {
			return placed{}, err
		}
		from := image.Rect(r.Min.X, top, r.Max.X, min(top+stripRows, r.Max.Y))
		strip, err := c.Sheet.Cut(from)
		if err != nil {
			return placed{}, err
		}
		pale(strip)
		draw.Draw(m, image.Rectangle{Max: from.Size()}.Add(image.Pt(0, top-r.Min.Y)), strip, image.Point{}, draw.Src)
	}
	file, err := encoded(m)
	middle := s.grid(calib.PicturePt{Col: float64(r.Min.X+r.Max.X) / 2, Row: float64(r.Min.Y+r.Max.Y) / 2})
	w, h := c.mm(float64(r.Dx())/s.k), c.mm(float64(r.Dy())/s.k)
	x, y := at.X+c.mm(middle.E-g.West), at.Y+c.mm(g.North-middle.N)
	return placed{file: file, box: Rect{x - w/2, y - h/2, w, h}, degrees: -s.deg}, err
}

// pale takes the colours of a picture, on white paper, part of the way to white.
func pale(m *image.RGBA) {
	for i := 0; i < len(m.Pix); i += 4 {
		p := m.Pix[i:][:4]
		paper := 255 - float64(p[3])
		for k := range 3 {
			v := min(float64(p[k])+paper, 255)
			p[k] = uint8(v + paleness*(255-v) + 0.5)
		}
		p[3] = 255
	}
}
