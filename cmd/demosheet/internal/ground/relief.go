package ground

import "math"

// Size of the field: it covers the sheet's neat line.
const (
	WidthM  = 13000.0
	HeightM = 8000.0
	fineM   = 10.0
	coarseM = 20.0
	summitM = 487.0
)

// relief returns the heights of the ground every 10 m: land above 0, sea bed below.
func relief() *Field {
	coarse := NewField(int(WidthM/coarseM)+1, int(HeightM/coarseM)+1, coarseM)
	d := make([]float64, len(coarse.Z))
	for k := range d {
		d[k] = shore(coarse.Node(k))
	}
	erode(coarse, d)
	z := coarse.Refine(int(coarseM / fineM))
	z.Blur(15)
	rough := &Field{W: coarse.W, H: coarse.H, Cell: coarse.Cell, Z: d}
	for k := range z.Z {
		p := z.Node(k)
		s := rough.At(p)
		if math.Abs(s) < 150 {
			s = shore(p)
		}
		if s < 25 {
			sea := math.Max(0.12*s, -60)
			z.Z[k] = sea + (z.Z[k]-sea)*smooth(-25, 25, s)
		}
	}
	dress(z)
	return z
}

// erode lets rivers cut the rising land until it is close to balance (stream
// power law dh/dt = U − K·A^m·S; implicit scheme of Braun and Willett 2013), then
// scales the result to the height of the highest summit.
func erode(f *Field, shoreM []float64) {
	const m, stepK, rounds = 0.48, 0.8, 48
	up := make([]float64, len(f.Z))
	for k := range up {
		p := f.Node(k)
		up[k] = uplift(p, shoreM[k])
		if shoreM[k] > 0 {
			f.Z[k] = 0.02 * up[k] * shoreM[k] * (1 + 0.9*Noise(p, 700, 4, 71))
		} else {
			f.Z[k] = -1
		}
	}
	for range rounds {
		w := route(f, 0.38)
		for _, k := range w.order {
			r := w.receiver[k]
			if r == k {
				continue
			}
			cut := stepK * math.Pow(w.area[k]/4000+3, m) * f.Cell / w.reach[k]
			f.Z[k] = math.Max((w.filled[k]*0.2+f.Z[k]*0.8+up[k]*8+cut*math.Max(f.Z[r], 0))/(1+cut), 0.01)
		}
		creep(f, 0.17)
	}
	f.raiseTo(summitM)
	slump(f, 31)
	f.raiseTo(summitM)
}

// raiseTo scales the heights so that the highest is topM metres.
func (f *Field) raiseTo(topM float64) {
	top := 0.0
	for _, z := range f.Z {
		top = math.Max(top, z)
	}
	for k := range f.Z {
		f.Z[k] *= topM / top
	}
}

// slump lowers the ground where it is steeper than its angle of rest.
func slump(f *Field, restDeg float64) {
	rest := math.Tan(restDeg * math.Pi / 180)
	w := route(f, 0)
	for _, k := range w.order {
		if r := w.receiver[k]; r != k {
			f.Z[k] = math.Min(f.Z[k], math.Max(f.Z[r], 0)+rest*w.reach[k])
		}
	}
}

// creep rounds the land a little: one explicit step of diffusion.
func creep(f *Field, rate float64) {
	old := append([]float64(nil), f.Z...)
	for j := 1; j < f.H-1; j++ {
		for i := 1; i < f.W-1; i++ {
			k := j*f.W + i
			if old[k] <= 0 {
				continue
			}
			sum := math.Max(old[k-1], 0) + math.Max(old[k+1], 0) + math.Max(old[k-f.W], 0) + math.Max(old[k+f.W], 0)
			f.Z[k] += rate * (sum - 4*old[k])
		}
	}
}

// tarn is a bowl scooped by ice: level ground of radius R metres with a hollow in
// it, Stretch times as long in the direction Turn (radians from east, anticlockwise).
type tarn struct {
	At      Point
	R       float64
	Stretch float64
	Turn    float64
}

