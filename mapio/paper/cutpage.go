package paper

import (
	"context"
	"fmt"
	"math"
)

// CutPages is a cut laid out for maps of one size on pages.
type CutPages struct {
	cut   Cut
	doc   *Doc
	tiles []Tile
	keys  []key
}

// AddMaps adds the pages that a cut takes. Cautions that concern the map alone are added to
// those of the document. The error says why the cut cannot be printed; when ctx ends it is
// its cause.
func (d *Doc) AddMaps(ctx context.Context, c Cut, cautions ...string) error {
	p := d.AddMapPage(cautions...)
	pages, err := c.LayOut(d, p.Body)
	if err != nil {
		return err
	}
	next, stop := pages.pictures(ctx, p.Body)
	defer stop()
	first := d.Pages()
	for i := range pages.Len() {
		if i > 0 {
			p = d.AddMapPage(cautions...)
		}
		made := next(i)
		if made.err != nil {
			return made.err
		}
		pages.draw(p, p.Body, made.placed, i, first)
	}
	return context.Cause(ctx)
}

// LayOut splits a cut into the parts that fit into boxes of the size of box. The error says
// why the cut cannot be printed, or not in such a box.
func (c Cut) LayOut(d *Doc, box Rect) (*CutPages, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	out := &CutPages{cut: c, doc: d, keys: c.keys()}
	area := out.area(box)
	var err error
	out.tiles, err = c.Tiles(area.W, area.H)
	return out, err
}

// Len is how many maps the cut takes.
func (l *CutPages) Len() int { return len(l.tiles) }

// Measures around a map, millimetres.
const (
	gutter   = 4.4 // for the figures of the grid, at the left and below
	edgeRule = 0.5
)

// area is where the map stands in a box: above its foot, right of the figures.
func (l *CutPages) area(box Rect) Rect {
	_, rest := box.Foot(l.footTall(box.W))
	_, rest = rest.Left(gutter)
	_, rest = rest.Foot(gutter)
	return rest
}

// Draw draws the i-th map into a box of the size for which the cut was laid out. The maps
// stand on pages of which the first has the number first: neighbours are named by their
// pages. When ctx ends the error is its cause, else it is that of the sheet's Cut.
func (l *CutPages) Draw(ctx context.Context, p *Page, box Rect, i, first int) error {
	picture, err := l.cut.picture(ctx, l.tiles[i], l.area(box), &canvas{})
	if err == nil {
		l.draw(p, box, picture, i, first)
	}
	return err
}

// draw draws the i-th map around its picture.
func (l *CutPages) draw(p *Page, box Rect, picture placed, i, first int) {
	t, at := l.tiles[i], l.area(box)
	m := &cutMap{cut: &l.cut, page: p, box: at, g: t.Ground}
	p.Within(at.corners(), func() {
		p.Picture(picture.box, picture.degrees, picture.file)
		m.grid()
		m.reserve()
		m.neighbours(l.tiles, i, first)
		m.things()
		for _, o := range m.onward {
			p.Label(o.at, o.turn, onwardStyle, true, o.text)
		}
	})
	p.Frame(at, edgeRule)
	m.figures()
	_, foot := box.Top(at.Bottom() + gutter - box.Y)
	lacks := l.cut.reached(t.Ground)
	lacks.unnamed = m.unnamed
	l.foot(p, foot, l.cut.words(lacks))
}

// onward names the page on which the ground beyond a side stands.
type onward struct {
	at   Point // its middle
	turn float64
	text string
}

var onwardStyle = Style{Bold: true}

// neighbours finds room along each side for the name of the page on which the ground beyond stands,
// where it covers least, and keeps words off it.
func (m *cutMap) neighbours(list []Tile, i, first int) {
	const inset = 2.6
	for _, side := range []Side{NorthSide, EastSide, SouthSide, WestSide} {
		n, ok := Neighbour(list, i, side)
		if !ok {
			continue
		}
		o := onward{text: fmt.Sprintf(" on to page %d ", first+n)}
		w, h := m.page.doc.Width(o.text, onwardStyle)/2, onwardStyle.Height()/2
		if side == EastSide || side == WestSide {
			o.turn, w, h = -90, h, w
		}
		least := math.Inf(1)
		for k, f := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
			at := map[Side]Point{
				NorthSide: {m.box.X + f*m.box.W, m.box.Y + inset}, SouthSide: {m.box.X + f*m.box.W, m.box.Bottom() - inset},
				WestSide: {m.box.X + inset, m.box.Y + f*m.box.H}, EastSide: {m.box.Right() - inset, m.box.Y + f*m.box.H},
			}[side]
			if cost := m.covered(at, w, h) + laterPlace*float64(k); cost < least {
				o.at, least = at, cost
			}
		}
		m.onward, m.signs = append(m.onward, o), append(m.signs, boundOf(o.at, w, h))
	}
}

// take keeps words off a box around a point.
func (m *cutMap) take(at Point, halfW, halfH float64) {
	m.taken = append(m.taken, boundOf(at, halfW, halfH))
}
