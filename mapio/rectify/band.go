package rectify

import (
	"image"
	"image/color"
	"image/draw"

	"legwright/app/lettering"
)

// Measures of the band in pixels.
const (
	leastType     = 11.0
	lettersAcross = 120.0 // of a line over the whole width, more or less
	letterWide    = 0.55  // of the size, on average
	linesDown     = 25.0  // of type in the height of the map, at least
	leastColumns  = 160   // a narrower band holds no words
)

// newBand draws sentences, the first in bold, on a white band below a map of a
// size, large enough to read at any size of print.
func newBand(words []string, width, height int) *image.RGBA {
	if width < leastColumns {
		return image.NewRGBA(image.Rect(0, 0, width, 0))
	}
	size := max(min(float64(width)/(lettersAcross*letterWide), float64(height)/linesDown), leastType)
	edge, step := int(size), int(size*1.35)
	type line struct {
		style lettering.Style
		text  string
	}
	var lines []line
	letters := lettering.New()
	for i, w := range words {
		style := lettering.Style{Size: float32(size), Bold: i == 0}
		for _, l := range letters.Wrap(w, style, float32(width-2*edge)) {
			lines = append(lines, line{style, l})
		}
	}
	out := image.NewRGBA(image.Rect(0, 0, width, 2*edge+step*len(lines)))
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	draw.Draw(out, image.Rect(0, 0, width, max(edge/8, 1)), image.Black, image.Point{}, draw.Src)
	for i, l := range lines {
		foot := edge + step*i + int(size)
		letters.Write(out, l.text, l.style, float32(edge), float32(foot), color.NRGBA{25, 25, 25, 255})
	}
	return out
}
