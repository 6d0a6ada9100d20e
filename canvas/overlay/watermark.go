package overlay

import (
	"encoding/binary"
	"image"
	"math"

	"legwright/canvas/view"
)

const (
	waterSize  = 23  // device-independent pixels an em
	waterSlant = 0.3 // radians, rising to the right
	waterPart  = 0.34
	// waterGap is the room between two watermarks in a row, and waterRow the distance
	// of rows, of which every other one is shifted; device-independent pixels.
	waterGap, waterRow = 60, 125
)

// setWatermark places a text over all that is drawn on, at rest in the picture, so that
// no part of the screen that is worth showing lacks it.
func (d *drawing) setWatermark(text string) {
	if text == "" {
		return
	}
	w := words{text: text, size: waterSize * d.p.px, bold: true, angle: -waterSlant, ink: pick(d.p.letters.night, orange, vermillion)}
	p := d.p.letters.textImage(w)
	d.p.letters.draw(p)
	d.lesson.water = paler(p.img, waterPart)
	stepX, stepY := math.Ceil(float64(p.size.X)+waterGap*d.p.px), math.Ceil(waterRow*d.p.px)
	origin := d.v.ToScreen(view.PicPt{})
	for row := math.Floor((-float64(p.size.Y) - origin.Y) / stepY); ; row++ {
		y := origin.Y + row*stepY
		if y >= float64(d.p.img.Rect.Dy()) {
			return
		}
		shift := math.Mod(row, 2) * stepX / 2
		first := math.Floor((-float64(p.size.X)-origin.X-shift)/stepX) * stepX
		for x := origin.X + shift + first; x < float64(d.p.img.Rect.Dx()); x += stepX {
			d.lesson.drops = append(d.lesson.drops, image.Pt(int(math.Round(x)), int(math.Round(y))))
		}
	}
}

// paler is a picture with a part of its opacity.
func paler(src *image.RGBA, part float64) *image.RGBA {
	out := image.NewRGBA(src.Rect)
	for i := 0; i < len(src.Pix); i += 4 {
		if v := binary.LittleEndian.Uint32(src.Pix[i:]); v != 0 {
			binary.LittleEndian.PutUint32(out.Pix[i:], scaled(v, part))
		}
	}
	return out
}
