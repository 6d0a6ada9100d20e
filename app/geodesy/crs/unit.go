package crs

import (
	"math"
	"strings"

	"legwright/app/geodesy/earth"
)

// Unit is the unit of a grid's printed coordinates. Grid coordinates are metres
// throughout; a coordinate in the margin times Metres is in metres.
type Unit struct {
	Name   string // "metre", "foot", "US survey foot", "degree"
	Metres float64
}

// Plural names several of the unit.
func (u Unit) Plural() string {
	switch u.Name {
	case "foot":
		return "feet"
	case "US survey foot":
		return "US survey feet"
	}
	if strings.HasPrefix(u.Name, "unit of") {
		return "units" + strings.TrimPrefix(u.Name, "unit")
	}
	return u.Name + "s"
}

// Symbol stands behind figures that would be taken for metres without it, "" where none does.
func (u Unit) Symbol() string {
	if strings.HasSuffix(u.Name, "foot") {
		return "ft"
	}
	return ""
}

// DegreeUnit is a degree on the equator of an ellipsoid.
func DegreeUnit(ell earth.Ellipsoid) Unit { return Unit{"degree", ell.A * math.Pi / 180} }
