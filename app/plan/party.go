package plan

import (
	"legwright/app/pace"
	"legwright/app/units"
)

// Compass is the compass that the party carries.
type Compass struct {
	Set    bool         // the housing is adjustable and has been set to an angle
	SetTo  units.Angle  // the grid-magnetic angle it is set to, east positive
	Sigma  units.Angle  // its known error and that of reading it, 1σ
	Circle units.Circle // its graduation
}

// Party is who walks: their compass, speeds and paces. It holds no names.
type Party struct {
	Compass      Compass
	SpeedKmh     float64 // walking on the flat
	RunSpeedKmh  float64 // running on the flat
	PacesPer100m float64 // double paces to 100 m on the flat
	PacesUp      float64 // uphill, 0 for as on the flat
	PacesDown    float64 // downhill, 0 for as on the flat
	PaceSigma    float64 // 1σ of pacing as a fraction of the distance
}

// Counts are the party's double paces to 100 m by slope.
func (p Party) Counts() pace.Counts {
	c := pace.Counts{Flat: p.PacesPer100m, Up: p.PacesUp, Down: p.PacesDown}
	if c.Up == 0 {
		c.Up = c.Flat
	}
	if c.Down == 0 {
		c.Down = c.Flat
	}
	return c
}

// DefaultParty returns the party of a new plan: a compass good to 2°, 4 km/h
// walking, 64 double paces to 100 m, pacing good to a tenth (2°, 60 to 70
// double paces and 5 to 10 % are common practice, no source; 4 km/h is a
// published form of the walking-time rule), and 8 km/h running (common
// practice, no source).
func DefaultParty() Party {
	return Party{
		Compass:  Compass{Sigma: units.Degrees(2)},
		SpeedKmh: 4, RunSpeedKmh: 8, PacesPer100m: 64, PaceSigma: 0.1,
	}
}
