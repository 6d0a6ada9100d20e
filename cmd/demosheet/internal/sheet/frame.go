package sheet

import (
	"fmt"
	"math"

	"legwright/assets/demo"
	"legwright/cmd/demosheet/internal/ink"
)

// grid rules the kilometre lines; each lies with its middle exactly on its easting or northing.
func (m *maker) grid() {
	x0, y0, x1, y1 := m.frameBox()
	pen := ink.NewPen()
	for e := demo.West + 1000; e < demo.East; e += 1000 {
		x, _ := m.truth.Pixel(e, demo.South)
		pen.Rect(x-gridW/2, y0, x+gridW/2, y1)
	}
	for n := demo.South + 1000; n < demo.North; n += 1000 {
		_, y := m.truth.Pixel(demo.West, n)
		pen.Rect(x0, y-gridW/2, x1, y+gridW/2)
	}
	m.c.Ink(pen, gridInk, 0.62)
}

// frame draws the neat line, the hundred-metre ticks and the figures of the grid.
func (m *maker) frame() {
	x0, y0, x1, y1 := m.frameBox()
	pen := ink.NewPen()
	box(pen, x0, y0, x1, y1, 3)
	box(pen, x0-26, y0-26, x1+26, y1+26, 5)
	for d := 0.0; d <= demo.East-demo.West; d += 100 {
		x, _ := m.truth.Pixel(demo.West+d, demo.South)
		reach, w := tick(d)
		pen.Rect(x-w/2, y0-reach, x+w/2, y0)
		pen.Rect(x-w/2, y1, x+w/2, y1+reach)
	}
	for d := 0.0; d <= demo.North-demo.South; d += 100 {
		_, y := m.truth.Pixel(demo.West, demo.South+d)
		reach, w := tick(d)
		pen.Rect(x0-reach, y-w/2, x0, y+w/2)
		pen.Rect(x1, y-w/2, x1+reach, y+w/2)
	}
	m.c.Ink(pen, nameInk, 1)
	m.gridFigures()
}

func tick(d float64) (reach, width float64) {
	switch {
	case math.Mod(d, 1000) == 0:
		return 26, 2
	case math.Mod(d, 500) == 0:
		return 17, 2
	default:
		return 9, 2
	}
}

func box(pen *ink.Pen, x0, y0, x1, y1, w float64) {
	h := w / 2
	pen.Rect(x0-h, y0-h, x1+h, y0+h)
	pen.Rect(x0-h, y1-h, x1+h, y1+h)
	pen.Rect(x0-h, y0+h, x0+h, y1-h)
	pen.Rect(x1-h, y0+h, x1+h, y1-h)
}

// gridFigures writes the kilometres outside the frame, in full at the corners.
func (m *maker) gridFigures() {
	x0, y0, x1, y1 := m.frameBox()
	pen := ink.NewPen()
	for e := demo.West; e <= demo.East; e += 1000 {
		x, _ := m.truth.Pixel(e, demo.South)
		corner := e == demo.West || e == demo.East
		m.kilometre(pen, int(e)/1000, corner, x, y0-44)
		m.kilometre(pen, int(e)/1000, corner, x, y1+44+34)
	}
	for n := demo.South; n <= demo.North; n += 1000 {
		_, y := m.truth.Pixel(demo.West, n)
		corner := n == demo.South || n == demo.North
		m.kilometre(pen, int(n)/1000, corner, x0-82, y+17)
		m.kilometre(pen, int(n)/1000, corner, x1+82, y+17)
	}
	m.c.Ink(pen, gridInk, 1)
	letters := ink.NewPen()
	for _, x := range []float64{x0 - 82, x1 + 82} {
		for _, y := range []float64{y0 - 100, y1 + 124} {
			m.centred(letters, m.faces.figureBold, "NL", x, y, 40, 2)
		}
	}
	m.c.Ink(letters, gridInk, 1)
}

// kilometre writes two figures of the kilometre with their middle at x on the baseline y; in
// full, the hundreds of kilometres stand small before them.
func (m *maker) kilometre(pen *ink.Pen, km int, full bool, x, y float64) {
	const size = 46.0
	text := fmt.Sprintf("%02d", km%100)
	f := m.faces.figureBold
	w := f.Width(text, size, 1)
	f.Text(pen, text, ink.Pt{X: x - w/2, Y: y}, 0, size, 1)
	if full {
		const small = 24.0
		lead := fmt.Sprint(km / 100)
		m.faces.figure.Text(pen, lead, ink.Pt{X: x - w/2 - 3 - m.faces.figure.Width(lead, small, 0), Y: y - 16}, 0, small, 0)
	}
}

func (m *maker) centred(pen *ink.Pen, f *ink.Face, text string, x, y, size, spacing float64) {
	f.Text(pen, text, ink.Pt{X: x - f.Width(text, size, spacing)/2, Y: y}, 0, size, spacing)
}
