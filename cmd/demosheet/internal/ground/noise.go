package ground

import "math"

// hash mixes a lattice position and a seed into 64 well-spread bits (a
// multiply-xorshift finaliser; the constants are common practice).
func hash(x, y int64, seed uint64) uint64 {
	h := uint64(x)*0x9E3779B97F4A7C15 ^ uint64(y)*0xC2B2AE3D27D4EB4F ^ seed*0x165667B19E3779F9
	h ^= h >> 30
	h *= 0xBF58476D1CE4E5B9
	h ^= h >> 27
	h *= 0x94D049BB133111EB
	return h ^ h>>31
}

// Unit returns a number in [0, 1) fixed by position and seed.
func Unit(x, y int64, seed uint64) float64 { return float64(hash(x, y, seed)>>11) / (1 << 53) }

// gradientNoise is lattice gradient noise with unit spacing, about −0.7 to 0.7.
func gradientNoise(x, y float64, seed uint64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int64(fx), int64(fy)
	u, v := x-fx, y-fy
	corner := func(dx, dy int64) float64 {
		a := 2 * math.Pi * Unit(ix+dx, iy+dy, seed)
		return math.Cos(a)*(u-float64(dx)) + math.Sin(a)*(v-float64(dy))
	}
	su, sv := u*u*u*(u*(6*u-15)+10), v*v*v*(v*(6*v-15)+10)
	low := corner(0, 0)*(1-su) + corner(1, 0)*su
	high := corner(0, 1)*(1-su) + corner(1, 1)*su
	return low*(1-sv) + high*sv
}

// Noise sums octaves of gradient noise, the first with the given wavelength in
// metres, each next half as long and half as strong. It lies within about ±1.
func Noise(p Point, waveM float64, octaves int, seed uint64) float64 {
	sum, amp := 0.0, 1.0
	for o := range octaves {
		sum += amp * gradientNoise(p.X/waveM+float64(o)*17.3, p.Y/waveM-float64(o)*9.1, seed+uint64(o))
		amp, waveM = amp/2, waveM/2
	}
	return sum
}
