package datum

import (
	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// Shift describes the datum shift that was used from WGS 84 to the grid or back.
type Shift struct {
	Name     string  // for people
	SigmaM   float64 // standard deviation per axis of the whole way to WGS 84, metres
	Identity bool    // no shift was applied
	Unknown  bool    // nothing is known of the datum: positions may be off by hundreds of metres
}

// Datum turns WGS 84 positions into grid coordinates and back. Arguments are finite
// and in range.
type Datum interface {
	FromWGS84(p proj.Plane, ll earth.LatLon) (earth.Grid, proj.Factors, Shift, error)
	ToWGS84(p proj.Plane, g earth.Grid) (earth.LatLon, Shift, error)
}

// Like is a datum that is WGS 84 or is treated as WGS 84. Name is its name, empty for WGS 84
// itself, and SigmaM the standard deviation of that treatment per axis, in metres.
type Like struct {
	Name   string
	SigmaM float64
}

func (d Like) shift() Shift {
	if d.Name == "" {
		return Shift{Name: "none needed", Identity: true}
	}
	return Shift{Name: d.Name + " treated as WGS 84", SigmaM: d.SigmaM, Identity: true}
}

// FromWGS84 implements Datum.
func (d Like) FromWGS84(p proj.Plane, ll earth.LatLon) (earth.Grid, proj.Factors, Shift, error) {
	g, f, err := p.Project(ll)
	return g, f, d.shift(), err
}

// ToWGS84 implements Datum.
func (d Like) ToWGS84(p proj.Plane, g earth.Grid) (earth.LatLon, Shift, error) {
	ll, _, err := p.Unproject(g)
	return ll, d.shift(), err
}

// σ per axis of taking ETRS89 or a datum like it for WGS 84; the EPSG dataset
// gives 1 m for each.
const LikeSigmaM = 0.5

// ETRS89 returns the datum ETRS89, treated as WGS 84.
func ETRS89() Like { return Like{"ETRS89", LikeSigmaM} }
