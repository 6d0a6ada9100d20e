package slips

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/calib"
)

// Kind is what a slip concerns.
type Kind int

// The kinds of slips.
const (
	OfPoint Kind = iota // one control point, or two whose references are swapped
	OfLine              // one printed line, or all points beyond it
	OfAll               // all points alike
	OfName              // the name of the grid
	OfFile              // what a file says
)

// Slip is one slip of a known size.
type Slip struct {
	Kind   Kind
	Points []int  // control points it concerns, counted from 0; none for OfAll and beyond
	Words  string // such as "control point 3: the easting looks 1,000 m too great"
	Size   float64
	Odds   float64 // natural logarithm of its odds against none; of Name alone
	shifts []calib.Shift
}

// Shifts returns by how much the slip displaces references.
func (s Slip) Shifts() []calib.Shift { return slices.Clone(s.shifts) }

// Family is the slips of one kind at the same points, which differ in their size
// alone: a slip of that size displaces the references by Size times Unit.
type Family struct {
	Kind   Kind
	Points []int
	Unit   []calib.Shift
	Sizes  []float64
	Words  func(size float64) string
	// Off says how far a slip of size 1 has a point of the picture lie from where the
	// sheet puts it, in metres, where the calibration does not follow from the shifts, as
	// for a file. Nil: the judge says.
	Off   func(at calib.PicturePt) (eastM, northM float64)
	other int // the family on the other side of the line, counted from 1; 0: none
	rare  bool
}

func (f *Family) slip(size float64) Slip {
	out := Slip{Kind: f.Kind, Points: f.Points, Words: f.Words(size), Size: size}
	for _, s := range f.Unit {
		out.shifts = append(out.shifts, calib.Shift{I: s.I, East: size * s.East, North: size * s.North})
	}
	return out
}

// Sheet is what the list is made from.
type Sheet struct {
	Points []calib.ControlPoint
	Coords []Coords // of each control point; nil: easting and northing in metres
	// OwnGrid are the rows of evidence, counted behind the control points, that were
	// read off this map's own lines, so that slips of all points move them too.
	OwnGrid []int
	// Unlettered are rows of evidence whose letters the sheet itself supplied.
	Unlettered []int
	ExtentM    float64 // of the picture along its longer side, 0 unknown
	Unit       string  // of the grid's figures, such as "m"; "" means "m"
}

// Steps returns the steps of the printed lines: of easting and northing in the
// grid's unit, and of latitude and longitude in minutes; 0 where no point has such
// figures.
func (s *Sheet) Steps() (grid, minutes float64) {
	extent := s.ExtentM
	c := s.coords()
	for _, p := range c {
		if !p.LatLon {
			extent = s.ExtentM / math.Hypot(p.PerU[0], p.PerU[1])
			break
		}
	}
	return StepOf(c, false, extent), StepOf(c, true, s.ExtentM/metresAMinute)
}

// metresAMinute is a minute of latitude, about.
const metresAMinute = 1852

func (s *Sheet) coords() []Coords {
	if s.Coords != nil {
		return s.Coords
	}
	out := make([]Coords, len(s.Points))
	for i, p := range s.Points {
		out[i] = OnGrid(p)
	}
	return out
}

// list is the state of List.
type list struct {
	*Sheet
	c             []Coords
	grid, minutes float64
	out           []Family
}

// List returns the slips of points, lines and all points.
func List(s *Sheet) []Family {
	l := &list{Sheet: s, c: s.coords()}
	l.grid, l.minutes = s.Steps()
	for i, p := range s.Points {
		if p.Source == calib.TypedPoint {
			l.point(i)
		}
	}
	l.swaps()
	for axis := range 2 {
		l.lines(axis)
	}
	l.all()
	return l.out
}

func (l *list) add(f Family) { l.out = append(l.out, f) }

func (l *list) step(c Coords) float64 {
	if c.LatLon {
		return l.minutes
	}
	return l.grid
}

// unit is the displacement of one unit of a figure of some points.
func (l *list) unit(axis int, points []int) []calib.Shift {
	out := make([]calib.Shift, 0, len(points))
	for _, i := range points {
		_, per := l.c[i].figure(axis)
		out = append(out, calib.Shift{I: i, East: per[0], North: per[1]})
	}
	return out
}

