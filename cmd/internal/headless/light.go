package headless

import (
	"fmt"
	"time"

	"legwright/app/geodesy"
	"legwright/app/light"
)

const lightHelp = `
Reads rows "lat lon", WGS 84 in degrees, and writes sunrise, sunset and the end of civil
twilight of that day for each, as RFC 3339 dates and times in UTC. The day is the local one:
by the clock of --zone, or without it by the sun at the row's longitude. The sunrise is the
one before that day's noon and the sunset the one after it, even if that is after midnight.

If one of them does not occur, a word is written instead: sun-stays-up or sun-stays-down for
sunrise and sunset, twilight-all-night or dark-all-day for the end of twilight.

The sun's centre is 0.833 degrees below a flat horizon at sunset, and 6 degrees below it at
the end of civil twilight. In a valley, behind a ridge or under cloud it gets dark sooner.
`

func lightCommand() command {
	return command{
		name:  "light",
		usage: "--date YYYY-MM-DD [--zone Europe/London] < ROWS",
		about: "give sunrise, sunset and the end of civil twilight",
		run:   runLight,
	}
}

// zoneFlag is a time zone by its IANA name.
type zoneFlag struct{ zone *time.Location }

func (z *zoneFlag) String() string {
	if z.zone == nil {
		return ""
	}
	return z.zone.String()
}

func (z *zoneFlag) Set(text string) error {
	zone, err := light.Zone(text)
	z.zone = zone
	return err
}

func runLight(c command, args []string, s streams) error {
	o := newOptions(c, lightHelp)
	var date dateFlag
	var zone zoneFlag
	o.Var(&date, "date", "the `DAY`, such as 2026-11-25")
	o.Var(&zone, "zone", "the time `ZONE` that the day is counted in, such as Europe/London (default by the sun)")
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	if !date.set {
		return usagef("--date is missing: give the day, such as --date 2026-11-25")
	}
	newNotes(s).say("caution", "", light.FlatHorizon)
	return runBatch(s, func() rowFunc {
		return func(dst, line []byte) ([]byte, error) {
			var v [2]float64
			if _, err := numbers(v[:], 2, line, "lat lon"); err != nil {
				return nil, err
			}
			at := geodesy.DegLatLon(v[0], v[1])
			if !(v[0] >= -90 && v[0] <= 90 && v[1] >= -360 && v[1] <= 360) {
				return nil, fmt.Errorf("latitude %g, longitude %g: %w", v[0], v[1], geodesy.ErrBadLatLon)
			}
			return appendDay(dst, light.Around(at, noonOf(date.day, zone.zone, at))), nil
		}
	})
}

// noonOf is noon of a day by a zone's clock, or without one by the sun.
func noonOf(day time.Time, zone *time.Location, at geodesy.LatLon) time.Time {
	if zone == nil {
		return light.SunNoon(day.Year(), day.Month(), day.Day(), at)
	}
	return time.Date(day.Year(), day.Month(), day.Day(), 12, 0, 0, 0, zone)
}

func appendDay(dst []byte, d light.Day) []byte {
	for i, e := range []light.Event{d.Sunrise, d.Sunset, d.Dusk} {
		if i > 0 {
			dst = append(dst, '\t')
		}
		switch {
		case e.State == light.Occurs:
			dst = e.At.AppendFormat(dst, time.RFC3339)
		case e.State == light.Above && i == 2:
			dst = append(dst, "twilight-all-night"...)
		case e.State == light.Above:
			dst = append(dst, "sun-stays-up"...)
		case i == 2:
			dst = append(dst, "dark-all-day"...)
		default:
			dst = append(dst, "sun-stays-down"...)
		}
	}
	return dst
}
