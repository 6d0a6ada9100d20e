package lattice

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	_ "image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"

	"legwright/assets/demo"
)

// base is a sheet whose printed grid has been painted out, and where its map
// ends.
type base struct {
	m      *image.RGBA
	inside image.Rectangle
}

// demoBase is the demo sheet without its grid, whose lines stand every 400
// pixels from (400, 300).
var demoBase = sync.OnceValue(func() base {
	m, _, err := image.Decode(bytes.NewReader(demo.Sheet()))
	if err != nil {
		panic(err)
	}
	b := base{toRGBA(m), image.Rect(410, 310, 5590, 3490)}
	for x := 400; x <= 5600; x += 400 {
		paintOut(b.m, x, true)
	}
	for y := 300; y <= 3500; y += 400 {
		paintOut(b.m, y, false)
	}
	return b
})

// refBase is the made reference sheet without its grid, or nil where the
// reference folder is not there.
var refBase = sync.OnceValue(func() *base {
	dir := os.Getenv("LEGWRIGHT_REFERENCE")
	f, err := os.Open(filepath.Join(dir, "rasters", "made_sheet_A_utm19n.png"))
	if dir == "" || err != nil {
		return nil
	}
	defer f.Close()
	m, _, err := image.Decode(f)
	if err != nil {
		return nil
	}
	b := base{toRGBA(m), image.Rect(150, 150, 1730, 1330)}
	for k := 140; k <= 1740; k += 200 {
		paintOut(b.m, k, true)
		paintOut(b.m, k, false)
	}
	return &b
})

func toRGBA(m image.Image) *image.RGBA {
	out := image.NewRGBA(image.Rectangle{Max: m.Bounds().Size()})
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			out.Set(x, y, m.At(m.Bounds().Min.X+x, m.Bounds().Min.Y+y))
		}
	}
	return out
}

// paintOut replaces the pixels of a printed line by a blend of what stands on
// its two sides.
func paintOut(m *image.RGBA, at int, upright bool) {
	const half = 5
	n := m.Rect.Dx()
	if upright {
		n = m.Rect.Dy()
	}
	pos := func(i, k int) (int, int) {
		if upright {
			return k, i
		}
		return i, k
	}
	for i := range n {
		x, y := pos(i, at-half)
		a := m.RGBAAt(x, y)
		x, y = pos(i, at+half)
		b := m.RGBAAt(x, y)
		for k := at - half + 1; k < at+half; k++ {
			t := float64(k-at+half) / (2 * half)
			mix := func(p, q uint8) uint8 { return uint8(float64(p)*(1-t) + float64(q)*t) }
			x, y = pos(i, k)
			m.SetRGBA(x, y, color.RGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 255})
		}
	}
}

// recipe is how a picture is made. Sheet pixels are those of a drawing before
// it is turned, tilted and warped.
type recipe struct {
	base    base
	w, h    int
	zoom    float64 // base pixels a sheet pixel
	bx, by  float64 // where the sheet's (0, 0) stands on the base
	turn    float64 // radians, clockwise
	tilt    [2]float64
	warp    float64 // amplitude in pixels
	phase   [4]float64
	square  float64 // sheet pixels; 0 for no grid
	gx, gy  float64 // an intersection
	width   float64
	ink     color.RGBA
	opacity float64
	gaps    float64 // share of the line broken
	frame   bool
	noise   float64
	shadow  float64
	quality int
	hard    bool
	seed    uint64
	stretch float64
	tenth   float64 // opacity of lines a tenth of a square apart; 0 for none
	other   []stroke
	cone    cone
	reachTo bool // the grid ends at a frame among the other lines
}

// sheet takes a place of the picture to the sheet.
func (r *recipe) sheet(x, y float64) (float64, float64) {
	w, h := float64(r.w), float64(r.h)
	if r.warp > 0 {
		p, q := alongWave(x/w, r.phase), acrossWave(y/h, r.phase)
		x, y = x+r.warp*q[0]*p[0], y+r.warp*p[1]*q[1]
	}
	s, c := math.Sincos(r.turn)
	return r.flat(x, y, s, c)
}

// flat takes a place of the picture to the sheet but for the warp. s and c are the
// sine and the cosine of the turn.
func (r *recipe) flat(x, y, s, c float64) (float64, float64) {
	w, h := float64(r.w), float64(r.h)
	x, y = x-w/2, y-h/2
	k := 1 + r.tilt[0]*x/w + r.tilt[1]*y/h
	x, y = x/k, y/k
	return c*x + s*y, (c*y - s*x) * r.stretch
}

// alongWave are the two factors of the warp that depend on the column, in widths of
// the picture.
func alongWave(x float64, phase [4]float64) [2]float64 {
	return [2]float64{math.Cos(math.Pi*x*0.8 + phase[1]), math.Sin(2*math.Pi*x*0.8 + phase[2])}
}

