package overlay

import "legwright/canvas/view"

// contour is the lines along which the field has one value: marching squares
// with the middle of a saddle's square deciding (Lorensen and Cline 1987 is the
// same in space; their text was not at hand). Lines that close end where they begin.
func (f field) contour(m float64) [][]view.PicPt {
	next := map[edge][]edge{} // crossed edges that a line joins
	for j := range f.rows - 1 {
		for i := range f.cols - 1 {
			for _, e := range f.square(i, j, m) {
				next[e[0]] = append(next[e[0]], e[1])
				next[e[1]] = append(next[e[1]], e[0])
			}
		}
	}
	var out [][]view.PicPt
	for _, open := range []bool{true, false} { // those that end at the rim first
		for j := range f.rows {
			for i := range f.cols {
				for _, e := range []edge{{i, j, false}, {i, j, true}} {
					if n := len(next[e]); n == 1 || n > 0 && !open {
						out = append(out, f.walk(e, next, m))
					}
				}
			}
		}
	}
	return out
}

// edge joins a knot with the one to its right, or with the one under it.
type edge struct {
	i, j int
	down bool
}

// walk follows a line from an edge and takes what it has walked away.
func (f field) walk(e edge, next map[edge][]edge, m float64) []view.PicPt {
	line := []view.PicPt{f.on(e, m)}
	for len(next[e]) > 0 {
		to := next[e][0]
		drop(next, e, to)
		drop(next, to, e)
		e = to
		line = append(line, f.on(e, m))
	}
	return line
}

func drop(next map[edge][]edge, from, to edge) {
	for i, e := range next[from] {
		if e == to {
			next[from] = append(next[from][:i:i], next[from][i+1:]...)
			return
		}
	}
}

// on is where the value lies on an edge.
func (f field) on(e edge, m float64) view.PicPt {
	a, b := f.at[e.j*f.cols+e.i], 0.0
	p, q := f.knot(e.i, e.j), f.knot(e.i+1, e.j)
	if e.down {
		b, q = f.at[(e.j+1)*f.cols+e.i], f.knot(e.i, e.j+1)
	} else {
		b = f.at[e.j*f.cols+e.i+1]
	}
	t := (m - a) / (b - a)
	return view.PicPt{X: p.X + t*(q.X-p.X), Y: p.Y + t*(q.Y-p.Y)}
}

// square lists the pairs of edges of one square that a line joins.
func (f field) square(i, j int, m float64) [][2]edge {
	a, b := f.at[j*f.cols+i], f.at[j*f.cols+i+1]
	d, c := f.at[(j+1)*f.cols+i], f.at[(j+1)*f.cols+i+1]
	top, left := edge{i, j, false}, edge{i, j, true}
	under, right := edge{i, j + 1, false}, edge{i + 1, j, true}
	var cut []edge
	for _, e := range []struct {
		e    edge
		p, q float64
	}{{top, a, b}, {right, b, c}, {under, d, c}, {left, a, d}} {
		if (e.p < m) != (e.q < m) {
			cut = append(cut, e.e)
		}
	}
	switch {
	case len(cut) == 2:
		return [][2]edge{{cut[0], cut[1]}}
	case len(cut) == 4 && ((a+b+c+d)/4 < m) == (a < m): // a and c are joined in the middle
		return [][2]edge{{top, right}, {under, left}}
	case len(cut) == 4:
		return [][2]edge{{top, left}, {right, under}}
	}
	return nil
}
