package pdf

import "math"

// maxPoints bounds the sides of a page that is believed, in points: 14,400
// inches, the limit of ISO 32000-1 annex C times its largest UserUnit.
const maxPoints = 14400 * 72

// Box is a rectangle in user space, X0 < X1 and Y0 < Y1.
type Box struct{ X0, Y0, X1, Y1 float64 }

// Page is what a document says about one page.
type Page struct {
	// Box is the crop box within the media box.
	Box Box
	// Rotate is how far the page is turned clockwise to be shown: 0, 90, 180
	// or 270 degrees.
	Rotate int
	// UserUnit is the length of a unit of user space in 1/72 inch.
	UserUnit float64
	// Frames say where maps on the page lie, the one to take first.
	Frames []Frame
	// Notes are sentences for people about what could not be used.
	Notes []string
}

// Size is the size of the page as shown, in units of user space.
func (p Page) Size() (width, height float64) {
	w, h := p.Box.X1-p.Box.X0, p.Box.Y1-p.Box.Y0
	if p.Rotate%180 != 0 {
		return h, w
	}
	return w, h
}

// agrees compares the size with that of the renderer, which keeps it as
// float32 and knows no UserUnit.
func (p Page) agrees(wPt, hPt float64) bool {
	w, h := p.Size()
	return math.Abs(w-wPt) <= 0.01+1e-6*w && math.Abs(h-hPt) <= 0.01+1e-6*h
}

// Pixels is the size of the page's picture at a resolution in pixels per inch,
// rounded to whole pixels and at least 1 × 1.
func (p Page) Pixels(dpi float64) (width, height int) {
	w, h := p.Size()
	k := dpi * p.UserUnit / 72
	return max(1, int(math.Round(w*k))), max(1, int(math.Round(h*k)))
}

// LargestDPI is the largest whole resolution whose picture keeps within a
// longest side and an area in pixels; 0 if none does.
func (p Page) LargestDPI(maxSide, maxArea int) float64 {
	w, h := p.Size()
	w, h = w*p.UserUnit/72, h*p.UserUnit/72
	dpi := math.Floor(min(float64(maxSide)/max(w, h), math.Sqrt(float64(maxArea)/(w*h))))
	for ; dpi > 0; dpi-- { // rounding to whole pixels may exceed the area
		if pw, ph := p.Pixels(dpi); pw*ph <= maxArea && max(pw, ph) <= maxSide {
			break
		}
	}
	return max(0, dpi)
}

// ToPicture takes user space to the picture of the given size in pixels:
// column = m[0]·x + m[1]·y + m[2], row = m[3]·x + m[4]·y + m[5].
func (p Page) ToPicture(width, height int) [6]float64 {
	b, w, h := p.Box, float64(width), float64(height)
	kx, ky := 1/(b.X1-b.X0), 1/(b.Y1-b.Y0)
	switch p.Rotate {
	case 90: // up becomes right
		return [6]float64{0, w * ky, -w * b.Y0 * ky, h * kx, 0, -h * b.X0 * kx}
	case 180:
		return [6]float64{-w * kx, 0, w * b.X1 * kx, 0, h * ky, -h * b.Y0 * ky}
	case 270: // up becomes left
		return [6]float64{0, -w * ky, w * b.Y1 * ky, -h * kx, 0, h * b.X1 * kx}
	}
	return [6]float64{w * kx, 0, -w * b.X0 * kx, 0, -h * ky, h * b.Y1 * ky}
}
