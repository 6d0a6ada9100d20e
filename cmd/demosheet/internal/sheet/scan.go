package sheet

import (
	"image"
	"math"
	"sync"

	"legwright/assets/demo"
	"legwright/cmd/demosheet/internal/ground"
)

// Scan lays the sheet on the glass: turned, a little smaller, on toned paper with
// folds, grain and uneven light, the lid showing round it. Only the geometry of
// demo.ScanTruth moves anything; tone and grain leave every line where it is.
func Scan(sheet *image.RGBA) *image.RGBA {
	truth := demo.ScanTruth()
	out := image.NewRGBA(image.Rect(0, 0, truth.Width, truth.Height))
	s := scanner{sheet: sheet, from: demo.SheetTruth(), to: truth, out: out}
	const bands = 8
	var wait sync.WaitGroup
	for b := range bands {
		wait.Go(func() {
			for y := b * truth.Height / bands; y < (b+1)*truth.Height/bands; y++ {
				s.row(y)
			}
		})
	}
	wait.Wait()
	return out
}

type scanner struct {
	sheet, out *image.RGBA
	from, to   demo.Truth
}

// row fills one row of the scan. The sheet position is linear along it.
func (s *scanner) row(y int) {
	u0, v0 := s.from.Pixel(s.to.Grid(0.5, float64(y)+0.5))
	u1, v1 := s.from.Pixel(s.to.Grid(1.5, float64(y)+0.5))
	du, dv := u1-u0, v1-v0
	for x := range s.out.Rect.Dx() {
		u, v := u0+du*float64(x), v0+dv*float64(x)
		r, g, b := s.colour(u, v)
		grain := 3.4 * (ground.Unit(int64(x), int64(y), 131) + ground.Unit(int64(x), int64(y), 132) - 1)
		i := s.out.PixOffset(x, y)
		s.out.Pix[i], s.out.Pix[i+1], s.out.Pix[i+2], s.out.Pix[i+3] = byteOf(r+grain), byteOf(g+grain), byteOf(b+grain), 255
	}
}

// colour returns what the glass sees at a sheet position in pixels.
func (s *scanner) colour(u, v float64) (r, g, b float64) {
	w, h := float64(s.sheet.Rect.Dx()), float64(s.sheet.Rect.Dy())
	off := math.Max(math.Max(-u, u-w), math.Max(-v, v-h))
	if off > 0 {
		lid := 222 - 66*math.Exp(-off/7)
		return lid, lid + 1, lid
	}
	r, g, b = s.sample(u-0.5, v-0.5)
	p := ground.Point{X: u, Y: v}
	light := 0.985 - 0.018*(u/w) - 0.012*(v/h) + 0.006*ground.Noise(p, 420, 1, 141)
	light *= 1 - 0.035*crease(u, w/4) - 0.03*crease(v, h/2)
	light -= 0.05 * math.Exp(off/5)
	return (6 + r*0.968) * light, (6 + g*0.957) * light, (7 + b*0.918) * light
}

// crease is 1 on a fold and fades over a few pixels; folds lie every span pixels, not at the edges.
func crease(at, span float64) float64 {
	k := math.Round(at / span)
	d := at - k*span
	if k < 0.5 || math.Abs(d) > 24 {
		return 0
	}
	return math.Exp(-d*d/18) - 0.5*math.Exp(-(d-7)*(d-7)/30)
}

// sample reads the sheet between the middles of its pixels.
func (s *scanner) sample(u, v float64) (r, g, b float64) {
	maxX, maxY := s.sheet.Rect.Dx()-1, s.sheet.Rect.Dy()-1
	fx, fy := math.Floor(u), math.Floor(v)
	x0, y0 := min(max(int(fx), 0), maxX), min(max(int(fy), 0), maxY)
	x1, y1 := min(x0+1, maxX), min(y0+1, maxY)
	tu, tv := u-fx, v-fy
	a, c := s.sheet.Pix[s.sheet.PixOffset(x0, y0):], s.sheet.Pix[s.sheet.PixOffset(x1, y0):]
	d, e := s.sheet.Pix[s.sheet.PixOffset(x0, y1):], s.sheet.Pix[s.sheet.PixOffset(x1, y1):]
	mix := func(k int) float64 {
		top := float64(a[k])*(1-tu) + float64(c[k])*tu
		return top*(1-tv) + (float64(d[k])*(1-tu)+float64(e[k])*tu)*tv
	}
	return mix(0), mix(1), mix(2)
}

func byteOf(v float64) uint8 { return uint8(math.Max(0, math.Min(255, math.Round(v)))) }
