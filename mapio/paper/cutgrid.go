package paper

import (
	"fmt"
	"math"
	"strconv"
)

// widestSquare is how far apart grid lines lie at most, millimetres on paper, before finer
// ones are drawn.
const widestSquare = 60

// squareM is the distance of grid lines in metres: a thousand of the unit of the grid's
// figures, or 200 m where that would leave a page without lines.
func (c *Cut) squareM() float64 {
	unit := c.Sheet.System.Unit().Metres
	if unit == 1 && c.mm(1000) > widestSquare {
		return 200
	}
	return 1000 * unit
}

// figure is what stands at a grid line: kilometres, or on a grid in another unit the whole
// figure.
func (c *Cut) figure(atM float64) string {
	unit := c.Sheet.System.Unit().Metres
	if unit == 1 {
		return strconv.FormatFloat(math.Round(atM/100)/10, 'f', -1, 64)
	}
	return fmt.Sprint(int(math.Round(atM / unit)))
}

// gridLines yields the grid lines between two coordinates.
func gridLines(from, to, step float64, yield func(float64)) {
	for n := math.Ceil(from / step); n*step <= to; n++ {
		yield(n * step)
	}
}

// grid draws the grid lines.
func (m *cutMap) grid() {
	step := m.cut.squareM()
	gridLines(m.g.West, m.g.East, step, func(e float64) {
		x := m.box.X + m.cut.mm(e-m.g.West)
		m.page.Rule(Point{x, m.box.Y}, Point{x, m.box.Bottom()}, MinRule)
	})
	gridLines(m.g.South, m.g.North, step, func(n float64) {
		y := m.box.Y + m.cut.mm(m.g.North-n)
		m.page.Rule(Point{m.box.X, y}, Point{m.box.Right(), y}, MinRule)
	})
}

// figures writes the figures of the grid lines below the map and at its left, none beyond its
// ends, and none that would run into another one at the corner.
func (m *cutMap) figures() {
	step, s := m.cut.squareM(), Style{Bold: true}
	const corner = 3
	half := func(text string) float64 { return m.page.doc.Width(text, s) / 2 }
	gridLines(m.g.West+m.cut.metres(corner), m.g.East, step, func(e float64) {
		text := m.cut.figure(e)
		m.page.Label(Point{min(m.box.X+m.cut.mm(e-m.g.West), m.box.Right()-half(text)), m.box.Bottom() + gutter/2}, 0, s, false, text)
	})
	gridLines(m.g.South+m.cut.metres(corner), m.g.North, step, func(n float64) {
		text := m.cut.figure(n)
		m.page.Label(Point{m.box.X - gutter/2, max(m.box.Y+m.cut.mm(m.g.North-n), m.box.Y+half(text))}, -90, s, false, text)
	})
}
