package paper

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"

	"legwright/app/geodesy"
)

// casing is how much wider the white under a black line is, millimetres on both sides.
const casing = 0.4

// cutMap is the map of a tile as it is drawn on a page.
type cutMap struct {
	cut   *Cut
	page  *Page
	box   Rect // of the map on the page
	g     Ground
	taken []orb.Bound // what words should not cover

	danger []orb.Polygon // the areas of hazards
	signs  []orb.Bound
	onward []onward
	words  []mapWord

	unnamed bool // a mark or haven has no room for its name
}

// at is where a position lies on the page.
func (m *cutMap) at(g geodesy.Grid) Point {
	return Point{m.box.X + m.cut.mm(g.E-m.g.West), m.box.Y + m.cut.mm(m.g.North-g.N)}
}

func (m *cutMap) points(list []geodesy.Grid, closed bool) []Point {
	out := make([]Point, 0, len(list)+1)
	for _, g := range list {
		out = append(out, m.at(g))
	}
	if closed && len(out) > 0 {
		out = append(out, out[0])
	}
	return out
}

// bound is the box of the map, larger by some millimetres.
func (m *cutMap) bound(pad float64) orb.Bound {
	return orb.Bound{Min: orb.Point{m.box.X, m.box.Y}, Max: orb.Point{m.box.Right(), m.box.Bottom()}}.Pad(pad)
}

// beside is how far beyond the map lines are drawn, millimetres: farther off, numbers would
// become so large that a printer rounds them.
const beside = 10.0

// pieces are the parts of a line that lie on the map or just beside it.
func (m *cutMap) pieces(points []Point) [][]Point { return m.piecesIn(points, beside) }

// piecesIn are the parts of a line that lie on the map or up to pad millimetres beside it.
func (m *cutMap) piecesIn(points []Point, pad float64) (out [][]Point) {
	line := make(orb.LineString, len(points))
	for i, p := range points {
		line[i] = orb.Point{p.X, p.Y}
	}
	for _, run := range clip.LineString(m.bound(pad), line) {
		piece := make([]Point, len(run))
		for i, p := range run {
			piece[i] = Point{p.X(), p.Y()}
		}
		out = append(out, piece)
	}
	return out
}

// inked draws a line with its white casing under all of its pens, of which the first lies
// lowest.
func (m *cutMap) inked(points []Point, pens ...Pen) {
	runs := m.pieces(points)
	under := 0.0
	for _, pen := range pens {
		under = max(under, pen.Width)
	}
	for _, run := range runs {
		m.page.Stroke(run, false, Pen{Width: under + 2*casing, White: true})
	}
	for _, pen := range pens {
		for _, run := range runs {
			m.page.Stroke(run, false, pen)
		}
	}
}
