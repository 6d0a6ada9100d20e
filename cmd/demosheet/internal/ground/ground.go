package ground

import "math"

// Ground is the invented country, ready to be drawn. Points are metres east and
// north of the south-west corner of the neat line.
type Ground struct {
	Height  *Field // hollows filled; land above 0
	Crag    *Field // above 0 where rock is steeper than a walker can go
	Lakes   []Lake
	Streams []Stream
	Shore   []Line
	Off     *Field // metres from the coast: positive at sea, negative on land
}

// Build makes the ground. It takes some seconds and always gives the same result.
func Build() *Ground {
	raw := relief()
	water := route(raw, 0)
	g := &Ground{Height: &Field{W: raw.W, H: raw.H, Cell: raw.Cell, Z: water.filled}}
	g.Lakes = lakes(raw, water)
	g.Streams = streams(raw, water, g.Lakes, 90000)
	g.Shore = g.Height.Contours(0)
	g.Crag = crags(g.Height)
	g.Off = offshore(g.Height)
	return g
}

// Wet reports whether p lies in a lake or in the sea.
func (g *Ground) Wet(p Point) bool {
	if g.Height.At(p) <= 0 {
		return true
	}
	k := g.Height.Nearest(p)
	for i := range g.Lakes {
		if g.Lakes[i].wet[k] {
			return true
		}
	}
	return false
}

// crags marks the samples steeper than 42° that hang together in patches worth
// drawing; the value is the slope in degrees above that.
func crags(f *Field) *Field {
	const steepDeg, leastCells = 42, 10
	out := NewField(f.W, f.H, f.Cell)
	for k, z := range f.Z {
		if s := f.Slope(f.Node(k)); z > 2 && s > steepDeg {
			out.Z[k] = s - steepDeg
		}
	}
	seen := make([]bool, len(f.Z))
	for k := range out.Z {
		if seen[k] || out.Z[k] <= 0 {
			continue
		}
		patch := []int{k}
		seen[k] = true
		for n := 0; n < len(patch); n++ {
			f.around(patch[n], func(m int) {
				if !seen[m] && out.Z[m] > 0 {
					seen[m] = true
					patch = append(patch, m)
				}
			})
		}
		if len(patch) < leastCells {
			for _, m := range patch {
				out.Z[m] = 0
			}
		}
	}
	return out
}

// offshore measures the distance to the coast by two sweeps of a chamfer mask
// (5-7-11 weights; Borgefors 1986), good to about 2 %.
func offshore(f *Field) *Field {
	sea := sweep(f, func(z float64) bool { return z > 0 })
	land := sweep(f, func(z float64) bool { return z <= 0 })
	for k := range sea.Z {
		sea.Z[k] -= land.Z[k]
	}
	sea.Blur(12)
	return sea
}

func sweep(f *Field, zero func(z float64) bool) *Field {
	d := NewField(f.W, f.H, f.Cell)
	for k, z := range f.Z {
		if !zero(z) {
			d.Z[k] = math.Inf(1)
		}
	}
	type move struct{ di, dj int }
	moves := [...]move{{-1, 0}, {0, -1}, {-1, -1}, {1, -1}, {-2, -1}, {-1, -2}, {1, -2}, {2, -1}}
	pass := func(k, sign int) {
		i, j := k%f.W, k/f.W
		for _, m := range moves {
			a, b := i+sign*m.di, j+sign*m.dj
			if a < 0 || b < 0 || a >= f.W || b >= f.H {
				continue
			}
			weight := [...]float64{0, 5, 7, 0, 0, 11}[m.di*m.di+m.dj*m.dj]
			d.Z[k] = math.Min(d.Z[k], d.Z[b*f.W+a]+weight/5*f.Cell)
		}
	}
	for k := range d.Z {
		pass(k, 1)
	}
	for k := len(d.Z) - 1; k >= 0; k-- {
		pass(k, -1)
	}
	return d
}
