package profile

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"sort"

	"legwright/app/terrain"
)

// Ink is the colours of a profile.
type Ink struct {
	Ground color.NRGBA // below the line
	Line   color.NRGBA
	Gap    color.NRGBA // the hatching where terrain has no height
}

// WidestM returns the largest difference of height within one of the profiles, at least
// that of terrain.SpanOf: pictures that stand apart are drawn with it, so that a steep leg looks
// steeper than a gentle one.
func WidestM(list ...terrain.Profile) float64 {
	most := 0.0
	for _, p := range list {
		if s, ok := terrain.SpanOf(p); ok {
			most = max(most, s.HighM-s.LowM)
		}
	}
	return most
}

// Draw draws a profile over a box of a picture, its length across the box, with a line
// of so many pixels. A profile without length draws nothing.
func Draw(img *image.RGBA, box image.Rectangle, p terrain.Profile, s terrain.Span, linePx float64, ink Ink) {
	if p.LengthM() <= 0 || box.Empty() {
		return
	}
	c := columns{p.Points, p.LengthM() / float64(box.Dx())}
	was := math.NaN()
	for x := range box.Dx() {
		column := image.Rect(box.Min.X+x, box.Min.Y, box.Min.X+x+1, box.Max.Y)
		h := c.height(x)
		if math.IsNaN(h) {
			Gap(img, column, ink.Gap)
			was = h
			continue
		}
		y := float64(box.Max.Y) - (h-s.LowM)/(s.HighM-s.LowM)*(float64(box.Dy())-linePx) - linePx
		shade(img, column, y+linePx, float64(box.Max.Y), ink.Ground)
		top, foot := y, y+linePx
		if was == was { // joined to the column before, however steep
			top, foot = min(top, was+linePx/2), max(foot, was+linePx/2)
		}
		shade(img, column, top, foot, ink.Line)
		was = y
	}
}

// columns reads heights for columns of pixels.
type columns struct {
	points []terrain.Point
	eachM  float64 // metres per column
}

// height is the height that stands for a column: the highest on its part of the way, NaN
// where any height of it is missing.
func (c columns) height(x int) float64 {
	fromM, toM := float64(x)*c.eachM, float64(x+1)*c.eachM
	h := math.Max(c.at(fromM), c.at(toM)) // NaN if either is
	for i := c.from(fromM); i < len(c.points) && c.points[i].AlongM < toM; i++ {
		h = math.Max(h, c.points[i].HeightM)
	}
	return h
}

// from is the first point at a distance along the way or beyond it.
func (c columns) from(m float64) int {
	return sort.Search(len(c.points), func(i int) bool { return c.points[i].AlongM >= m })
}

// at is the height so many metres along the way.
func (c columns) at(m float64) float64 {
	const rounding = 1e-9
	i := min(c.from(m-rounding*c.eachM), len(c.points)-1)
	b := c.points[i]
	if i == 0 || b.AlongM-m <= rounding*c.eachM {
		return b.HeightM
	}
	a := c.points[i-1]
	return a.HeightM + (b.HeightM-a.HeightM)*(m-a.AlongM)/(b.AlongM-a.AlongM)
}

// Gap hatches a box without heights.
func Gap(img *image.RGBA, box image.Rectangle, c color.NRGBA) {
	const every = 6 // pixels, upward to the right
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			if (x+y)%every == 0 {
				draw.Draw(img, image.Rect(x, y, x+1, y+1), image.NewUniform(c), image.Point{}, draw.Over)
			}
		}
	}
}

// shade colours a column between two heights of the picture, with soft ends.
func shade(img *image.RGBA, column image.Rectangle, top, foot float64, c color.NRGBA) {
	for y := max(column.Min.Y, int(math.Floor(top))); y < min(column.Max.Y, int(math.Ceil(foot))); y++ {
		cover := min(float64(y+1), foot) - max(float64(y), top)
		if cover <= 0 {
			continue
		}
		ink := c
		ink.A = uint8(math.Round(float64(c.A) * min(cover, 1)))
		draw.Draw(img, image.Rect(column.Min.X, y, column.Max.X, y+1), image.NewUniform(ink), image.Point{}, draw.Over)
	}
}
