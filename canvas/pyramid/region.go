package pyramid

import (
	"errors"
	"fmt"
	"image"
	"math"

	"golang.org/x/image/math/f64"
)

var (
	// ErrNotReady is returned by Region while the level it needs is still
	// being made; Wait for that level and try again.
	ErrNotReady = errors.New("this level of the picture is not ready yet")
	// ErrTransform is returned for a transform with NaN, infinite or zero
	// scale.
	ErrTransform = errors.New("the transform has no finite scale above 0")
)

// Filter says how Region reads between pixels.
type Filter int

const (
	// Bilinear is for scales below 2 screen pixels a picture pixel.
	Bilinear Filter = iota
	// Nearest shows the pixels as squares: for strong magnification.
	Nearest
)

// RegionLevel is the level Region reads for a transform from dst pixels to
// picture pixels: the coarsest that is not magnified.
func (p *Pyramid) RegionLevel(m f64.Aff3) int {
	return p.LevelFor(1 / columnNorm(m))
}

func columnNorm(m f64.Aff3) float64 {
	return max(math.Hypot(m[0], m[3]), math.Hypot(m[1], m[4]))
}

// Region resamples the picture into dst under the transform m, which takes
// dst coordinates (x, y), corner convention, to picture coordinates
//
//	col = m[0]·x + m[1]·y + m[2],  row = m[3]·x + m[4]·y + m[5].
//
// The pixel (x, y) of dst shows the picture at m(x+½, y+½), and is
// transparent where that lies outside the picture. All of dst is written.
// m should be a similarity, turned by any angle; positions are exact to 0.001
// of a level's pixel. The level is RegionLevel(m); while that is not ready
// nothing is drawn and the error is ErrNotReady. Region may be called from
// several goroutines for different parts of a view.
func (p *Pyramid) Region(dst *image.RGBA, m f64.Aff3, f Filter) error {
	for _, v := range m {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%w: %v", ErrTransform, m)
		}
	}
	if s := columnNorm(m); !(s > 1e-9 && s < 1e9) {
		return fmt.Errorf("%w: scale %g", ErrTransform, s)
	}
	n := p.RegionLevel(m)
	l := p.layer(n)
	if l == nil {
		if p.isClosed() {
			return ErrClosed
		}
		return fmt.Errorf("%w: level %d", ErrNotReady, n)
	}
	if err := p.resample(dst, sampler{l, p.size, n, m, f}); err != nil {
		return p.regionFault(n, err)
	}
	p.applyLook(dst)
	return nil
}

// regionFault is what Region says when its level cannot be read.
func (p *Pyramid) regionFault(n int, err error) error {
	if p.isClosed() {
		return ErrClosed
	}
	p.mu.Lock()
	p.damaged(err)
	p.mu.Unlock()
	return fmt.Errorf("%w: level %d", ErrNotReady, n)
}

func (p *Pyramid) applyLook(dst *image.RGBA) {
	l := p.look.Load()
	if l == nil {
		return
	}
	for y := dst.Rect.Min.Y; y < dst.Rect.Max.Y; y++ {
		l.apply(dst.Pix[dst.PixOffset(dst.Rect.Min.X, y):][:4*dst.Rect.Dx()])
	}
}