// point adds the slips of one control point.
func (l *list) point(i int) {
	c := l.c[i]
	for axis := range 2 {
		v, _ := c.figure(axis)
		l.add(Family{
			Kind: OfPoint, Points: []int{i}, Unit: l.unit(axis, []int{i}), Sizes: l.pointSizes(v, c),
			Words: func(size float64) string {
				return fmt.Sprintf("control point %d: the %s looks %s too %s", i+1, figureWord(c.LatLon, axis), l.length(size, c.LatLon), greatOrSmall(size))
			},
		})
	}
	if !c.LatLon && c.U != c.V {
		e, n := c.U-c.V, c.V-c.U
		l.add(Family{
			Kind: OfPoint, Points: []int{i}, Sizes: []float64{1},
			Unit:  []calib.Shift{{I: i, East: e * c.PerU[0], North: n * c.PerV[1]}},
			Words: func(float64) string { return fmt.Sprintf("control point %d: easting and northing look swapped", i+1) },
		})
		if e, n := withinLetters(c.U)-withinLetters(c.V), withinLetters(c.V)-withinLetters(c.U); e != c.U-c.V && e != 0 {
			l.add(Family{
				Kind: OfPoint, Points: []int{i}, Sizes: []float64{1},
				Unit: []calib.Shift{{I: i, East: e * c.PerU[0], North: n * c.PerV[1]}},
				Words: func(float64) string {
					return fmt.Sprintf("control point %d: the digits of easting and northing look swapped", i+1)
				},
			})
		}
	}
}

// lettersM is the side of the squares that grids name by letters, metres.
const lettersM = 100_000

func withinLetters(v float64) float64 { return v - lettersM*math.Floor(v/lettersM) }

// pointSizes are one and ten squares either way and any digit worth a square or
// more.
func (l *list) pointSizes(v float64, c Coords) []float64 {
	step := l.step(c)
	sizes := []float64{step, -step, 10 * step, -10 * step}
	if c.LatLon {
		return append(sizes, 10, -10, 60, -60)
	}
	const most = 1e6 // no digit of a walking grid is worth more
	for p := 1.0; p <= most; p *= 10 {
		if p < step {
			continue
		}
		digit := math.Mod(math.Floor(math.Abs(v)/p), 10)
		for other := range 10 {
			if size := (digit - float64(other)) * p * sign(v); size != 0 && !slices.Contains(sizes, size) {
				sizes = append(sizes, size)
			}
		}
	}
	return sizes
}

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

// swaps adds the slip of two references that were swapped.
func (l *list) swaps() {
	l.out = slices.Grow(l.out, len(l.Points)*len(l.Points)/2)
	for i, p := range l.Points {
		for j := range i {
			q := l.Points[j]
			if p.Source != calib.TypedPoint || q.Source != calib.TypedPoint {
				continue
			}
			e, n := p.Ref.E-q.Ref.E, p.Ref.N-q.Ref.N
			l.add(Family{
				Kind: OfPoint, Points: []int{j, i}, Sizes: []float64{1},
				Unit: []calib.Shift{{I: i, East: e, North: n}, {I: j, East: -e, North: -n}},
				Words: func(float64) string {
					return fmt.Sprintf("control points %d and %d: their references look swapped", j+1, i+1)
				},
			})
		}
	}
}

// all adds the slips of all points alike.
func (l *list) all() {
	counted := make([]int, 0, len(l.Points))
	for i, p := range l.Points {
		if p.Source == calib.FilePoint {
			return
		}
		counted = append(counted, i)
	}
	if len(counted) == 0 {
		return
	}
	first := l.c[0]
	step := l.step(first)
	for axis := range 2 {
		unit := l.unit(axis, counted)
		_, per := first.figure(axis)
		l.add(Family{
			Kind: OfAll, Unit: l.along(unit, l.OwnGrid, per), Sizes: []float64{step, -step, 10 * step, -10 * step},
			Words: func(size float64) string {
				return fmt.Sprintf("all control points: the %s looks %s too %s", figureWord(first.LatLon, axis), l.length(size, first.LatLon), greatOrSmall(size))
			},
		})
		if first.LatLon {
			continue
		}
		rows := slices.Concat(l.OwnGrid, l.Unlettered)
		slices.Sort(rows)
		l.add(Family{
			Kind: OfAll, Unit: l.along(unit, slices.Compact(rows), per), Sizes: []float64{lettersM, -lettersM},
			Words: func(size float64) string {
				return fmt.Sprintf("all control points: their grid letters look one lettered square (100 km) too far %s", compass(axis, size))
			},
		})
	}
}

// along adds evidence that moves along with all points.
func (l *list) along(unit []calib.Shift, rows []int, per [2]float64) []calib.Shift {
	for _, r := range rows {
		unit = append(unit, calib.Shift{I: len(l.Points) + r, East: per[0], North: per[1]})
	}
	return unit
}
