package overlay

import (
	"image"
	"math"

	"legwright/canvas/view"
)

const (
	setSize  = 21 // the figure to set, device-independent pixels an em
	textSize = 14 // the rest of the line
	gap      = 9  // between the two
)

// line writes a bold figure and a text on one line along a–b. See
// Painter.Along.
func (l *textRenderer) line(set, text string, a, b view.ScreenPt, px float64, area image.Point, by Beside) (*image.RGBA, int, int) {
	big := words{text: set, size: setSize * px, bold: true, ink: black}
	small := words{text: text, size: textSize * px, ink: black}
	wb, ws := l.width(big), l.width(small)
	total := l.lineWidth(set, text, px)
	at, ok := liveSpot(a, b, total, px, area, by)
	if !ok {
		return nil, 0, 0
	}
	big.angle, small.angle = at.angle, at.angle
	img, x, y := l.join(at.mid, at.angle, big, (wb-total)/2, small, (total-ws)/2)
	if at.over {
		plate(img, at.mid.Add(float64(-x), float64(-y)), at.angle, total/2+gap*px/2, 0.62*setSize*px, 1.2*px, pick(l.night, 0, uint8(255)))
	}
	return img, x, y
}

// lineWidth is how wide line writes the two, in pixels.
func (l *textRenderer) lineWidth(set, text string, px float64) float64 {
	total := l.width(words{text: set, size: setSize * px, bold: true}) + l.width(words{text: text, size: textSize * px})
	if set != "" && text != "" {
		total += gap * px
	}
	return total
}

// plate puts the halo's grey behind a text that has its middle at mid, to half its length and
// height, and a rim around it: over a name, the letters of both would run together, and a
// figure be misread.
func plate(img *image.RGBA, mid view.ScreenPt, angle, halfX, halfY, rim float64, grey uint8) {
	sin, cos := math.Sincos(angle)
	for y := range img.Rect.Dy() {
		row := img.Pix[y*img.Stride:][:4*img.Rect.Dx()]
		for x := range img.Rect.Dx() {
			dx, dy := float64(x)+0.5-mid.X, float64(y)+0.5-mid.Y
			in := min(halfX-math.Abs(dx*cos+dy*sin), halfY-math.Abs(dy*cos-dx*sin))
			if in < 0 {
				continue
			}
			p := row[4*x : 4*x+4]
			rest := uint8(uint16(255-p[3]) * uint16(pick(in < rim, 255-grey, grey)) / 255)
			p[0], p[1], p[2], p[3] = p[0]+rest, p[1]+rest, p[2]+rest, 255
		}
	}
}

// join lays two texts, dx1 and dx2 along the line from mid, into one picture
// and gives where its corner belongs. They stand on one base line.
func (l *textRenderer) join(mid view.ScreenPt, angle float64, t1 words, dx1 float64, t2 words, dx2 float64) (*image.RGBA, int, int) {
	sin, cos := math.Sincos(angle)
	p1, p2 := l.textImage(t1), l.textImage(t2)
	l.draw(p1)
	l.draw(p2)
	drop := (p1.height - p2.height) / 2
	r1, r2 := p1.rect(mid.Add(dx1*cos, dx1*sin)), p2.rect(mid.Add(dx2*cos-drop*sin, dx2*sin+drop*cos))
	r := r1.Union(r2)
	out := l.buffers.line(r.Size())
	row := strip{img: out, y1: r.Dy()}
	row.blit(p1.img, r1.Min.X-r.Min.X, r1.Min.Y-r.Min.Y)
	row.blit(p2.img, r2.Min.X-r.Min.X, r2.Min.Y-r.Min.Y)
	return out, r.Min.X, r.Min.Y
}

// rect is where the text image lies with the middle of its text at mid.
func (p *textImage) rect(mid view.ScreenPt) image.Rectangle {
	o := image.Pt(int(math.Round(mid.X-p.midX)), int(math.Round(mid.Y-p.midY)))
	return image.Rectangle{Max: p.size}.Add(o)
}
