package rectify

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"legwright/assets/look"
)

// Measures of the band in pixels.
const (
	leastType     = 11.0
	lettersAcross = 120.0 // of a line over the whole width, more or less
	letterWide    = 0.55  // of the size, on average
	linesDown     = 25.0  // of type in the height of the map, at least
	leastColumns  = 160   // a narrower band holds no words
)

// newBand draws sentences, the first of them strong, on a white band below a map
// of a size, large enough to be read wherever the map is, however it is printed.
func newBand(words []string, width, height int) (*image.RGBA, error) {
	if width < leastColumns {
		return image.NewRGBA(image.Rect(0, 0, width, 0)), nil
	}
	size := max(min(float64(width)/(lettersAcross*letterWide), float64(height)/linesDown), leastType)
	strong, err := face(look.WideBold(), size)
	if err != nil {
		return nil, err
	}
	plain, err := face(look.Wide(), size)
	if err != nil {
		return nil, err
	}
	edge, step := int(size), int(size*1.35)
	type line struct {
		face font.Face
		text string
	}
	var lines []line
	for i, w := range words {
		f := plain
		if i == 0 {
			f = strong
		}
		for _, l := range broken(f, w, fixed.I(width-2*edge)) {
			lines = append(lines, line{f, l})
		}
	}
	out := image.NewRGBA(image.Rect(0, 0, width, 2*edge+step*len(lines)))
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	draw.Draw(out, image.Rect(0, 0, width, max(edge/8, 1)), image.Black, image.Point{}, draw.Src)
	for i, l := range lines {
		d := font.Drawer{Dst: out, Src: image.NewUniform(color.Gray{25}), Face: l.face, Dot: fixed.P(edge, edge+step*i+int(size))}
		d.DrawString(l.text)
	}
	return out, nil
}

func face(data []byte, size float64) (font.Face, error) {
	f, err := opentype.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("the type of the band: %w", err)
	}
	return opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72})
}

// broken breaks a text into lines of a width, within a word where it must.
func broken(f font.Face, text string, width fixed.Int26_6) []string {
	var lines []string
	now := ""
	for _, word := range strings.Fields(text) {
		for word != "" {
			try := strings.TrimSpace(now + " " + word)
			if font.MeasureString(f, try) <= width {
				now, word = try, ""
				continue
			}
			if now != "" {
				lines, now = append(lines, now), ""
				continue
			}
			n := fitting(f, word, width)
			lines, word = append(lines, word[:n]), word[n:]
		}
	}
	if now != "" {
		lines = append(lines, now)
	}
	return lines
}

// fitting is how many bytes of a word fit into a width: a letter at least.
func fitting(f font.Face, word string, width fixed.Int26_6) int {
	last := 0
	for i := range word {
		if i > 0 && font.MeasureString(f, word[:i]) > width {
			break
		}
		last = i
	}
	if last == 0 {
		for i := range word {
			if i > 0 {
				return i
			}
		}
		return len(word)
	}
	return last
}
