package headless

import (
	"errors"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/geomag"
)

const fieldHelp = `
Reads rows "lat lon [decimal_year [height_km]]": WGS 84 in degrees, and kilometres above
the ellipsoid. Writes declination_deg inclination_deg horizontal_nT north_nT east_nT down_nT
total_nT declination_sigma_deg for each. A row without a year takes that of --date (0 h
UTC), a row without a height that of --height-km. Declination is positive to the east,
inclination positive downwards.

WMM2020 is used from 2020.0 to 2025.0, WMM2025 from 2025.0 to 2030.0; other dates are
refused. declination_sigma_deg is one standard deviation of the model.
`

func fieldCommand() command {
	return command{
		name:  "field",
		usage: "[--date YYYY-MM-DD] [--height-km 0] < ROWS",
		about: "give the earth's magnetic field, and how exact the declination is",
		run:   runField,
	}
}

// fielder answers rows about the field.
type fielder struct {
	year     float64
	hasYear  bool
	heightKm float64
	notes    *notes
}

var (
	errNoYear   = errors.New("the row has no year: give it as the third value, or --date")
	errHeightKm = errors.New("the height is not from -1 to 850 km above the ellipsoid")
)

func runField(c command, args []string, s streams) error {
	o := newOptions(c, fieldHelp)
	var date dateFlag
	height := numberFlag{min: -1, max: 850}
	o.Var(&date, "date", "the `DAY` for rows without a year, such as 2026-11-25")
	o.Var(&height, "height-km", "the height `KM` for rows without one")
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	f := &fielder{hasYear: date.set, heightKm: height.value, notes: newNotes(s)}
	if date.set {
		f.year = geomag.DecimalYear(date.day)
	}
	return runBatch(s, f.newRow)
}

// newRow makes the rowFunc of one worker, which has an evaluator of its own
// and brings it to another year only where the row before had a different one.
func (f *fielder) newRow() rowFunc {
	e := new(geomag.Evaluator)
	var said [geomag.Blackout + 1]bool
	return func(dst, line []byte) ([]byte, error) {
		v := [4]float64{2: f.year, 3: f.heightKm}
		count, err := numbers(v[:], 2, line, "lat lon [decimal_year [height_km]]")
		if err != nil {
			return nil, err
		}
		if count < 3 && !f.hasYear {
			return nil, errNoYear
		}
		if err := bring(e, v[2]); err != nil {
			return nil, err
		}
		r, err := e.Field(geodesy.DegLatLon(v[0], v[1]), v[3]*1000)
		if bad := new(geomag.BadSite); errors.As(err, &bad) && bad.What == "height" {
			return nil, errHeightKm
		}
		if err != nil {
			return nil, err
		}
		if !said[r.Zone] {
			said[r.Zone] = true
			speakZone(f.notes, r.Zone)
		}
		return appendRow(dst, r.Declination.Angle().Deg(), r.Inclination.Deg(), r.HorizontalNT,
			r.NorthNT, r.EastNT, r.DownNT, r.TotalNT, r.DeclinationSigma.Deg()), nil
	}
}

// bring makes e the evaluator of a year, if it is not that already.
func bring(e *geomag.Evaluator, year float64) error {
	if e.Model() != nil && e.Year() == year {
		return nil
	}
	m, err := geomag.ForYear(year)
	if err != nil {
		return err
	}
	return e.Reset(m, year)
}

func speakZone(n *notes, z geomag.Zone) {
	switch z {
	case geomag.Blackout:
		n.caution("some rows", caution.Of(caution.BlackoutZone))
	case geomag.Caution:
		n.caution("some rows", caution.Of(caution.WeakField))
	}
}
