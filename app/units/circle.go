package units

import (
	"fmt"
	"math"
)

// Circle is the graduation of a compass housing and the step to which
// bearings are printed.
type Circle int

// The circles a party may carry: one turn is 360 degrees, 6400 mils or 400 gon
// (US Army FM 3-25.26, section 6-1). Degrees is the default; HalfDegrees prints
// to half a degree; Mils6400 to 10 mils; Gon400 to one gon.
const (
	WholeDegrees Circle = iota
	HalfDegrees
	Mils6400
	Gon400
)

// circleSpec says how one circle counts: units per turn, the printed step in
// those units, decimals and the sign behind the figure.
type circleSpec struct {
	name     string
	unit     string
	perTurn  float64
	step     float64
	decimals int
	width    int
	mark     string
}

func (c Circle) spec() circleSpec {
	switch c {
	case HalfDegrees:
		return circleSpec{"half degrees", "degrees", 360, 0.5, 1, 5, "°"}
	case Mils6400:
		return circleSpec{"mils (6400)", "mils", 6400, 10, 0, 4, " mil"}
	case Gon400:
		return circleSpec{"gon (400)", "gon", 400, 1, 0, 3, " gon"}
	default:
		return circleSpec{"degrees", "degrees", 360, 1, 0, 3, "°"}
	}
}

// Circles lists every circle in the order it is offered.
func Circles() []Circle { return []Circle{WholeDegrees, HalfDegrees, Mils6400, Gon400} }

// String names the circle for people.
func (c Circle) String() string { return c.spec().name }

// Unit names what the circle counts in.
func (c Circle) Unit() string { return c.spec().unit }

// PerTurn returns how many units of the circle make one turn.
func (c Circle) PerTurn() float64 { return c.spec().perTurn }

// Step returns the angle between two printed figures of the circle.
func (c Circle) Step() Angle { s := c.spec(); return Angle(s.step / s.perTurn * fullTurn) }

// steps returns the angle as a whole number of printed steps, ties away from
// zero.
func (c Circle) steps(a Angle) int {
	s := c.spec()
	return int(math.Round(float64(a) / fullTurn * s.perTurn / s.step))
}

// turnSteps brings a number of steps into one turn.
func (c Circle) turnSteps(n int) int {
	s := c.spec()
	per := int(math.Round(s.perTurn / s.step))
	return ((n % per) + per) % per
}

// figure writes a number of steps with the circle's leading zeros.
func (c Circle) figure(n int) string {
	s := c.spec()
	return fmt.Sprintf("%0*.*f%s", s.width, s.decimals, float64(n)*s.step, s.mark)
}

// Figure writes a bearing angle in the circle's step, with leading zeros and
// its sign, such as "057°", "057.5°", "0140 mil". 360 never appears.
func (c Circle) Figure(a Angle) string { return c.figure(c.turnSteps(c.steps(a))) }

// Half writes the 95% half width of a bearing with standard deviation sigma, such
// as "± 2°", rounded up to the circle's step and at most half a turn. It is "" up
// to one step: the figure, printed to the step, claims no more.
func (c Circle) Half(sigma Angle) string {
	if c.halfSteps(sigma) <= 1 {
		return ""
	}
	return c.FullHalf(sigma)
}

// FullHalf writes the same half width where a figure must not stand without one: at
// least one step, such as "± 1°".
func (c Circle) FullHalf(sigma Angle) string {
	return "± " + c.plain(c.halfSteps(sigma)) + c.spec().mark
}

// halfSteps returns twice sigma in whole steps, rounded up: at least one, at most half a
// turn. A sigma that is not a number is one of which nothing is known.
func (c Circle) halfSteps(sigma Angle) int {
	s := c.spec()
	share := 2 * float64(sigma) / fullTurn
	if !(share < 0.5) {
		share = 0.5
	}
	return int(max(math.Ceil(share*s.perTurn/s.step-1e-9), 1))
}

// FineHalf writes the same half width in the circle's units to the place that it
// supports, rounded up, such as "± 0.7°" or "± 12 mil". A sigma of zero or below, or
// one that is not finite, gives "".
func (c Circle) FineHalf(sigma Angle) string {
	s := c.spec()
	v := float64(sigma) / fullTurn * s.perTurn
	if !(v > 0) || math.IsInf(v, 0) {
		return ""
	}
	place := max(Place(v, 0), -2)
	return "± " + roundTo(ceilTo(2*v, place), place) + s.mark
}

// Closed holds the printed figures of one bearing. They close in the head:
// printed magnetic = printed grid − printed GMA, exactly.
type Closed struct {
	Grid     string // "057°"
	Magnetic string // "055°"
	GMA      string // "2° east", "0°"
	Rule     string // "grid to magnetic, take off 2"
}

// Close prints a grid bearing, the magnetic bearing and the grid-magnetic angle
// between them so that they agree. Each bearing is the step nearest to the exact
// one, for it is what is set and walked: half a step out at most. The angle is the
// difference of the two as printed, so it may be out by up to one step, and differ by
// one step from leg to leg.
func (c Circle) Close(b GridBearing, g GMA) Closed {
	grid, magnetic := c.turnSteps(c.steps(Angle(b))), c.turnSteps(c.steps(b.Magnetic(g).Angle()))
	gma := c.turnSteps(grid - magnetic)
	if turn := c.turnSteps(-1) + 1; 2*gma > turn {
		gma -= turn
	}
	return Closed{
		Grid:     c.figure(grid),
		Magnetic: c.figure(magnetic),
		GMA:      c.sideFigure(gma),
		Rule:     c.rule(gma),
	}
}

// Amount writes the size of an angle in the circle's step, without leading zeros, such
// as "36°" or "140 mil".
func (c Circle) Amount(a Angle) string { return c.plain(c.steps(a)) + c.spec().mark }

// GMAFigure writes a grid-magnetic angle in words, such as "2° east".
func (c Circle) GMAFigure(g GMA) string { return c.sideFigure(c.steps(Angle(g))) }

func (c Circle) sideFigure(n int) string {
	text := c.plain(n) + c.spec().mark
	switch {
	case n > 0:
		return text + " east"
	case n < 0:
		return text + " west"
	}
	return text
}

func (c Circle) plain(n int) string {
	s := c.spec()
	v := math.Abs(float64(n) * s.step)
	if v == math.Trunc(v) {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.*f", s.decimals, v)
}

func (c Circle) rule(n int) string {
	switch {
	case n > 0:
		return "grid to magnetic, take off " + c.plain(n)
	case n < 0:
		return "grid to magnetic, add " + c.plain(n)
	}
	return "grid and magnetic are the same"
}
