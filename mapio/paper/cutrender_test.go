package paper

import (
	"context"
	"image"
	"math"
	"testing"
)

// fine is the resolution at which pages are measured, pixels per inch.
const fine = 600

const perMM = fine / 25.4

// printout is a part of a page as it comes out of the printer.
type printout struct {
	*image.Gray
	corner image.Point
}

// value is the shade at a point of the page in millimetres, of the nearest pixel: 0 is black.
func (s printout) value(p Point) float64 {
	return float64(s.GrayAt(int(p.X*perMM)-s.corner.X, int(p.Y*perMM)-s.corner.Y).Y)
}

// drawnCut draws the first map of a cut on a page and prints it.
func drawnCut(t *testing.T, c Cut, size Size) (printout, Rect, Ground) {
	t.Helper()
	d := begun(t, size, testInfo())
	p := d.AddMapPage()
	pages, err := c.LayOut(d, p.Body)
	if err != nil {
		t.Fatal(err)
	}
	if err := pages.Draw(context.Background(), p, p.Body, 0, 1); err != nil {
		t.Fatal(err)
	}
	box := pages.area(p.Body)
	pic, corner := printed(t, written(t, d), fine, box)
	return printout{pic, corner}, box, pages.tiles[0].Ground
}

// blackOn is the middle of what is black along a short line around a point, in millimetres
// from that along a direction; ok is false where nothing is.
func (s printout) blackOn(p Point, dx, dy, half float64) (mm float64, ok bool) {
	const step = 0.2 / perMM
	var sum, by float64
	for d := -half; d <= half; d += step {
		if v := s.value(Point{p.X + d*dx, p.Y + d*dy}); v < 100 {
			sum, by = sum+255-v, by+(255-v)*d
		}
	}
	return by / sum, sum > 0
}

// measured is what stands on a page, found without the program: where the grid lines lie.
type measured struct {
	printout
	x, y         []float64 // of the grid lines in millimetres, from the west and from the north
	east, north  float64   // of the first of each, metres
	tiltX, tiltY float64   // by which lines leave upright and level, radians
}

// grid is the position on the grid of a point on the page, by the lines around it.
func (m measured) grid(p Point) (e, n float64) {
	mmE, mmN := (m.x[len(m.x)-1]-m.x[0])/float64(len(m.x)-1), (m.y[len(m.y)-1]-m.y[0])/float64(len(m.y)-1)
	return m.east + 1000*(p.X-m.x[0])/mmE, m.north - 1000*(p.Y-m.y[0])/mmN
}

// measure prints a cut at 1:25,000 on A6 and finds its grid lines near where they should be.
func measure(t *testing.T, c Cut) measured {
	t.Helper()
	pic, box, g := drawnCut(t, c, A6)
	out := measured{printout: pic}
	gridLines(g.West, g.East, 1000, func(e float64) {
		at, tilt := out.line(t, box.X+(e-g.West)/25, box, true)
		if out.x = append(out.x, at); len(out.x) == 1 {
			out.east = e
		}
		out.tiltX = max(out.tiltX, tilt)
	})
	gridLines(g.South, g.North, 1000, func(n float64) {
		at, tilt := out.line(t, box.Y+(g.North-n)/25, box, false)
		out.y, out.north = append([]float64{at}, out.y...), n
		out.tiltY = max(out.tiltY, tilt)
	})
	if len(out.x) < 2 || len(out.y) < 2 {
		t.Fatalf("%d and %d grid lines on the page", len(out.x), len(out.y))
	}
	return out
}

// line is where a grid line lies, and by how much it tilts: the line of least squares
// through its middles, where nothing crosses it.
func (s printout) line(t *testing.T, near float64, box Rect, upright bool) (at, tilt float64) {
	t.Helper()
	var along, across []float64
	for f := 0.05; f <= 0.95; f += 0.002 {
		p, dx, dy, l := Point{near, box.Y + f*box.H}, 1.0, 0.0, f*box.H
		if !upright {
			p, dx, dy, l = Point{box.X + f*box.W, near}, 0, 1, f*box.W
		}
		// Only where the line stands alone on light ground.
		alone := s.value(Point{p.X + 0.5*dx, p.Y + 0.5*dy}) > 100 && s.value(Point{p.X - 0.5*dx, p.Y - 0.5*dy}) > 100
		if mm, ok := s.blackOn(p, dx, dy, 0.45); ok && alone {
			along, across = append(along, l), append(across, near+mm)
		}
	}
	if len(along) < 200 {
		t.Fatalf("the grid line near %.1f mm is seen at %d of 450 points", near, len(along))
	}
	a, b := straight(along, across)
	return a + b*along[len(along)/2], math.Abs(b)
}

// straight fits y = a + b·x by least squares.
func straight(x, y []float64) (a, b float64) {
	var mx, my, xx, xy float64
	for i := range x {
		mx, my = mx+x[i]/float64(len(x)), my+y[i]/float64(len(x))
	}
	for i := range x {
		xx, xy = xx+(x[i]-mx)*(x[i]-mx), xy+(x[i]-mx)*(y[i]-my)
	}
	b = xy / xx
	return my - b*mx, b
}