// far returns the distance of p from the middle of the bowl in metres, measured as if the bowl were round.
func (b tarn) far(p Point) float64 {
	s, c := math.Sincos(b.Turn)
	u := (p.X-b.At.X)*c + (p.Y-b.At.Y)*s
	v := (p.Y-b.At.Y)*c - (p.X-b.At.X)*s
	d := math.Hypot(u/b.Stretch, v*math.Sqrt(b.Stretch))
	return d * (1 + 0.75*Noise(p, 2.6*b.R, 3, 83))
}

// face is a place where hard rock stands out in steps.
type face struct {
	A, B  Point
	Reach float64
}

func tarns() []tarn {
	return []tarn{
		{Point{5330, 3960}, 130, 1.3, 0.6},
		{Point{5930, 3480}, 190, 1.6, -0.9},
		{Point{4620, 5060}, 115, 1.2, 0.9},
		{Point{2600, 4480}, 105, 1.4, 1.2},
		{Point{3060, 5560}, 85, 1.3, 0.5},
		{Point{7560, 3560}, 95, 1.5, 1.2},
		{Point{8260, 3380}, 85, 1.3, 2.3},
		{Point{8480, 3580}, 55, 1.5, 0.2},
		{Point{6880, 5850}, 70, 1.4, 1.5},
		{Point{11420, 5420}, 95, 1.5, 0.8},
	}
}

func faces() []face {
	return []face{
		{Point{4050, 5050}, Point{4750, 4700}, 330},
		{Point{4950, 4250}, Point{5700, 4150}, 330},
		{Point{5800, 4250}, Point{6020, 4520}, 260},
		{Point{3250, 4850}, Point{3650, 4900}, 260},
		{Point{1750, 4300}, Point{2050, 5700}, 280},
		{Point{4350, 3700}, Point{4300, 3000}, 240},
	}
}

// dress adds what water does not make: rock steps, bowls, and a fine roughness.
func dress(f *Field) {
	level := make([]float64, len(tarns()))
	for i, b := range tarns() {
		level[i] = math.Max(f.lowestRound(b)+3, 9)
	}
	for k, z := range f.Z {
		if z <= 0 {
			continue
		}
		p := f.Node(k)
		z += smooth(0, 40, z) * (3.2*Noise(p, 190, 3, 81) + 1.1*Noise(p, 60, 2, 82))
		z = math.Max(stepped(p, z), 0.3*smooth(0, 1, z))
		for i, b := range tarns() {
			if p.Dist(b.At) > 12*b.R {
				continue
			}
			d := b.far(p)
			if d > 3*b.R {
				continue
			}
			z += (level[i] - z) * smooth(2.9*b.R, 1.15*b.R, d)
			z -= 5 * smooth(1.15*b.R, 0.8*b.R, d)
		}
		f.Z[k] = z
	}
}

// lowestRound returns the least height on a ring round the bowl, where its water will find a way out.
func (f *Field) lowestRound(b tarn) float64 {
	low := math.Inf(1)
	for i := range 48 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 48)
		low = math.Min(low, f.At(Point{b.At.X + 1.7*b.R*c, b.At.Y + 1.7*b.R*s}))
	}
	return low
}

// stepped turns even slopes near the faces into benches and bands of rock.
func stepped(p Point, z float64) float64 {
	weight := 0.0
	for _, c := range faces() {
		_, d := nearestOn(c.A, c.B, p)
		weight = math.Max(weight, smooth(c.Reach, 0.4*c.Reach, d))
	}
	weight *= smooth(-0.2, 0.3, Noise(p, 260, 3, 91)) * smooth(4, 24, z)
	if weight <= 0 {
		return z
	}
	const rise = 43.0
	shift := 90 * Noise(p, 520, 3, 92)
	t := (z + shift) / rise
	base := math.Floor(t)
	return z + 0.8*weight*(rise*(base+smooth(0.2, 0.8, t-base))-shift-z)
}
