package alike

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
)

// print is one print of the invented ground: metres per pixel, ink and noise.
type print struct {
	mpp        float64
	ink, paper float64 // grey levels
	noise      float64 // grey levels
}

func randomPrint(rng *rand.Rand) print {
	return print{
		mpp: 4 + 4*rng.Float64(), ink: 40 + 50*rng.Float64(), paper: 225 + 30*rng.Float64(), noise: 2 + 5*rng.Float64(),
	}
}

// samples along each side are what a pixel is the mean of.
const samples = 2

// cut draws side pixels of mpp metres around a place, turned by turn and by what the fit
// that matches the prints is out by: a fifth of a degree and 0.3 %.
func (p print) cut(rng *rand.Rand, side int, mpp, turn, e, n float64) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, side, side))
	sin, cos := math.Sincos(turn + 0.2*math.Pi/180*rng.NormFloat64())
	step := mpp * (1 + 0.003*rng.NormFloat64())
	for y := range side {
		for x := range side {
			sum := 0.0
			for k := range samples * samples {
				u := float64(x) + (float64(k%samples)+0.5)/float64(samples) - float64(side)/2
				v := float64(y) + (float64(k/samples)+0.5)/float64(samples) - float64(side)/2
				sum += ground(e+step*(u*cos-v*sin), n-step*(u*sin+v*cos))
			}
			g := p.paper + (p.ink-p.paper)*sum/float64(samples*samples) + p.noise*rng.NormFloat64()
			g = math.Max(0, math.Min(255, g))
			img.SetRGBA(x, y, color.RGBA{uint8(g), uint8(g), uint8(g), 255})
		}
	}
	return img
}

// ground is how dark the map is at a place, 0 to 1: contours of 10 m, woods, streams
// and tracks as lines of noise, scattered signs, and grid lines of 1 km.
func ground(e, n float64) float64 {
	dark := 0.0
	if math.Abs(math.Remainder(e, 1000)) < 4 || math.Abs(math.Remainder(n, 1000)) < 4 {
		return 0.8
	}
	h := 220*noise(e/900, n/900, 1) + 60*noise(e/260, n/260, 2)
	slope := math.Hypot(220*(noise((e+5)/900, n/900, 1)-noise((e-5)/900, n/900, 1))+60*(noise((e+5)/260, n/260, 2)-noise((e-5)/260, n/260, 2)),
		220*(noise(e/900, (n+5)/900, 1)-noise(e/900, (n-5)/900, 1))+60*(noise(e/260, (n+5)/260, 2)-noise(e/260, (n-5)/260, 2))) / 10
	if math.Abs(math.Remainder(h, 10)) < 3*slope+0.02 {
		dark = 0.5
	}
	if noise(e/400, n/400, 3) > 0.62 {
		dark = math.Max(dark, 0.18)
	}
	if math.Abs(noise(e/700, n/700, 4)-0.5) < 0.006 {
		dark = 0.7
	}
	if noise(e/12, n/12, 5) > 0.93 {
		dark = 0.9
	}
	return dark
}

// noise is smooth, between 0 and 1, with a period of one.
func noise(x, y float64, seed uint64) float64 {
	x0, y0 := math.Floor(x), math.Floor(y)
	u, v := x-x0, y-y0
	u, v = u*u*(3-2*u), v*v*(3-2*v)
	at := func(i, j float64) float64 {
		z := uint64(int64(i))*0x9e3779b97f4a7c15 ^ uint64(int64(j))*0xc2b2ae3d27d4eb4f ^ seed*0x165667b19e3779f9
		z ^= z >> 31
		z *= 0xbf58476d1ce4e5b9
		z ^= z >> 29
		z *= 0x94d049bb133111eb
		z ^= z >> 32
		return float64(z>>11) / (1 << 53)
	}
	return (at(x0, y0)*(1-u)+at(x0+1, y0)*u)*(1-v) + (at(x0, y0+1)*(1-u)+at(x0+1, y0+1)*u)*v
}
