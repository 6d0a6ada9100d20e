package ground

import "math"

// Contours returns the lines of equal height at level, with the higher ground on
// their left, by marching squares. A level that meets a sample exactly counts as
// just above it. Lines end at the rim of the field or are closed.
func (f *Field) Contours(level float64) []Line {
	t := tracer{f: f, level: level, next: map[int][]int{}, at: map[int]Point{}}
	for j := range f.H - 1 {
		for i := range f.W - 1 {
			t.cell(i, j)
		}
	}
	return t.chain()
}

// tracer joins the pieces of one level; edges are numbered 2k (to the east of sample k) and 2k+1 (to its north).
type tracer struct {
	f      *Field
	level  float64
	next   map[int][]int // from edge to edge, in order of discovery
	starts []int
	at     map[int]Point
}

func (t *tracer) cell(i, j int) {
	f, k := t.f, j*t.f.W+i
	z := [4]float64{f.Z[k], f.Z[k+1], f.Z[k+f.W+1], f.Z[k+f.W]}
	mask := 0
	for n, v := range z {
		if v > t.level {
			mask |= 1 << n
		}
	}
	if mask == 0 || mask == 15 {
		return
	}
	edges := [4]int{2 * k, 2*(k+1) + 1, 2 * (k + f.W), 2*k + 1} // south, east, north, west
	south, east, north, west := edges[0], edges[1], edges[2], edges[3]
	centre := (z[0]+z[1]+z[2]+z[3])/4 > t.level
	switch mask {
	case 1:
		t.join(south, west)
	case 2:
		t.join(east, south)
	case 3:
		t.join(east, west)
	case 4:
		t.join(north, east)
	case 6:
		t.join(north, south)
	case 7:
		t.join(north, west)
	case 8:
		t.join(west, north)
	case 9:
		t.join(south, north)
	case 11:
		t.join(east, north)
	case 12:
		t.join(west, east)
	case 13:
		t.join(south, east)
	case 14:
		t.join(west, south)
	case 5:
		t.saddle(centre, [4]int{south, east, north, west}, [4]int{south, west, north, east})
	case 10:
		t.saddle(centre, [4]int{west, south, east, north}, [4]int{east, south, west, north})
	}
}

func (t *tracer) saddle(joined bool, yes, no [4]int) {
	s := no
	if joined {
		s = yes
	}
	t.join(s[0], s[1])
	t.join(s[2], s[3])
}

func (t *tracer) join(from, to int) {
	t.locate(from)
	t.locate(to)
	t.next[from] = append(t.next[from], to)
	t.starts = append(t.starts, from)
}

func (t *tracer) locate(edge int) {
	if _, ok := t.at[edge]; ok {
		return
	}
	k, step := edge/2, 1
	if edge%2 == 1 {
		step = t.f.W
	}
	a, b := t.f.Z[k], t.f.Z[k+step]
	u := clamp((t.level-a)/(b-a), 0.001, 0.999)
	p := t.f.Node(k)
	if step == 1 {
		p.X += u * t.f.Cell
	} else {
		p.Y += u * t.f.Cell
	}
	t.at[edge] = p
}

// chain follows the pieces: first the lines that begin at the rim, then the closed ones.
func (t *tracer) chain() []Line {
	entered := map[int]bool{}
	for _, from := range t.starts {
		for _, to := range t.next[from] {
			entered[to] = true
		}
	}
	var out []Line
	for _, rim := range [...]bool{true, false} {
		for _, s := range t.starts {
			if rim && entered[s] || len(t.next[s]) == 0 {
				continue
			}
			out = append(out, t.follow(s))
		}
	}
	return out
}

func (t *tracer) follow(edge int) Line {
	line := Line{t.at[edge]}
	for len(t.next[edge]) > 0 {
		to := t.next[edge][0]
		t.next[edge] = t.next[edge][1:]
		line = append(line, t.at[to])
		edge = to
	}
	return line
}

// Round cuts the corners of a line n times (Chaikin's scheme); ends stay.
func (l Line) Round(n int) Line {
	for range n {
		if len(l) < 3 {
			return l
		}
		out := make(Line, 0, 2*len(l))
		if !l.Closed() {
			out = append(out, l[0])
		}
		for i := 1; i < len(l); i++ {
			a, b := l[i-1], l[i]
			out = append(out, mix(a, b, 0.25), mix(a, b, 0.75))
		}
		if l.Closed() {
			out = append(out, out[0])
		} else {
			out = append(out, l[len(l)-1])
		}
		l = out
	}
	return l
}

// Calm moves every inner point towards the mean of its neighbours, n times; ends stay.
func (l Line) Calm(n int) Line {
	out := append(Line(nil), l...)
	for range n {
		prev := out[0]
		for i := 1; i < len(out)-1; i++ {
			here := out[i]
			out[i] = Point{(prev.X + 2*here.X + out[i+1].X) / 4, (prev.Y + 2*here.Y + out[i+1].Y) / 4}
			prev = here
		}
	}
	return out
}

// Along returns the point at s metres from the start and the direction of travel there in radians
// from east, anticlockwise; beyond the ends it stays at them.
func (l Line) Along(s float64) (Point, float64) {
	for i := 1; i < len(l); i++ {
		d := l[i].Dist(l[i-1])
		if s <= d && d > 0 || i == len(l)-1 {
			dir := math.Atan2(l[i].Y-l[i-1].Y, l[i].X-l[i-1].X)
			return mix(l[i-1], l[i], clamp(s/math.Max(d, 1e-9), 0, 1)), dir
		}
		s -= d
	}
	return l[0], 0
}

func mix(a, b Point, t float64) Point { return Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)} }
