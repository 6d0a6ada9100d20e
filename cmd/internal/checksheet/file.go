package checksheet

import "math/rand/v2"

// Lie is something that a file's georeference has wrong.
type Lie string

// Lies lists what a file may have wrong: the names of the grid, the size of its
// pixels, and where it lies.
func Lies() []Lie {
	return []Lie{Lie(Zone), Lie(Hemisphere), Lie(Projection), "× 2", "× 10", "1 km", "300 m"}
}

// Name reports whether the lie is of the grid's name.
func (l Lie) Name() bool { return l == Lie(Zone) || l == Lie(Hemisphere) || l == Lie(Projection) }

// File is a sheet that its file places: no control points but a matrix [a, b, c, d,
// e, f] with E = a·col + b·row + c and N = d·col + e·row + f.
type File struct {
	*Sheet
	Matrix [6]float64
}

// TrueFile draws a scan whose file is right.
func TrueFile(dice *rand.Rand) File {
	s := Make(Recipe{Paper: Flat, Layout: Spread, N: 3}, dice)
	return File{Sheet: s, Matrix: s.matrix()}
}

// MakeFile draws a scan whose file lies.
func MakeFile(l Lie, dice *rand.Rand) File {
	for {
		f := TrueFile(dice)
		if l.Name() {
			if _, ok := f.Put(SlipKind(l)); ok {
				return f
			}
			continue
		}
		f.bend(l)
		return f
	}
}

func (s *Sheet) matrix() [6]float64 {
	const far = 1000
	o, x, y := s.Truth.Grid(Pt{}), s.Truth.Grid(Pt{X: far}), s.Truth.Grid(Pt{Y: far})
	return [6]float64{(x.E - o.E) / far, (y.E - o.E) / far, o.E, (x.N - o.N) / far, (y.N - o.N) / far, o.N}
}

// bend makes pixels too large or too small, seen from the top-left corner or from the
// middle, or shifts the whole.
func (f *File) bend(l Lie) {
	m := &f.Matrix
	times, shift := 1.0, 0.0
	switch l {
	case "× 2":
		times = 2
	case "× 10":
		times = 10
	case "1 km":
		shift = 1000
	default:
		shift = 300
	}
	if f.dice.IntN(2) == 0 {
		times, shift = 1/times, -shift
	}
	var pivot Pt
	if f.dice.IntN(2) == 0 {
		pivot = Pt{Width / 2, Height / 2}
	}
	was := f.at(pivot)
	for _, i := range []int{0, 1, 3, 4} {
		m[i] *= times
	}
	now := f.at(pivot)
	m[2] += was.E - now.E
	m[5] += was.N - now.N
	m[2+3*f.dice.IntN(2)] += shift
}

func (f *File) at(p Pt) Coord {
	m := f.Matrix
	return Coord{m[0]*p.X + m[1]*p.Y + m[2], m[3]*p.X + m[4]*p.Y + m[5]}
}

// Named returns three grid intersections, not in one line, as a person reads their
// figures off the map.
func (f *File) Named() []Evidence {
	var list []Evidence
	for _, p := range f.Points {
		list = append(list, Evidence{Kind: EastNorth, Source: "own-grid", At: p.At, Text: Plain(p.Ref), Ref: p.Ref})
	}
	return list
}