// acrossWave are those that depend on the row, in heights of the picture.
func acrossWave(y float64, phase [4]float64) [2]float64 {
	return [2]float64{math.Sin(2*math.Pi*y*0.9 + phase[0]), math.Cos(math.Pi*y*0.9 + phase[3])}
}

// place is the inverse of sheet, by Newton's method.
func (r *recipe) place(u, v float64) (x, y float64) {
	x, y = float64(r.w)/2, float64(r.h)/2
	for range 40 {
		a, b := r.sheet(x, y)
		const e = 0.5
		ax, bx := r.sheet(x+e, y)
		ay, by := r.sheet(x, y+e)
		m00, m10, m01, m11 := (ax-a)/e, (bx-b)/e, (ay-a)/e, (by-b)/e
		det := m00*m11 - m01*m10
		dx, dy := (m11*(u-a)-m01*(v-b))/det, (m00*(v-b)-m10*(u-a))/det
		x, y = x+dx, y+dy
		if math.Hypot(dx, dy) < 1e-6 {
			break
		}
	}
	return x, y
}

func inks() []color.RGBA {
	return []color.RGBA{
		{40, 70, 170, 255},
		{20, 20, 20, 255},
		{130, 130, 130, 255},
		{200, 30, 140, 255},
		{0, 160, 220, 255},
		{90, 120, 190, 255},
	}
}

// newRecipe draws the lots for a picture.
func newRecipe(seed uint64, hard bool) recipe {
	rnd := rand.New(rand.NewPCG(seed, 7))
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*rnd.Float64() }
	r := recipe{base: demoBase(), seed: seed, hard: hard, stretch: 1, quality: 92}
	if b := refBase(); b != nil && seed%3 == 2 {
		r.base = *b
	}
	side := in(1000, 2600)
	r.w, r.h = int(side*in(0.9, 1.4)), int(side)
	r.square = math.Exp(in(math.Log(60), math.Log(min(2000, side/2.6))))
	if seed%12 == 5 {
		r.w, r.h, r.square = 5600, 4400, in(1000, 1650)
	}
	r.turn = in(-15, 15) * math.Pi / 180
	if seed%4 == 0 {
		r.turn = in(-1.5, 1.5) * math.Pi / 180
	}
	r.width = in(1, 4)
	r.ink = inks()[int(seed)%len(inks())]
	r.opacity = in(0.75, 1)
	r.zoom = in(0.8, 1.6)
	if r.base.m.Rect.Dx() < 3000 {
		r.zoom = in(0.5, 0.9)
	}
	diag := math.Hypot(float64(r.w), float64(r.h)) * r.zoom / 2
	ins := r.base.inside
	r.bx = in(float64(ins.Min.X)+min(diag, float64(ins.Dx())/2)*0.8, float64(ins.Max.X)-min(diag, float64(ins.Dx())/2)*0.8)
	r.by = in(float64(ins.Min.Y)+min(diag, float64(ins.Dy())/2)*0.8, float64(ins.Max.Y)-min(diag, float64(ins.Dy())/2)*0.8)
	r.gx, r.gy = in(0, r.square), in(0, r.square)
	r.gaps = in(0, 0.1)
	r.frame = seed%2 == 0
	r.noise = in(0, 3)
	r.stretch = in(0.995, 1.005)
	if hard {
		r.gaps = in(0.05, 0.25)
		r.noise = in(2, 9)
		r.shadow = in(0.1, 0.5)
		r.quality = 40 + rnd.IntN(30)
		r.tilt = [2]float64{in(-0.14, 0.14), in(-0.14, 0.14)}
		r.warp = in(0, 4)
		r.stretch = in(0.98, 1.02)
		for i := range r.phase {
			r.phase[i] = in(0, 6)
		}
	}
	return r
}

// reachOf is how far the printed grid goes from the middle of the sheet.
func (r *recipe) reachOf() (x, y float64) {
	if !r.frame && !r.reachTo {
		return 1e9, 1e9
	}
	return 0.42 * float64(r.w), 0.42 * float64(r.h)
}

// draw makes the picture.
func (r *recipe) draw() image.Image {
	out := image.NewRGBA(image.Rect(0, 0, r.w, r.h))
	columns := r.columns()
	twice(func(part, parts int) {
		rnd := rand.New(rand.NewPCG(r.seed, uint64(part)))
		for y := part; y < r.h; y += parts {
			r.drawRow(out.Pix[y*out.Stride:], columns, float64(y)+0.5, rnd)
		}
	})
	var b bytes.Buffer
	if err := jpeg.Encode(&b, out, &jpeg.Options{Quality: r.quality}); err != nil {
		panic(err)
	}
	m, err := jpeg.Decode(&b)
	if err != nil {
		panic(err)
	}
	return m
}

// column is what the pixels of a column share, worked out once: sines are most of
// the time that a picture takes.
type column struct {
	wave     [2]float64
	sin, cos float64 // of the shadow
}

