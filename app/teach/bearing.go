package teach

import (
	"errors"
	"fmt"

	"legwright/app/caution"
	"legwright/app/units"
)

// Bearing is a bearing as somebody says it: a figure and the north that it is taken
// from.
type Bearing struct {
	Angle units.Angle
	North units.North
}

// Tolerances of a bearing, ± 95 %, in degrees. Five are what a careful person holds with
// a compass in the hand (common practice, no source).
const (
	DefaultToleranceDeg = 5
	MinToleranceDeg     = 0.5
	MaxToleranceDeg     = 90
)

// CheckTolerance refuses a tolerance that no compass has, or that would let everything
// fit.
func CheckTolerance(t units.Angle) error {
	switch deg := t.Deg(); {
	case !t.IsFinite():
		return errors.New("the tolerance is not a number: type one such as 5°")
	case deg < MinToleranceDeg-tiny:
		return fmt.Errorf("a tolerance of %.2g° is finer than any hand compass: type one of half a degree or more, such as 5°", deg)
	case deg > MaxToleranceDeg+tiny:
		return fmt.Errorf("with a tolerance of %.0f° everything would fit: type one up to 90°, such as 5°", deg)
	}
	return nil
}

// NorthNotSaid is the error of a bearing without its north.
type NorthNotSaid struct {
	Figure string // the bearing, such as "060°"
	Apart  string // how far magnetic north lies from grid north there, such as "3° east" or "0°"; "" where that is not known
}

func (e *NorthNotSaid) Error() string {
	text := e.Figure + " from which north? Say grid, mag or true"
	switch {
	case e.Apart == "":
		return text
	case isNone(e.Apart):
		return text + ": grid and magnetic bearings are the same here"
	}
	return text + ": magnetic north is " + e.Apart + " of grid north here"
}

// NoSuchNorth is the error of a bearing from a north that is not known there. Its
// caution says why.
type NoSuchNorth struct{ Caution caution.Caution }

func (e *NoSuchNorth) Error() string {
	if e.Caution.Code == caution.BlackoutZone {
		return e.Caution.Text()
	}
	return e.Caution.Text() + " Or give the bearing from grid north."
}
