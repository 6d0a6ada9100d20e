package light

import (
	"math"
	"time"

	"legwright/app/geodesy"
)

// j2000Unix is the epoch of the formulas, 12 h on 1 January 2000.
const j2000Unix = 946_728_000

const daysInCentury = 36_525

// sun is where the sun stands in the sky of the earth's centre.
type sun struct {
	declRad    float64 // declination
	hourAtZero float64 // hour angle at longitude 0, degrees
}

// sunAt returns the sun at an instant. Constants: Meeus, Astronomical Algorithms (2nd
// edition), formulas 12.4, 22.2 and chapter 25, from memory; the tests compare them with
// two other programs.
func sunAt(t time.Time) sun {
	d := (float64(t.Unix()-j2000Unix) + float64(t.Nanosecond())/1e9) / (24 * 60 * 60) // a Duration holds 292 years
	c := d / daysInCentury
	meanLon := 280.46646 + c*(36000.76983+c*0.0003032)
	anomaly := 357.52911 + c*(35999.05029-c*0.0001537)
	centre := (1.914602-c*(0.004817+c*0.000014))*sinDeg(anomaly) +
		(0.019993-c*0.000101)*sinDeg(2*anomaly) + 0.000289*sinDeg(3*anomaly)
	node := 125.04 - 1934.136*c
	lon := meanLon + centre - 0.00569 - 0.00478*sinDeg(node) // apparent
	obliquity := 23.43929111 - c*(0.013004167+c*(0.000000164-c*0.000000504)) + 0.00256*cosDeg(node)
	sidereal := 280.46061837 + 360.98564736629*d + c*c*0.000387933
	ascension := math.Atan2(cosDeg(obliquity)*sinDeg(lon), cosDeg(lon)) * 180 / math.Pi
	return sun{declRad: math.Asin(sinDeg(obliquity) * sinDeg(lon)), hourAtZero: sidereal - ascension}
}

func sinDeg(d float64) float64 { return math.Sin(math.Mod(d, 360) * math.Pi / 180) }

func cosDeg(d float64) float64 { return math.Cos(math.Mod(d, 360) * math.Pi / 180) }

// hourDeg is the sun's hour angle at a longitude, in (−180, 180]; 0 when it is highest.
func (s sun) hourDeg(at geodesy.LatLon) float64 {
	return signedDeg(s.hourAtZero + at.Lon.Deg())
}

// heightDeg is how high the sun's centre stands, without refraction.
func (s sun) heightDeg(at geodesy.LatLon) float64 {
	lat := at.Lat.Rad()
	sin := math.Sin(lat)*math.Sin(s.declRad) + math.Cos(lat)*math.Cos(s.declRad)*cosDeg(s.hourDeg(at))
	return math.Asin(min(max(sin, -1), 1)) * 180 / math.Pi
}

// signedDeg brings an angle into (−180, 180].
func signedDeg(d float64) float64 {
	d = math.Mod(d, 360)
	switch {
	case d > 180:
		return d - 360
	case d <= -180:
		return d + 360
	}
	return d
}

// turnDeg is how far the sun's hour angle turns in a day.
const turnDeg = 360

// passage returns the instant nearest to t at which the sun has an hour angle of want
// degrees: 0 at its highest point, 180 at its lowest.
func passage(at geodesy.LatLon, t time.Time, want float64) time.Time {
	for range 4 { // each turn leaves less than a hundredth of what was left
		off := signedDeg(want - sunAt(t).hourDeg(at))
		t = t.Add(time.Duration(off / turnDeg * 24 * float64(time.Hour)))
	}
	return t
}
