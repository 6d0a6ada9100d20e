package sheet

import (
	"image/color"
	"math"

	"legwright/assets/demo"
	"legwright/cmd/demosheet/internal/ground"
	"legwright/cmd/demosheet/internal/ink"
)

// frameBox returns the neat line in pixels.
func (m *maker) frameBox() (x0, y0, x1, y1 float64) {
	x0, y0 = m.truth.Pixel(demo.West, demo.North)
	x1, y1 = m.truth.Pixel(demo.East, demo.South)
	return x0, y0, x1, y1
}

// tones lays the sea and the land, the land lit softly from the upper left in steps.
func (m *maker) tones() {
	x0, y0, x1, y1 := m.frameBox()
	pen := ink.NewPen()
	pen.Rect(x0, y0, x1, y1)
	m.c.Ink(pen, seaTone, 1)
	land := ink.NewPen()
	for _, l := range m.g.Shore {
		land.Area(m.line(l.Round(1)))
	}
	m.c.Ink(land, landLow, 1)
	lit := m.light()
	pix := m.c.Pic
	for y := int(y0); y < int(y1); y++ {
		for x := int(x0); x < int(x1); x++ {
			i := pix.PixOffset(x, y)
			if pix.Pix[i] != landLow.R || pix.Pix[i+1] != landLow.G {
				continue
			}
			p := m.ground(ink.Pt{X: float64(x) + 0.5, Y: float64(y) + 0.5})
			c := tint(m.g.Height.At(p), lit.At(p))
			pix.Pix[i], pix.Pix[i+1], pix.Pix[i+2] = c.R, c.G, c.B
		}
	}
}

// light returns how bright the ground is under a lamp in the north-west, −1 to 1, smoothed.
func (m *maker) light() *ground.Field {
	h := m.smoothed(22)
	out := ground.NewField(h.W, h.H, h.Cell)
	for k := range h.Z {
		gx, gy := h.Grad(h.Node(k))
		out.Z[k] = (gx - gy) / math.Sqrt(2) / math.Sqrt(1+gx*gx+gy*gy)
	}
	return out
}

// smoothed returns the heights of the land, blurred by σ metres; the sea is level.
func (m *maker) smoothed(sigmaM float64) *ground.Field {
	h := ground.NewField(m.g.Height.W, m.g.Height.H, m.g.Height.Cell)
	for k, z := range m.g.Height.Z {
		h.Z[k] = math.Max(z, 0)
	}
	h.Blur(sigmaM)
	return h
}

// tint mixes height and light into one of a few dozen land tones.
func tint(z, light float64) color.RGBA {
	t := math.Round(math.Min(z/480, 1)*24) / 24
	l := math.Round(light*48) / 48
	dark := math.Max(-l-0.05, 0) * 56
	bright := math.Max(l-0.05, 0) * 12
	mix := func(lo, hi uint8, cool float64) uint8 {
		v := float64(lo) + (float64(hi)-float64(lo))*t - dark*cool + bright
		return uint8(math.Max(0, math.Min(v, 252)))
	}
	return color.RGBA{
		mix(landLow.R, landHigh.R, 1.06),
		mix(landLow.G, landHigh.G, 1.0),
		mix(landLow.B, landHigh.B, 0.74), 255,
	}
}

// waterlines rings the coasts with lines that fade out to sea.
func (m *maker) waterlines() {
	for i, d := range []float64{28, 64, 110, 166, 232, 308} {
		pen := ink.NewPen()
		for _, l := range m.g.Off.Contours(d) {
			pen.Stroke(m.line(l.Round(2)), 1.9)
		}
		m.c.Ink(pen, waterInk, 0.55-0.08*float64(i))
	}
}

func (m *maker) lakeTones() {
	fill, edge := ink.NewPen(), ink.NewPen()
	for _, lake := range m.g.Lakes {
		for _, l := range lake.Shore {
			fill.Area(m.line(l.Round(2)))
			edge.Stroke(m.line(l.Round(2)), 2.4)
		}
	}
	m.c.Ink(fill, lakeTone, 1)
	m.c.Ink(edge, waterInk, 1)
}