func (r *recipe) columns() []column {
	out := make([]column, r.w)
	for x := range out {
		at := (float64(x) + 0.5) / float64(r.w)
		c := column{wave: alongWave(at, r.phase)}
		c.sin, c.cos = math.Sincos(2.2 * at)
		out[x] = c
	}
	return out
}

// drawRow draws the pixels of the row whose middle is at y.
func (r *recipe) drawRow(pix []uint8, columns []column, y float64, rnd *rand.Rand) {
	wave := acrossWave(y/float64(r.h), r.phase)
	turnSin, turnCos := math.Sincos(r.turn)
	shadeSin, shadeCos := math.Sincos(1.7*y/float64(r.h) + r.phase[0])
	for x, k := range columns {
		fx := float64(x) + 0.5
		u, v := r.flat(fx+r.warp*wave[0]*k.wave[0], y+r.warp*k.wave[1]*wave[1], turnSin, turnCos)
		c := r.inked(u, v)
		lit, n := 1-r.shadow*(0.5+0.5*(k.sin*shadeCos+k.cos*shadeSin)), r.noise*rnd.NormFloat64()
		for i := range c {
			pix[4*x+i] = byteOf(c[i]*lit + n)
		}
		pix[4*x+3] = 255
	}
}

// inked is the sheet's colour at a place, with all that is printed there.
func (r *recipe) inked(u, v float64) [3]float64 {
	rx, ry := r.reachOf()
	c := r.ground(u, v)
	within := math.Abs(u) < rx && math.Abs(v) < ry
	if within && r.square > 0 {
		r.print(&c, u, v)
	}
	if k := r.cone; within && k.pole > 0 {
		blend(&c, r.ink, cover(k.off(u, v), r.width)*r.opacity)
	}
	for i := range r.other {
		if s := &r.other[i]; s.near(u, v) {
			blend(&c, s.ink, cover(s.off(u, v), s.width))
		}
	}
	if r.frame && math.Abs(u) < rx+3 && math.Abs(v) < ry+3 {
		d := min(math.Abs(math.Abs(u)-rx), math.Abs(math.Abs(v)-ry))
		blend(&c, color.RGBA{20, 20, 20, 255}, cover(d, 3))
	}
	return c
}

func byteOf(v float64) uint8 { return uint8(min(max(v+0.5, 0), 255)) }

// cover is how much of a pixel at distance d a line of the width covers.
func cover(d, width float64) float64 { return min(max(width/2+0.5-d, 0), min(1, width)) }

func blend(c *[3]float64, ink color.RGBA, a float64) {
	if a <= 0 {
		return
	}
	for i, v := range [3]uint8{ink.R, ink.G, ink.B} {
		c[i] = c[i]*(1-a) + float64(v)*a
	}
}

// print puts the grid's ink where a line covers the place.
func (r *recipe) print(c *[3]float64, u, v float64) {
	if r.tenth > 0 {
		d := min(math.Abs(rest(u-r.gx, r.square/10)), math.Abs(rest(v-r.gy, r.square/10)))
		blend(c, r.ink, cover(d, min(r.width, 1.2))*r.tenth)
	}
	if a := cover(math.Abs(rest(u-r.gx, r.square)), r.width); a > 0 && !r.broken(math.Round((u-r.gx)/r.square), v) {
		blend(c, r.ink, a*r.opacity)
	}
	if a := cover(math.Abs(rest(v-r.gy, r.square)), r.width); a > 0 && !r.broken(1000+math.Round((v-r.gy)/r.square), u) {
		blend(c, r.ink, a*r.opacity)
	}
}

// rest is how far v is from the nearest multiple of the step: math.Remainder is exact
// and takes ten times as long.
func rest(v, step float64) float64 { return v - step*math.RoundToEven(v/step) }

// broken says whether a symbol hides the line there: in pieces of 40 pixels.
func (r *recipe) broken(line, along float64) bool {
	h := uint64(int64(line))*0x9e3779b97f4a7c15 ^ uint64(int64(math.Floor(along/40)))*0xbf58476d1ce4e5b9 ^ r.seed
	h ^= h >> 31
	h *= 0x94d049bb133111eb
	h ^= h >> 29
	return float64(h>>11)/(1<<53) < r.gaps
}

// ground is the base's colour under a place of the sheet.
func (r *recipe) ground(u, v float64) (c [3]float64) {
	x, y := r.bx+u*r.zoom-0.5, r.by+v*r.zoom-0.5
	b := r.base.m
	i, j := int(math.Floor(x)), int(math.Floor(y))
	if i < 0 || j < 0 || i+1 >= b.Rect.Dx() || j+1 >= b.Rect.Dy() {
		return [3]float64{248, 245, 236}
	}
	s, t := x-float64(i), y-float64(j)
	p, q := b.Pix[b.PixOffset(i, j):], b.Pix[b.PixOffset(i, j+1):]
	for k := range c {
		c[k] = (float64(p[k])*(1-s)+float64(p[4+k])*s)*(1-t) + (float64(q[k])*(1-s)+float64(q[4+k])*s)*t
	}
	return c
}
