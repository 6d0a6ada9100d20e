package light

import (
	"math"
	"time"

	"legwright/app/geodesy"
)

// State says whether something occurs.
type State int

// The states of an event. Where it does not occur, the sun stays on one side of the limit
// all day.
const (
	Occurs State = iota
	Above        // the sun stays above the limit
	Below        // the sun stays below it
)

// Event is the instant when the sun passes a limit, or that it does not.
type Event struct {
	State State
	At    time.Time // UTC, to the second; only where it occurs
}

// Day is the light of one day.
type Day struct {
	Dawn, Sunrise, Sunset, Dusk Event // dawn and dusk of civil twilight
}

// The limits of the sun's centre in degrees: refraction and radius at sunset, and the end
// of civil twilight (NOAA, solar calculation details).
const (
	sunsetDeg = -0.833
	duskDeg   = -6
)

// Around returns the light of the day that has its noon near that instant: noon by the
// clock, or by the sun, which SunNoon gives.
func Around(at geodesy.LatLon, noon time.Time) Day {
	high := passage(at, noon.UTC(), 0)
	before := passage(at, high.Add(-12*time.Hour), 180)
	after := passage(at, high.Add(12*time.Hour), 180)
	return Day{
		Dawn: passing(at, high, before, duskDeg), Sunrise: passing(at, high, before, sunsetDeg),
		Sunset: passing(at, high, after, sunsetDeg), Dusk: passing(at, high, after, duskDeg),
	}
}

// Shortest returns the shortest of the days of some positions, in whole minutes: dawn and
// sunrise of the last to have them, rounded up, sunset and dusk of the first, rounded down.
func Shortest(days ...Day) Day {
	var out Day
	for i, d := range days {
		if i == 0 {
			out = d
			continue
		}
		out.Dawn, out.Sunrise = darker(out.Dawn, d.Dawn, time.Time.After), darker(out.Sunrise, d.Sunrise, time.Time.After)
		out.Sunset, out.Dusk = darker(out.Sunset, d.Sunset, time.Time.Before), darker(out.Dusk, d.Dusk, time.Time.Before)
	}
	for _, e := range []*Event{&out.Dawn, &out.Sunrise} {
		e.At = e.At.Add(time.Minute - 1).Truncate(time.Minute)
	}
	for _, e := range []*Event{&out.Sunset, &out.Dusk} {
		e.At = e.At.Truncate(time.Minute)
	}
	return out
}

// darker is the one of two events that leaves less light.
func darker(a, b Event, less func(a, b time.Time) bool) Event {
	if a.State == Below || b.State == Above {
		return a
	}
	if b.State == Below || a.State == Above || less(b.At, a.At) {
		return b
	}
	return a
}

// SunNoon is noon of a day by the mean sun of a longitude, to within 17 minutes that of
// the true sun.
func SunNoon(year int, month time.Month, day int, at geodesy.LatLon) time.Time {
	off := time.Duration(signedDeg(at.Lon.Deg()) / 15 * float64(time.Hour))
	return time.Date(year, month, day, 12, 0, 0, 0, time.UTC).Add(-off)
}

// Phase is how light it is.
type Phase int

// The phases, from none to the darkest.
const (
	Unknown Phase = iota
	Daylight
	Twilight // the sun has set, and stands less than 6° below the horizon
	Dark
)

// String is "daylight", "twilight" or "dark", "" where it is not known.
func (p Phase) String() string {
	return [...]string{"", "daylight", "twilight", "dark"}[min(max(p, Unknown), Dark)]
}

// PhaseAt returns how light it is at an instant.
func PhaseAt(at geodesy.LatLon, t time.Time) Phase {
	switch height := sunAt(t).heightDeg(at); {
	case height >= sunsetDeg:
		return Daylight
	case height >= duskDeg:
		return Twilight
	}
	return Dark
}

// Midnight returns how dark it gets at the sun's lowest points between two instants; Unknown
// where none lies between. Whoever is on the way then may leave and arrive in daylight.
func Midnight(at geodesy.LatLon, from, to time.Time) Phase {
	darkest := Unknown
	const day = 24 * time.Hour
	for low := passage(at, from.UTC(), 180); low.Before(to) && darkest < Dark; low = passage(at, low.Add(day), 180) {
		if low.After(from) {
			darkest = max(darkest, PhaseAt(at, low))
		}
	}
	return darkest
}

// Sinks reports whether the sun is on its way down, from its highest point to its lowest.
func Sinks(at geodesy.LatLon, t time.Time) bool { return sunAt(t).hourDeg(at) > 0 }

// passing finds by halving when the sun passes a limit between its highest and its lowest
// point, in whichever order these are.
func passing(at geodesy.LatLon, high, low time.Time, limitDeg float64) Event {
	if sunAt(high).heightDeg(at) < limitDeg {
		return Event{State: Below}
	}
	if sunAt(low).heightDeg(at) >= limitDeg {
		return Event{State: Above}
	}
	for low.Sub(high).Abs() > 100*time.Millisecond {
		middle := high.Add(low.Sub(high) / 2)
		if sunAt(middle).heightDeg(at) >= limitDeg {
			high = middle
		} else {
			low = middle
		}
	}
	return Event{At: high.Round(time.Second)}
}

// OffSun returns by how much the clock of a zone is ahead of the mean sun at a position,
// between −12 and 12 hours.
func OffSun(at geodesy.LatLon, t time.Time) time.Duration {
	_, off := t.Zone()
	hours := float64(off)/3600 - at.Lon.Deg()/15
	return time.Duration(math.Remainder(hours, 24) * float64(time.Hour))
}

// FlatHorizon says what the times leave out; it stands wherever they are shown or written.
const FlatHorizon = "Flat horizon: it gets dark sooner in a valley or under cloud."
