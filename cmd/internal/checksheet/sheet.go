package checksheet

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"legwright/app/geodesy"
)

// Point is a control point as a person sets it.
type Point struct {
	At   Pt
	Ref  Coord // as typed
	Text string
}

// Sheet is one made sheet. Points hold what was typed, Truth what is so.
type Sheet struct {
	Ground  Ground
	Code    geodesy.Code // the grid that the person names
	Paper   Paper
	Layout  Layout
	StepM   float64 // between printed lines
	Across  float64 // squares in the width of the picture
	NoisePx float64 // σ per axis of the clicks
	FocalPx float64 // that the camera states, 0 if it states none
	Points  []Point
	Chosen  bool // a reference was corrected where several slips explained the points
	Truth   *Truth
	dice    *rand.Rand
}

// Layout is where control points lie.
type Layout string

// The layouts. Spread has the corners first and then points anywhere; rows are
// two or three full rows; a row and one is a row with a single point off it.
const (
	Spread    Layout = "spread"
	Rows      Layout = "rows"
	RowAndOne Layout = "row and one"
	Clustered Layout = "clustered"
)

// Recipe is what a sheet is made of; zero values are drawn.
type Recipe struct {
	Paper   Paper
	Layout  Layout
	N       int     // control points
	StepM   float64 // between printed lines
	MPP     float64 // metres a pixel
	NoisePx float64
	Code    geodesy.Code
	Across  float64 // squares in the width of the picture
}

// steps are usual distances of printed lines, metres.
func steps() []float64 { return []float64{100, 250, 500, 1000, 1000, 2000, 5000, 10_000, 100_000} }

// Make draws a sound sheet. The same recipe and dice give the same sheet.
func Make(r Recipe, dice *rand.Rand) *Sheet {
	for {
		if s := try(r, dice); s != nil {
			return s
		}
	}
}

func try(r Recipe, dice *rand.Rand) *Sheet {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*dice.Float64() }
	s := &Sheet{Paper: r.Paper, Layout: r.Layout, StepM: r.StepM, NoisePx: r.NoisePx, dice: dice, Across: r.Across}
	if s.StepM == 0 {
		s.StepM = steps()[dice.IntN(len(steps()))]
	}
	if s.NoisePx == 0 {
		s.NoisePx = 0.7
	}
	if s.Across == 0 {
		s.Across = math.Exp(in(math.Log(4), math.Log(15)))
	}
	mpp := r.MPP
	if mpp == 0 {
		mpp = s.StepM * s.Across / Width
	} else {
		s.Across = mpp * Width / s.StepM
	}
	if mpp < 0.4 || mpp > 720 {
		return nil
	}
	s.Ground = groundFor(mpp*Width, dice)
	if r.Code != "" && s.Ground.Code != r.Code {
		return nil
	}
	s.Code = s.Ground.Code
	s.lay(mpp, in)
	if !s.set(r.N) {
		return nil
	}
	return s
}

// lay draws where the sheet lies and what paper or camera did to it.
func (s *Sheet) lay(mpp float64, in func(lo, hi float64) float64) {
	turn := in(-2, 2)
	if s.Paper.Photo() {
		turn = in(-10, 10)
	}
	t := &Truth{Middle: Coord{in(s.Ground.West, s.Ground.East), in(s.Ground.South, s.Ground.North)}, MPP: mpp}
	t.sin, t.co = math.Sincos(turn * math.Pi / 180)
	t.warp, s.FocalPx = s.Paper.warp(s.dice)
	if s.Paper != WithEXIF {
		s.FocalPx = 0
	}
	s.Truth = t
}

