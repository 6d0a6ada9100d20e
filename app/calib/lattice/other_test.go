package lattice

import (
	"image/color"
	"math"
	"math/rand/v2"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// stroke is a straight line of the sheet that is not a grid line.
type stroke struct {
	x0, y0, x1, y1 float64 // its ends
	width          float64
	ink            color.RGBA
}

// near reports whether the stroke may cover a place: it lies no further from its
// line than its ink.
func (s *stroke) near(x, y float64) bool {
	dx, dy, by := s.x1-s.x0, s.y1-s.y0, s.width+1
	k := (x-s.x0)*dy - (y-s.y0)*dx
	return k*k < by*by*(dx*dx+dy*dy)
}

// off is how far a place lies from the stroke.
func (s *stroke) off(x, y float64) float64 {
	dx, dy := s.x1-s.x0, s.y1-s.y0
	t := ((x-s.x0)*dx + (y-s.y0)*dy) / (dx*dx + dy*dy)
	t = min(max(t, 0), 1)
	return math.Hypot(x-s.x0-t*dx, y-s.y0-t*dy)
}

// cone is the graticule of a conic map: its pole lies far above the sheet.
type cone struct {
	pole     float64 // how far above the middle, sheet pixels; 0 for no graticule
	lat, lon float64 // from line to line at the middle, sheet pixels
	at       [2]float64
}

// off is how far a place lies from a line of latitude or longitude.
func (k cone) off(u, v float64) float64 {
	rho := math.Hypot(u, v+k.pole)
	theta := math.Atan2(u, v+k.pole)
	lat := math.Remainder(rho-k.pole-k.at[0], k.lat)
	lon := math.Remainder(theta*k.pole-k.at[1], k.lon) * rho / k.pole
	return min(math.Abs(lat), math.Abs(lon))
}

// company makes the straight lines of a sheet that are no grid lines.
type company struct {
	*recipe
	rnd *rand.Rand
}

func (k company) in(lo, hi float64) float64 { return lo + (hi-lo)*k.rnd.Float64() }

func dark() color.RGBA { return color.RGBA{25, 25, 25, 255} }

// line puts a straight line on the sheet.
func (k company) line(x0, y0, x1, y1, width float64) {
	k.other = append(k.other, stroke{x0, y0, x1, y1, width, dark()})
}

// frameAt draws a frame so far outside the reach of the grid.
func (k company) frameAt(by, width float64) {
	x, y := 0.42*float64(k.w)+by, 0.42*float64(k.h)+by
	k.line(-x, -y, x, -y, width)
	k.line(x, -y, x, y, width)
	k.line(x, y, -x, y, width)
	k.line(-x, y, -x, -y, width)
}

// framed is a sparse grid in a single or a doubled frame, on half of the sheets
// about where the next line would be.
func (k company) framed() {
	side := math.Min(float64(k.w), float64(k.h))
	k.square = k.in(side/6, side/2.6)
	k.gx, k.gy = k.in(0, k.square), k.in(0, k.square)
	if k.rnd.IntN(2) == 0 {
		k.gx = 0.42*float64(k.w) - k.square*(float64(2*k.rnd.IntN(2))+1+k.in(-0.07, 0.07))
		k.gy = 0.42*float64(k.h) - k.square*(1+k.in(-0.07, 0.07))
	}
	k.frame, k.reachTo = false, true
	k.frameAt(0, k.in(1, 3))
	if k.rnd.IntN(3) > 0 {
		k.frameAt(k.in(8, 60), k.in(1, 5))
	}
}

// frames are two to four frames in each other, without a grid.
func (k company) frames() {
	k.square, k.frame = 0, false
	for n := range 2 + k.rnd.IntN(3) {
		k.frameAt(-float64(n)*k.in(20, 120), k.in(1, 4))
	}
}

// graticule is latitude and longitude alone, on a conic map of a middle
// latitude. Cells that are square to 2.5 % look like a grid's.
func (k company) graticule() {
	k.square, k.frame = 0, true
	side := math.Min(float64(k.w), float64(k.h))
	for {
		phi := k.in(35, 68) * math.Pi / 180
		k.cone.pole = 6_371_000 / math.Tan(phi) / k.in(2, 120) // metres per pixel
		k.cone.lat = math.Exp(k.in(math.Log(80), math.Log(side/3)))
		k.cone.lon = k.cone.lat * math.Cos(phi) * []float64{1, 1, 2, 2, 0.5}[k.rnd.IntN(5)]
		if math.Abs(math.Log(k.cone.lon/k.cone.lat)) > 0.025 && k.cone.lon < side/2.6 {
			break
		}
	}
	k.cone.at = [2]float64{k.in(0, k.cone.lat), k.in(0, k.cone.lon)}
}

// table is a table, a legend or some streets: even, but only here.
func (k company) table() {
	k.square, k.frame = 0, k.rnd.IntN(2) == 0
	x0, y0, step := k.in(-0.35, 0)*float64(k.w), k.in(-0.35, 0)*float64(k.h), k.in(60, 140)
	n, m := 3+k.rnd.IntN(4), 3+k.rnd.IntN(4)
	for i := range n {
		x := x0 + float64(i)*step*k.in(0.98, 1.02)
		k.line(x, y0, x, y0+float64(m-1)*step, k.in(1, 3))
	}
	for j := range m {
		y := y0 + float64(j)*step*k.in(0.98, 1.02)
		k.line(x0, y, x0+float64(n-1)*step, y, k.in(1, 3))
	}
}

// linework is straight lines all over, about parallel, without a grid.
func (k company) linework() {
	k.square = 0
	w, h := float64(k.w), float64(k.h)
	for range 6 + k.rnd.IntN(8) {
		x, y := k.in(-0.4, 0.4)*w, k.in(-0.4, 0.4)*h
		k.line(x, -0.45*h, x+k.in(-5, 5), 0.45*h, k.in(1, 3))
		k.line(-0.45*w, y, 0.45*w, y+k.in(-5, 5), k.in(1, 3))
	}
}

// among is a grid with straight lines near its own and between them.
func (k company) among() {
	w, h := float64(k.w), float64(k.h)
	k.square = k.in(100, math.Min(w, h)/3)
	k.gx, k.gy = k.in(0, k.square), k.in(0, k.square)
	near := func(g, side float64) float64 {
		sign := float64(2*k.rnd.IntN(2) - 1)
		return g + math.Round(k.in(-0.4, 0.4)*side/k.square)*k.square + sign*k.in(3, 0.3*k.square)
	}
	for range 2 + k.rnd.IntN(5) {
		x, y := near(k.gx, w), near(k.gy, h)
		a, b := k.in(-0.5, 0.2), k.in(0.3, 0.5)
		k.line(x, a*h, x, (a+b)*h, k.in(1.5, 5))
		k.line(a*w, y, (a+b)*w, y, k.in(1.5, 5))
	}
}

// otherLines makes a sheet whose grid, if it has one, is not its only straight
// lines, and says what the others are.
func otherLines(seed uint64) (recipe, string) {
	r := newRecipe(seed, seed%2 == 1)
	if r.hard {
		r.stretch, r.warp = 1, min(r.warp, 2)
	}
	k := company{&r, rand.New(rand.NewPCG(seed, 77))}
	kinds := []struct {
		name string
		make func()
	}{
		{"frame and grid", k.framed},
		{"frames", k.frames},
		{"graticule", k.graticule},
		{"table", k.table},
		{"linework", k.linework},
		{"linework and grid", k.among},
	}
	kind := kinds[seed/2%6]
	kind.make()
	return r, kind.name
}

// named makes the lattice's intersections control points as somebody does who is
// right about the first.
func (r *recipe) named(l *Lattice) ([]calib.ControlPoint, error) {
	c := l.Intersections[0]
	n := Naming{Names: []Name{{At: calib.PicturePt{Col: c.Col, Row: c.Row}}}, SquareM: 1000}
	if r.hard {
		n.Medium = calib.Photograph
	}
	if r.square > 0 {
		u, v := r.sheet(c.Col, c.Row)
		n.Names[0].Ref = geodesy.Grid{E: 1000 * math.Round((u-r.gx)/r.square), N: -1000 * math.Round((v-r.gy)/r.square)}
	}
	return l.Named(n)
}
