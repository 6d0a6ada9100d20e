// Package ground makes the invented ground of the demo sheet: a height field
// shaped by running water, and the lines that follow from it (contours, streams,
// lakes, crags, ways on foot). It is not a model of any real place, it reads no
// data, and it draws nothing: package ink does.
//
// Every result depends on the seeds in this package alone.
package ground

import "math"

// Point is a position in metres east and north of the field's south-west node.
type Point struct{ X, Y float64 }

// Dist returns the distance in metres from p to q.
func (p Point) Dist(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// Line is a chain of points; it is closed when its first and last point agree.
type Line []Point

// Closed reports whether the line ends where it starts.
func (l Line) Closed() bool { return len(l) > 3 && l[0] == l[len(l)-1] }

// Length returns the length of the line in metres.
func (l Line) Length() float64 {
	sum := 0.0
	for i := 1; i < len(l); i++ {
		sum += l[i].Dist(l[i-1])
	}
	return sum
}

// Field holds W×H samples, Cell metres apart, row by row from the south-west node.
type Field struct {
	W, H int
	Cell float64
	Z    []float64
}

// NewField returns a field of zeros.
func NewField(w, h int, cell float64) *Field {
	return &Field{W: w, H: h, Cell: cell, Z: make([]float64, w*h)}
}

// At returns the bilinear height in metres at p; outside the field the edge continues.
func (f *Field) At(p Point) float64 {
	x, y := clamp(p.X/f.Cell, 0, float64(f.W-1)), clamp(p.Y/f.Cell, 0, float64(f.H-1))
	i, j := min(int(x), f.W-2), min(int(y), f.H-2)
	u, v := x-float64(i), y-float64(j)
	k := j*f.W + i
	return (f.Z[k]*(1-u)+f.Z[k+1]*u)*(1-v) + (f.Z[k+f.W]*(1-u)+f.Z[k+f.W+1]*u)*v
}

// Grad returns the slope (rise over run) towards east and north at p by central differences.
func (f *Field) Grad(p Point) (gx, gy float64) {
	h := f.Cell
	gx = (f.At(Point{p.X + h, p.Y}) - f.At(Point{p.X - h, p.Y})) / (2 * h)
	gy = (f.At(Point{p.X, p.Y + h}) - f.At(Point{p.X, p.Y - h})) / (2 * h)
	return gx, gy
}

// Slope returns the steepest slope at p in degrees.
func (f *Field) Slope(p Point) float64 {
	gx, gy := f.Grad(p)
	return math.Atan(math.Hypot(gx, gy)) * 180 / math.Pi
}

// Node returns the position of sample k.
func (f *Field) Node(k int) Point {
	return Point{float64(k%f.W) * f.Cell, float64(k/f.W) * f.Cell}
}

// Nearest returns the index of the sample nearest to p.
func (f *Field) Nearest(p Point) int {
	i := int(clamp(math.Round(p.X/f.Cell), 0, float64(f.W-1)))
	j := int(clamp(math.Round(p.Y/f.Cell), 0, float64(f.H-1)))
	return j*f.W + i
}

// Refine returns the field sampled n times as densely by a Catmull-Rom surface.
func (f *Field) Refine(n int) *Field {
	out := NewField((f.W-1)*n+1, (f.H-1)*n+1, f.Cell/float64(n))
	rows := make([]float64, out.W*f.H)
	for j := range f.H {
		for i := range out.W {
			rows[j*out.W+i] = catmull(f.Z[j*f.W:(j+1)*f.W], 1, f.W, i, n)
		}
	}
	for i := range out.W {
		for j := range out.H {
			out.Z[j*out.W+i] = catmull(rows[i:], out.W, f.H, j, n)
		}
	}
	return out
}

func catmull(z []float64, stride, count, at, n int) float64 {
	i, t := at/n, float64(at%n)/float64(n)
	pick := func(k int) float64 { return z[min(max(k, 0), count-1)*stride] }
	if t == 0 {
		return pick(i)
	}
	a, b, c, d := pick(i-1), pick(i), pick(i+1), pick(i+2)
	return b + 0.5*t*(c-a+t*(2*a-5*b+4*c-d+t*(3*(b-c)+d-a)))
}

// Blur smooths the field in place with a Gaussian of the given σ in metres.
func (f *Field) Blur(sigmaM float64) {
	s := sigmaM / f.Cell
	r := int(math.Ceil(3 * s))
	kernel := make([]float64, 2*r+1)
	sum := 0.0
	for k := range kernel {
		kernel[k] = math.Exp(-float64((k-r)*(k-r)) / (2 * s * s))
		sum += kernel[k]
	}
	for k := range kernel {
		kernel[k] /= sum
	}
	tmp := make([]float64, len(f.Z))
	convolve(tmp, f.Z, kernel, f.W, f.H, 1, f.W)
	convolve(f.Z, tmp, kernel, f.H, f.W, f.W, 1)
}

// convolve runs the kernel along lines of n samples spaced step apart; the lines are skip apart.
func convolve(dst, src, kernel []float64, n, lines, step, skip int) {
	r := len(kernel) / 2
	for l := range lines {
		base := l * skip
		for i := range n {
			sum := 0.0
			for k, w := range kernel {
				sum += w * src[base+min(max(i+k-r, 0), n-1)*step]
			}
			dst[base+i*step] = sum
		}
	}
}

func clamp(v, lo, hi float64) float64 { return math.Min(math.Max(v, lo), hi) }

// smooth rises from 0 at v ≤ a to 1 at v ≥ b with level ends.
func smooth(a, b, v float64) float64 {
	t := clamp((v-a)/(b-a), 0, 1)
	return t * t * (3 - 2*t)
}
