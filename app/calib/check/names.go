package check

import (
	"math"

	"legwright/app/calib"
	"legwright/app/calib/slips"
	"legwright/app/geodesy"
	"legwright/app/units"
)

const (
	// farM stands for ground that has no position on the grid of a wrong name.
	farM = 1e6
	// projectionM is the least by which a wrong projection moves ground; zones and
	// datums apart, it is much more (our own bound).
	projectionM = 3000
)

// names are the slips of the grid's name: only evidence that speaks of the name is
// moved by them. Where nothing but plain figures was typed, or a file names the grid, it
// may be another one altogether.
func (c *held) names() []slips.Family {
	var out []slips.Family
	zone := func(r row) bool { return r.named }
	for _, n := range c.t.Names {
		out = append(out, c.named(n.Words, zone, func(g geodesy.Grid) (float64, float64) {
			on, ok := n.On(g)
			if !ok || !on.IsFinite() {
				return farM, farM
			}
			return g.E - on.E, g.N - on.N
		}))
	}
	if c.s.ByFile || !c.s.Lettered {
		projection := func(r row) bool { return r.ofGrid }
		out = append(out,
			c.named("the map is on another grid", projection, func(geodesy.Grid) (float64, float64) { return projectionM, 0 }),
			c.named("the map is on another grid", projection, func(geodesy.Grid) (float64, float64) { return 0, projectionM }))
	}
	return out
}

func (c *held) named(words string, speaks func(row) bool, off func(geodesy.Grid) (east, north float64)) slips.Family {
	f := slips.Family{
		Kind: slips.OfName, Sizes: []float64{1}, Words: func(float64) string { return words },
		Off: func(calib.PicturePt) (float64, float64) { return math.Inf(1), 0 },
	}
	for k, r := range c.rows {
		if speaks(r) && r.SquareM == 0 {
			e, n := off(r.point.Ref)
			f.Unit = append(f.Unit, calib.Shift{I: c.behind(k), East: e, North: n})
		}
	}
	return f
}

// What a file may have wrong beside the name of its grid.
const (
	kilometreM = 1000
	datumM     = 300
)

// files are the slips of a file: its pixels two or ten times as large or small, turned or
// mirrored, and a shift of 1 km or 300 m.
func (c *held) files() []slips.Family {
	var out []slips.Family
	for _, p := range c.pivots() {
		for _, times := range []float64{2, 0.5, 10, 0.1} {
			out = append(out, c.filed("the file gives its pixels as "+timesWords(times), scaled(p, times)))
		}
		for _, turn := range [][4]float64{{0, 1, -1, 0}, {0, -1, 1, 0}, {-1, 0, 0, -1}, {-1, 0, 0, 1}, {1, 0, 0, -1}} {
			out = append(out, c.filed("the file's picture is turned or mirrored", turned(p, turn)))
		}
	}
	for _, l := range c.pairs() {
		out = append(out, c.filed("the file's picture is mirrored", turned(l.from, l.mirror())))
	}
	for _, m := range []float64{kilometreM, datumM} {
		for _, d := range [][2]float64{{m, 0}, {0, m}} {
			out = append(out, c.filed("the file's position is "+units.Grouped(m)+" m out", func(geodesy.Grid) (float64, float64) { return d[0], d[1] }))
		}
	}
	return out
}

// mostPivots is how many pieces of evidence a picture may be turned about.
const mostPivots = 4

// pivots are what a file may be scaled or turned about and agree there: the picture's
// corners and middle, and each piece of evidence, so that it takes three not in one
// line to show everything.
func (c *held) pivots() []geodesy.Grid {
	w, h := float64(c.s.Width), float64(c.s.Height)
	var out []geodesy.Grid
	for _, p := range []calib.PicturePt{{}, {Col: w}, {Row: h}, {Col: w, Row: h}, {Col: w / 2, Row: h / 2}} {
		out = append(out, c.s.Fit.ToGrid(p))
	}
	return append(out, c.witnesses()...)
}

// witnesses are where the file puts the first pieces of evidence.
func (c *held) witnesses() []geodesy.Grid {
	var out []geodesy.Grid
	for _, r := range c.rows {
		if r.SquareM == 0 && len(out) < mostPivots {
			out = append(out, c.s.Fit.ToGrid(r.At))
		}
	}
	return out
}

// pair is the line through two pieces of evidence.
type pair struct{ from, to geodesy.Grid }

func (c *held) pairs() []pair {
	var out []pair
	list := c.witnesses()
	for i, a := range list {
		for _, b := range list[:i] {
			if math.Hypot(a.E-b.E, a.N-b.N) > 0 {
				out = append(out, pair{a, b})
			}
		}
	}
	return out
}

// mirror is the reflection in the line, as a matrix by rows.
func (l pair) mirror() [4]float64 {
	e, n := l.to.E-l.from.E, l.to.N-l.from.N
	d := e*e + n*n
	return [4]float64{(e*e - n*n) / d, 2 * e * n / d, 2 * e * n / d, (n*n - e*e) / d}
}

func timesWords(times float64) string {
	return map[float64]string{2: "twice as large as they are", 0.5: "half as large as they are", 10: "ten times as large as they are", 0.1: "a tenth as large as they are"}[times]
}

// scaled is by how much ground lies elsewhere than the file says if its pixels are
// so many times too large, seen from a pivot.
func scaled(p geodesy.Grid, times float64) func(geodesy.Grid) (float64, float64) {
	return func(g geodesy.Grid) (float64, float64) {
		return (g.E - p.E) * (1/times - 1), (g.N - p.N) * (1/times - 1)
	}
}

// turned is the same if the picture is turned or mirrored about a pivot, by a matrix.
func turned(p geodesy.Grid, m [4]float64) func(geodesy.Grid) (float64, float64) {
	return func(g geodesy.Grid) (float64, float64) {
		e, n := g.E-p.E, g.N-p.N
		return m[0]*e + m[1]*n - e, m[2]*e + m[3]*n - n
	}
}

// filed is a family of what a file has wrong: off is how far ground that the file
// puts somewhere lies from there.
func (c *held) filed(words string, off func(geodesy.Grid) (east, north float64)) slips.Family {
	f := slips.Family{
		Kind: slips.OfFile, Sizes: []float64{1}, Words: func(float64) string { return words },
		Off: func(at calib.PicturePt) (float64, float64) { return off(c.s.Fit.ToGrid(at)) },
	}
	for k, r := range c.rows {
		if r.SquareM == 0 {
			e, n := off(c.s.Fit.ToGrid(r.At))
			f.Unit = append(f.Unit, calib.Shift{I: c.behind(k), East: e, North: n})
		}
	}
	return f
}
