package checksheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwright/app/geodesy"
)

// SlipKind is a kind of slip in typing references.
type SlipKind string

// The slips of single points and of lines.
const (
	PointOne      SlipKind = "point 1"        // one coordinate a square out
	PointTen      SlipKind = "point 10"       // ten squares
	Digit         SlipKind = "digit"          // one digit worth a square or more
	SwappedAxes   SlipKind = "swapped axes"   // easting and northing of one point
	SwappedPoints SlipKind = "swapped points" // the references of two points
	LineOne       SlipKind = "line 1"         // all points of one typed coordinate
	LineTen       SlipKind = "line 10"
	BeyondOne     SlipKind = "beyond 1" // and all points beyond them
	BeyondTen     SlipKind = "beyond 10"
)

// The slips of all points, and of the grid's name.
const (
	AllOne     SlipKind = "all 1"
	AllTen     SlipKind = "all 10"
	Letters    SlipKind = "letters"    // the 100 km square
	Zone       SlipKind = "zone"       // the next zone of UTM
	Hemisphere SlipKind = "hemisphere" // south for north
	Projection SlipKind = "projection" // another grid
)

// PointSlips are the slips of points and lines.
func PointSlips() []SlipKind {
	return []SlipKind{PointOne, PointTen, Digit, SwappedAxes, SwappedPoints, LineOne, LineTen, BeyondOne, BeyondTen}
}

// AllSlips are the slips of all points and of names.
func AllSlips() []SlipKind { return []SlipKind{AllOne, AllTen, Letters, Zone, Hemisphere, Projection} }

// Slip is a slip that was put in.
type Slip struct {
	Kind          SlipKind
	Points        []int // the points moved, from 0
	EastM, NorthM float64
	Merges        bool // a line moved onto another that has points
}

func (s Slip) String() string {
	return fmt.Sprintf("%s at %v by %.0f %.0f", s.Kind, s.Points, s.EastM, s.NorthM)
}

// Line reports whether the slip is of a line.
func (s Slip) Line() bool {
	return slices.Contains([]SlipKind{LineOne, LineTen, BeyondOne, BeyondTen}, s.Kind)
}

// Put puts a slip into the sheet. It returns false where the sheet has no room for
// one of that kind: then nothing is changed.
func (s *Sheet) Put(k SlipKind) (Slip, bool) {
	slip := Slip{Kind: k}
	step := s.StepM
	if strings.HasSuffix(string(k), "10") {
		step *= 10
	}
	if s.dice.IntN(2) == 0 {
		step = -step
	}
	switch k {
	case PointOne, PointTen:
		slip.Points = []int{s.dice.IntN(len(s.Points))}
	case LineOne, LineTen, BeyondOne, BeyondTen:
		return s.putLine(slip, step)
	case AllOne, AllTen, Letters:
		for i := range s.Points {
			slip.Points = append(slip.Points, i)
		}
		if k == Letters {
			if s.Ground.letters == nil {
				return slip, false
			}
			step = math.Copysign(1e5, step)
		}
	case Digit:
		return s.putDigit(slip)
	case SwappedAxes, SwappedPoints:
		return s.putSwapped(slip)
	default:
		return s.putName(slip)
	}
	slip.EastM = step
	if s.dice.IntN(2) == 0 {
		slip.EastM, slip.NorthM = 0, step
	}
	return slip, s.move(slip)
}

func (s *Sheet) move(slip Slip) bool {
	for _, i := range slip.Points {
		s.retype(i, Coord{s.Points[i].Ref.E + slip.EastM, s.Points[i].Ref.N + slip.NorthM})
	}
	for _, p := range s.Points {
		if p.Ref.E < 0 || p.Ref.N < 0 {
			return false
		}
	}
	return s.distinct()
}

// distinct reports whether no two points have one reference, which is refused.
func (s *Sheet) distinct() bool {
	for i, p := range s.Points {
		if slices.ContainsFunc(s.Points[:i], func(q Point) bool { return q.Ref == p.Ref }) {
			return false
		}
	}
	return true
}

func (s *Sheet) retype(i int, g Coord) { s.Points[i].Ref, s.Points[i].Text = g, Plain(g) }

// putLine moves the points of one typed easting or northing, or also those beyond
// it. Neither all points nor a single one.
func (s *Sheet) putLine(slip Slip, step float64) (Slip, bool) {
	i := s.dice.IntN(len(s.Points))
	east := s.dice.IntN(2) == 0
	upward := s.dice.IntN(2) == 0
	key := func(p Point) float64 {
		if east {
			return p.Ref.E
		}
		return p.Ref.N
	}
	beyond := slip.Kind == BeyondOne || slip.Kind == BeyondTen
	line := key(s.Points[i])
	for j, p := range s.Points {
		if k := key(p); k == line || beyond && (k > line) == upward {
			slip.Points = append(slip.Points, j)
		}
	}
	slip.EastM = step
	if !east {
		slip.EastM, slip.NorthM = 0, step
	}
	if len(slip.Points) < 2 || len(slip.Points) == len(s.Points) {
		return slip, false
	}
	ok := s.move(slip)
	for j, p := range s.Points {
		if !slices.Contains(slip.Points, j) {
			slip.Merges = slip.Merges || slices.ContainsFunc(slip.Points, func(i int) bool { return key(s.Points[i]) == key(p) })
		}
	}
	return slip, ok
}

// putDigit changes one digit worth a square or more of one coordinate.
func (s *Sheet) putDigit(slip Slip) (Slip, bool) {
	i := s.dice.IntN(len(s.Points))
	east := s.dice.IntN(2) == 0
	v := s.Points[i].Ref.N
	if east {
		v = s.Points[i].Ref.E
	}
	place := 1.0
	for place < s.StepM {
		place *= 10
	}
	for place*10 <= v && s.dice.IntN(2) == 0 {
		place *= 10
	}
	old := math.Mod(math.Floor(v/place), 10)
	d := float64(s.dice.IntN(10))
	if d == old {
		return slip, false
	}
	slip.Points = []int{i}
	slip.EastM = (d - old) * place
	if !east {
		slip.EastM, slip.NorthM = 0, slip.EastM
	}
	return slip, s.move(slip)
}

func (s *Sheet) putSwapped(slip Slip) (Slip, bool) {
	i := s.dice.IntN(len(s.Points))
	p := s.Points[i].Ref
	if slip.Kind == SwappedAxes {
		slip.Points, slip.EastM, slip.NorthM = []int{i}, p.N-p.E, p.E-p.N
		s.retype(i, Coord{p.N, p.E})
		return slip, slip.EastM != 0 && s.distinct()
	}
	j := (i + 1 + s.dice.IntN(len(s.Points)-1)) % len(s.Points)
	q := s.Points[j].Ref
	s.retype(i, q)
	s.retype(j, p)
	slip.Points = []int{i, j}
	return slip, true
}

// putName names another grid for the same eastings and northings.
func (s *Sheet) putName(slip Slip) (Slip, bool) {
	var list []geodesy.Code
	for _, c := range s.Ground.wrong {
		kind := Projection
		if s.Ground.ZoneCodes() {
			kind = Zone
			if c.EPSG() > 32700 {
				kind = Hemisphere
			}
		}
		if kind == slip.Kind {
			list = append(list, c)
		}
	}
	if len(list) == 0 {
		return slip, false
	}
	s.Code = list[s.dice.IntN(len(list))]
	return slip, true
}
