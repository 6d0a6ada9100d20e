package tiff

import (
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"math"
)

// Samples gives the values of the first sample of each pixel of a window, cut
// to the page, row by row from the top left. What is marked as no data or is
// left out of the file comes as NaN. Values keep the file's unit; 64-bit whole
// numbers beyond 2⁵³ are rounded. Errors as for Decode; palettes and colours in
// JPEG or as YCbCr wrap ErrUnsupported.
func (p *Page) Samples(ctx context.Context, r image.Rectangle) ([]float64, error) {
	if p.problem != nil {
		return nil, p.problem
	}
	if p.photometric == photoYCbCr || p.Paletted {
		return nil, unsupported("its samples are colours, not measured values")
	}
	if p.compression == compJPEG && p.perChunk() > 1 {
		return nil, unsupported("its samples are JPEG colours, not measured values")
	}
	r = r.Intersect(p.Bounds())
	if n := int64(r.Dx()) * int64(r.Dy()); n > MaxSamples {
		return nil, fmt.Errorf("%w: %d × %d samples, but at most %d can be read at a time; ask for smaller windows", ErrTooLarge, r.Dx(), r.Dy(), MaxSamples)
	}
	if err := checkWindow(r, 4*8); err != nil {
		return nil, err
	}
	if err := p.checkClaims(r); err != nil {
		return nil, err
	}
	s := p.newField(r)
	if err := p.run(ctx, r, s, nil); err != nil {
		return nil, err
	}
	return s.values, nil
}

// field takes samples as they are.
type field struct {
	p      *Page
	r      image.Rectangle
	values []float64
	none   float64 // NaN where nothing stands for no data
}

func (p *Page) newField(r image.Rectangle) *field {
	f := &field{p: p, r: r, values: make([]float64, r.Dx()*r.Dy()), none: math.NaN()}
	for i := range f.values {
		f.values[i] = math.NaN()
	}
	if v, ok := p.NoData(); ok {
		f.none = v
		if p.Format == Float && p.BitDepth == 32 { // text with all digits of a double
			f.none = float64(float32(v))
		}
	}
	return f
}

func (f *field) absent() bool { return false }

func (f *field) jpeg(at chunk, m image.Image) {
	g, ok := m.(*image.Gray)
	if !ok || at.plane != 0 {
		return
	}
	for y := max(at.Min.Y, f.r.Min.Y); y < min(at.Max.Y, f.r.Max.Y, at.Min.Y+g.Rect.Dy()); y++ {
		f.row(nil, at, y, g.Pix[(y-at.Min.Y)*g.Stride:][:g.Rect.Dx()])
	}
}

func (f *field) row(_ *scratch, at chunk, y int, row []byte) {
	if at.plane != 0 {
		return
	}
	n, bits := f.p.perChunk(), f.p.BitDepth
	x0, x1 := max(at.Min.X, f.r.Min.X), min(at.Max.X, f.r.Max.X)
	out := f.values[(y-f.r.Min.Y)*f.r.Dx()+x0-f.r.Min.X:]
	for x := x0; x < x1; x++ {
		at := (x - at.Min.X) * n * bits
		if at+bits > 8*len(row) {
			return
		}
		if v := f.p.sample(row, at); v != f.none {
			out[x-x0] = v
		}
	}
}

// sample reads a value at a bit of a row.
func (p *Page) sample(row []byte, at int) float64 {
	order, b := p.d.in.order, row[at/8:]
	switch {
	case p.Format == Float:
		return float(order, b, p.BitDepth)
	case p.BitDepth == 64 && p.Format == Signed:
		return float64(int64(order.Uint64(b)))
	case p.BitDepth == 64:
		return float64(order.Uint64(b))
	}
	var v uint32
	switch p.BitDepth {
	case 16:
		v = uint32(order.Uint16(b))
	case 32:
		v = order.Uint32(b)
	default:
		v = bitsAt(row, at, p.BitDepth)
	}
	if p.Format == Signed {
		free := 32 - p.BitDepth
		return float64(int32(v<<free) >> free)
	}
	return float64(v)
}

// float reads a number of 32 or 64 bits (IEEE 754).
func float(order binary.ByteOrder, b []byte, bits int) float64 {
	if bits == 32 {
		return float64(math.Float32frombits(order.Uint32(b)))
	}
	return math.Float64frombits(order.Uint64(b))
}
