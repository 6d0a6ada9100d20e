package slips

import (
	"math"

	"legwright/app/calib"
)

// Coords are the figures of a control point as they were typed: easting and
// northing in the grid's unit, or longitude and latitude in minutes.
type Coords struct {
	U, V   float64    // easting and northing, or longitude and latitude
	PerU   [2]float64 // metres east and north on the grid for one more of U
	PerV   [2]float64 // the same for V
	LatLon bool       // U and V are minutes
}

// OnGrid returns the figures of a reference on a grid in metres.
func OnGrid(p calib.ControlPoint) Coords {
	return Coords{U: p.Ref.E, V: p.Ref.N, PerU: [2]float64{1, 0}, PerV: [2]float64{0, 1}}
}

// figure returns one of the two figures and its metres east and north.
func (c Coords) figure(axis int) (v float64, per [2]float64) {
	if axis == 0 {
		return c.U, c.PerU
	}
	return c.V, c.PerV
}

// onLine is how near a multiple a typed figure lies to count as it, in metres or in
// thousandths of a minute.
const onLine = 0.5

// Of at most this many points all must lie on printed lines to say how far these
// are apart; of more, some may be features off the lines.
const fewPoints = 3

// linedPart is the part of more points that must be intersections.
const linedPart = 0.75

// gridSteps and minuteSteps are the distances of printed lines that StepOf looks
// for, greatest first (common practice, no source).
func gridSteps() []float64 {
	return []float64{100000, 50000, 20000, 10000, 5000, 2000, 1000, 500, 250, 200, 100, 50, 20, 10, 1}
}

func minuteSteps() []float64 { return []float64{60, 30, 15, 10, 5, 1, 0.5, 1. / 6, 1. / 60} }

// StepOf returns the step between the printed lines in the unit of the typed
// figures (minutes for latitude and longitude): the largest that divides both
// figures of the intersections. extentU is how far the picture reaches in that unit,
// 0 where it is not known: a sheet shows two squares at least, so that points on
// every tenth line do not make the squares ten times as large. It is 0 without
// typed figures of the kind.
func StepOf(coords []Coords, latLon bool, extentU float64) float64 {
	var own []Coords
	for _, c := range coords {
		if c.LatLon == latLon {
			own = append(own, c)
		}
	}
	if len(own) == 0 {
		return 0
	}
	need := len(own)
	if need > fewPoints {
		need = int(math.Ceil(linedPart * float64(need)))
	}
	steps, near := gridSteps(), onLine
	if latLon {
		steps, near = minuteSteps(), onLine/1000
	}
	for i, s := range steps {
		if i < len(steps)-1 && (extentU > 0 && s > extentU/2 || countOn(own, s, near) < need) {
			continue
		}
		return s
	}
	return steps[len(steps)-1]
}

func countOn(coords []Coords, step, near float64) int {
	n := 0
	for _, c := range coords {
		if math.Abs(math.Remainder(c.U, step)) <= near && math.Abs(math.Remainder(c.V, step)) <= near {
			n++
		}
	}
	return n
}
