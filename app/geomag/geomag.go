package geomag

import (
	"math"
	"time"

	"legwright/app/geodesy"
	"legwright/app/units"
)

// Field is the magnetic field at one site and date.
type Field struct {
	Declination units.Declination // magnetic from true north, east positive
	Inclination units.Angle       // below the horizontal, down positive

	HorizontalNT, NorthNT, EastNT, DownNT, TotalNT float64

	DeclinationSigma units.Angle // one standard deviation of the model's error
	Zone             Zone
	Model            string // "WMM2025"
}

// Heights for which the model is meant: from 1 km below to 850 km above the
// ellipsoid (NOAA NCEI and BGS, The US/UK World Magnetic Model; not checked against it).
const (
	lowestM  = -1000.0
	highestM = 850000.0
)

// Field returns the field at a WGS 84 position and a height above the
// ellipsoid in metres, −1 km to 850 km. Latitude lies in ±90°, longitude in
// ±360°. At a pole north is the direction of the meridian given. The error is
// a *BadSite.
func (e *Evaluator) Field(ll geodesy.LatLon, heightM float64) (Field, error) {
	if err := checkSite(ll, heightM); err != nil {
		return Field{}, err
	}
	v := e.Vector(ll.Lat.Rad(), ll.Lon.Rad(), heightM)
	h := math.Sqrt(v.NorthNT*v.NorthNT + v.EastNT*v.EastNT)
	return Field{
		Declination:      units.Declination(math.Atan2(v.EastNT, v.NorthNT)),
		Inclination:      units.Angle(math.Atan2(v.DownNT, h)),
		HorizontalNT:     h,
		NorthNT:          v.NorthNT,
		EastNT:           v.EastNT,
		DownNT:           v.DownNT,
		TotalNT:          math.Sqrt(h*h + v.DownNT*v.DownNT),
		DeclinationSigma: e.model.err.declination(h),
		Zone:             ZoneOf(h),
		Model:            e.model.name,
	}, nil
}

// checkSite refuses what is not a position on the earth; comparisons are written so that NaN
// fails them.
func checkSite(ll geodesy.LatLon, heightM float64) error {
	const slack = 1e-12 // radians: 90° typed in degrees may land past π/2
	switch {
	case !(math.Abs(ll.Lat.Rad()) <= math.Pi/2+slack):
		return &BadSite{"latitude", ll.Lat.Deg(), "from -90 to 90 degrees"}
	case !(math.Abs(ll.Lon.Rad()) <= 2*math.Pi+slack):
		return &BadSite{"longitude", ll.Lon.Deg(), "from -360 to 360 degrees"}
	case !(heightM >= lowestM && heightM <= highestM):
		return &BadSite{"height", heightM, "from -1000 to 850000 metres above the ellipsoid"}
	}
	return nil
}

// DecimalYear returns the decimal year at 0 h UTC of a calendar day:
// year + (day − 1)/days in the year. Year, month and day are read from the
// date as it is written, in its own time zone; the time of day is ignored.
func DecimalYear(date time.Time) float64 {
	y := date.Year()
	days := time.Date(y, time.December, 31, 0, 0, 0, 0, time.UTC).YearDay()
	return float64(y) + float64(date.YearDay()-1)/float64(days)
}

// Span returns the decimal years for which there is a model, both included.
func Span() (from, to float64) {
	all := catalogue()
	return all[0].from, all[len(all)-1].to
}
