package ground

import "math"

// capsule is a thick stroke from A to B whose radius runs from RA to RB metres.
type capsule struct {
	A, B   Point
	RA, RB float64
}

// inside returns how far p lies within the capsule in metres, negative outside.
func (c capsule) inside(p Point) float64 {
	t, d := nearestOn(c.A, c.B, p)
	return c.RA + t*(c.RB-c.RA) - d
}

func nearestOn(a, b, p Point) (t, d float64) {
	dx, dy := b.X-a.X, b.Y-a.Y
	if l := dx*dx + dy*dy; l > 0 {
		t = clamp(((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l, 0, 1)
	}
	return t, math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy)
}

// land lists the strokes that the islands are built from.
func land() []capsule {
	return []capsule{
		// The main island: a spine from west-north-west to east, a northern head, two southern arms.
		{Point{2700, 4700}, Point{5200, 4300}, 1050, 1500},
		{Point{5200, 4300}, Point{8300, 4100}, 1500, 900},
		{Point{2700, 5000}, Point{2500, 6500}, 800, 350},
		{Point{4700, 3400}, Point{4300, 1900}, 900, 480},
		{Point{8200, 4000}, Point{9000, 2500}, 620, 300},
		{Point{6200, 5000}, Point{7000, 6500}, 800, 380},
		// The eastern island and its tail.
		{Point{11200, 5700}, Point{11900, 6500}, 720, 420},
		{Point{11000, 5100}, Point{11500, 4500}, 420, 200},
		// Islets.
		{Point{1000, 2300}, Point{1500, 2000}, 330, 240},
		{Point{11000, 1500}, Point{11300, 1800}, 360, 250},
		{Point{9300, 6900}, Point{9480, 6980}, 190, 120},
		{Point{6900, 1300}, Point{7040, 1220}, 150, 110},
	}
}

// bays lists the strokes of sea that are cut out of the land.
func bays() []capsule {
	return []capsule{
		{Point{6600, 900}, Point{6450, 2900}, 700, 330},
		{Point{4900, 7300}, Point{4650, 6050}, 700, 260},
		{Point{10100, 3700}, Point{9300, 3800}, 300, 120},
	}
}

// shore returns the signed distance in metres to the coast, roughly: positive on land.
func shore(p Point) float64 {
	const soft = 260.0
	warp := Point{
		p.X + 520*Noise(p, 1500, 3, 11) + 170*Noise(p, 430, 3, 21),
		p.Y + 520*Noise(p, 1500, 3, 12) + 170*Noise(p, 430, 3, 22),
	}
	sum := 0.0
	for _, c := range land() {
		sum += math.Exp(clamp(c.inside(warp)/soft, -60, 30))
	}
	d := soft * math.Log(sum+1e-30)
	for _, c := range bays() {
		if cut := -c.inside(warp); cut < d {
			d = cut
		}
	}
	return math.Max(d, skerry(warp)) + 45*Noise(p, 260, 4, 31)
}

// skerry adds small rocks in a belt off the coasts.
func skerry(p Point) float64 {
	best := -400.0
	for _, c := range [...]capsule{
		{Point{3700, 900}, Point{3760, 850}, 60, 40},
		{Point{1500, 6900}, Point{1560, 6940}, 60, 45},
		{Point{9900, 2300}, Point{10000, 2350}, 70, 40},
		{Point{12500, 4300}, Point{12560, 4240}, 65, 40},
		{Point{8100, 6900}, Point{8130, 6960}, 55, 40},
		{Point{500, 4300}, Point{560, 4350}, 60, 40},
		{Point{7900, 900}, Point{7930, 960}, 50, 50},
	} {
		best = math.Max(best, c.inside(p))
	}
	return best
}

// ridge raises the ground along a line: Rate is the relative uplift, Sigma its reach in metres.
type ridge struct {
	A, B  Point
	Rate  float64
	Sigma float64
}

func ridges() []ridge {
	return []ridge{
		{Point{2500, 4900}, Point{3700, 5150}, 0.85, 520},
		{Point{3700, 5150}, Point{4700, 4500}, 0.95, 480},
		{Point{4700, 4500}, Point{5700, 4300}, 1.20, 560},
		{Point{5700, 4300}, Point{6500, 5300}, 0.75, 460},
		{Point{4700, 4500}, Point{4550, 2900}, 0.70, 430},
		{Point{7300, 4350}, Point{8300, 4100}, 0.55, 560},
		{Point{2600, 5900}, Point{2550, 6400}, 0.40, 360},
		{Point{11200, 5700}, Point{11800, 6300}, 0.50, 420},
		{Point{1100, 2250}, Point{1350, 2150}, 0.35, 260},
		{Point{11100, 1600}, Point{11200, 1700}, 0.25, 260},
	}
}

// glens lists the lines along which the ground rises less, so that the larger valleys have a place.
func glens() []ridge {
	return []ridge{
		{Point{6500, 2900}, Point{5400, 3600}, 0.75, 300},
		{Point{6700, 3500}, Point{6600, 4300}, 0.55, 260},
		{Point{4700, 6000}, Point{5100, 5000}, 0.70, 260},
		{Point{2200, 3600}, Point{3700, 4250}, 0.65, 300},
		{Point{3600, 6200}, Point{3000, 5500}, 0.45, 240},
	}
}

// uplift returns the relative rate at which the ground at p rises; d is its shore distance.
func uplift(p Point, d float64) float64 {
	if d <= 0 {
		return 0
	}
	u := 0.22
	for _, r := range ridges() {
		_, far := nearestOn(r.A, r.B, p)
		u += r.Rate * math.Exp(-far*far/(2*r.Sigma*r.Sigma))
	}
	for _, g := range glens() {
		_, far := nearestOn(g.A, g.B, p)
		u *= 1 - g.Rate*math.Exp(-far*far/(2*g.Sigma*g.Sigma))
	}
	u *= 1 + 0.8*Noise(p, 800, 3, 41)
	weather := clamp((5200-p.X)/5200+0.25*Noise(p, 1500, 2, 51), 0, 1)
	reach := 600 - 440*weather
	return u * (0.16 + 0.84*smooth(0, reach, d))
}