// intersections are those of printed lines in the picture, by position.
func (s *Sheet) intersections() []Point {
	const margin = 40
	reach := s.Truth.MPP * math.Hypot(Width, Height) * 0.6
	lo := func(v float64) int { return int(math.Ceil((v - reach) / s.StepM)) }
	count := int(2*reach/s.StepM) + 1
	var list []Point
	for i := range count {
		for j := range count {
			g := Coord{float64(lo(s.Truth.Middle.E)+i) * s.StepM, float64(lo(s.Truth.Middle.N)+j) * s.StepM}
			p := s.Truth.Picture(g)
			if p.X > margin && p.X < Width-margin && p.Y > margin && p.Y < Height-margin {
				list = append(list, Point{At: p, Ref: g})
			}
		}
	}
	return list
}

// set chooses the control points, clicks and types them.
func (s *Sheet) set(n int) bool {
	list := s.intersections()
	for i := range list { // the order of choice
		k := i + s.dice.IntN(len(list)-i)
		list[i], list[k] = list[k], list[i]
	}
	switch s.Layout {
	case Rows:
		list = s.rows(list, n, 0)
	case RowAndOne:
		list = s.rows(list, n, 1)
	case Clustered:
		x, y := s.dice.Float64()*Width*0.6, s.dice.Float64()*Height*0.6
		list = slices.DeleteFunc(list, func(p Point) bool {
			return p.At.X < x || p.At.X > x+Width*0.4 || p.At.Y < y || p.At.Y > y+Height*0.4
		})
	default:
		list = cornersFirst(list)
	}
	if len(list) < n || n < 2 {
		return false
	}
	s.Points = slices.Clone(list[:n])
	for i := range s.Points {
		p := &s.Points[i]
		p.At.X += s.NoisePx * s.dice.NormFloat64()
		p.At.Y += s.NoisePx * s.dice.NormFloat64()
		p.Text = Plain(p.Ref)
	}
	return s.wide()
}

// wide reports whether the points are no single line, two points excepted.
func (s *Sheet) wide() bool {
	if len(s.Points) == 2 {
		return true
	}
	for i, a := range s.Points {
		for j, b := range s.Points[:i] {
			for _, c := range s.Points[:j] {
				if math.Abs((b.At.X-a.At.X)*(c.At.Y-a.At.Y)-(b.At.Y-a.At.Y)*(c.At.X-a.At.X)) > 100*100 {
					return true
				}
			}
		}
	}
	return false
}

// cornersFirst moves the intersections nearest to the four corners to the front.
func cornersFirst(list []Point) []Point {
	for k, c := range []Pt{{0, 0}, {Width, Height}, {Width, 0}, {0, Height}} {
		if k >= len(list) {
			break
		}
		best := k
		for i := k; i < len(list); i++ {
			if math.Hypot(list[i].At.X-c.X, list[i].At.Y-c.Y) < math.Hypot(list[best].At.X-c.X, list[best].At.Y-c.Y) {
				best = i
			}
		}
		list[k], list[best] = list[best], list[k]
	}
	return list
}

// rows takes the points, but for some loose ones, from rows of one northing (or
// columns of one easting): one row where some are loose, otherwise two, or three
// of nine and more.
func (s *Sheet) rows(list []Point, n, loose int) []Point {
	key := func(p Point) float64 { return p.Ref.N }
	if s.dice.IntN(2) == 0 {
		key = func(p Point) float64 { return p.Ref.E }
	}
	rows := 1
	if loose == 0 {
		rows = 2 + min(n/9, 1)
	}
	each := (n - loose) / rows
	var keys []float64
	var out, rest []Point
	for _, p := range list {
		if !slices.Contains(keys, key(p)) && len(keys) < rows {
			keys = append(keys, key(p))
		}
	}
	taken := map[float64]int{}
	for _, p := range list {
		switch {
		case !slices.Contains(keys, key(p)):
			rest = append(rest, p)
		case taken[key(p)] < each:
			taken[key(p)]++
			out = append(out, p)
		}
	}
	if len(out) < each*rows {
		return nil
	}
	return append(out, rest...)
}

// Plain writes easting and northing as they are typed, whole metres.
func Plain(g Coord) string { return fmt.Sprintf("%.0f %.0f", g.E, g.N) }
