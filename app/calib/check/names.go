package check

import (
	"math"

	"legwright/app/calib"
	"legwright/app/calib/slips"
	"legwright/app/geodesy"
)

const (
	// farM stands for ground that has no position on the grid of a wrong name.
	farM = 1e6
	// projectionM is the least by which a wrong projection moves ground; zones and
	// datums apart, it is much more (our own bound).
	projectionM = 3000
)

// names are the slips of the grid's name: only evidence that speaks of the name is
// moved by them. A file may name another projection besides.
func (c *held) names() []slips.Family {
	var out []slips.Family
	for _, n := range c.t.Names {
		out = append(out, c.named(n.Words, func(g geodesy.Grid) (float64, float64) {
			on, ok := n.On(g)
			if !ok || !on.IsFinite() {
				return farM, farM
			}
			return g.E - on.E, g.N - on.N
		}))
	}
	if c.s.ByFile {
		out = append(out,
			c.named("the file names another projection", func(geodesy.Grid) (float64, float64) { return projectionM, 0 }),
			c.named("the file names another projection", func(geodesy.Grid) (float64, float64) { return 0, projectionM }))
	}
	return out
}

func (c *held) named(words string, off func(geodesy.Grid) (east, north float64)) slips.Family {
	f := slips.Family{
		Kind: slips.OfName, Sizes: []float64{1}, Words: func(float64) string { return words },
		Moves: func(calib.PicturePt) float64 { return math.Inf(1) },
	}
	for k, r := range c.rows {
		if r.named && r.SquareM == 0 {
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

// files are the slips of a file: its pixels two or ten times as large or small, or
// turned, from a corner or from the middle, and a shift of 1 km or 300 m.
func (c *held) files() []slips.Family {
	var out []slips.Family
	w, h := float64(c.s.Width), float64(c.s.Height)
	pivots := []calib.PicturePt{{}, {Col: w}, {Row: h}, {Col: w, Row: h}, {Col: w / 2, Row: h / 2}}
	for _, times := range []float64{2, 0.5, 10, 0.1} {
		for _, p := range pivots {
			words := "the file's pixels are " + timesWords(times)
			out = append(out, c.filed(words, c.scaled(p, times)))
		}
	}
	middle := c.s.Fit.ToGrid(pivots[len(pivots)-1])
	for _, turn := range [][4]float64{{0, 1, -1, 0}, {0, -1, 1, 0}, {-1, 0, 0, -1}, {-1, 0, 0, 1}, {1, 0, 0, -1}} {
		out = append(out, c.filed("the file's picture is turned or mirrored", func(g geodesy.Grid) (float64, float64) {
			e, n := g.E-middle.E, g.N-middle.N
			return turn[0]*e + turn[1]*n - e, turn[2]*e + turn[3]*n - n
		}))
	}
	for _, m := range []float64{kilometreM, datumM} {
		for _, d := range [][2]float64{{m, 0}, {0, m}} {
			out = append(out, c.filed("the file lies "+slips.Grouped(m)+" m out", func(geodesy.Grid) (float64, float64) { return d[0], d[1] }))
		}
	}
	return out
}

func timesWords(times float64) string {
	return map[float64]string{2: "twice as large as they are", 0.5: "half as large as they are", 10: "ten times as large as they are", 0.1: "a tenth as large as they are"}[times]
}

// scaled is by how much ground lies elsewhere than the file says if its pixels are
// so many times too large, seen from a pivot.
func (c *held) scaled(pivot calib.PicturePt, times float64) func(geodesy.Grid) (float64, float64) {
	p := c.s.Fit.ToGrid(pivot)
	return func(g geodesy.Grid) (float64, float64) {
		return (g.E - p.E) * (1/times - 1), (g.N - p.N) * (1/times - 1)
	}
}

// filed is a family of what a file has wrong: off is how far ground that the file
// puts somewhere lies from there.
func (c *held) filed(words string, off func(geodesy.Grid) (east, north float64)) slips.Family {
	f := slips.Family{
		Kind: slips.OfFile, Sizes: []float64{1}, Words: func(float64) string { return words },
		Moves: func(at calib.PicturePt) float64 { return math.Hypot(off(c.s.Fit.ToGrid(at))) },
	}
	for k, r := range c.rows {
		if r.SquareM == 0 {
			e, n := off(c.s.Fit.ToGrid(r.At))
			f.Unit = append(f.Unit, calib.Shift{I: c.behind(k), East: e, North: n})
		}
	}
	return f
}
