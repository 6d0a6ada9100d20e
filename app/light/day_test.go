package light_test

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"legwright/app/geodesy"
	"legwright/app/light"
)

// vector is a row of sun_events.tsv.
type vector struct {
	set, date string
	at        geodesy.LatLon
	day       light.Day
	two       [2][3]string // sunrise, sunset, dusk of the two programs
}

func vectors(t *testing.T) []vector {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "vectors", "sun_events.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	var out []vector
	for i, line := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		c := strings.Split(line, "\t")
		if i == 0 {
			continue
		}
		lat, err1 := strconv.ParseFloat(c[2], 64)
		lon, err2 := strconv.ParseFloat(c[3], 64)
		day, err3 := time.Parse(time.DateOnly, c[1])
		if err1 != nil || err2 != nil || err3 != nil || len(c) != 10 {
			t.Fatalf("row %q", line)
		}
		at := geodesy.DegLatLon(lat, lon)
		out = append(out, vector{
			c[0], line, at, light.Around(at, light.SunNoon(day.Year(), day.Month(), day.Day(), at)),
			[2][3]string{[3]string(c[4:7]), [3]string(c[7:10])},
		})
	}
	return out
}

// Two independent programs (testdata/vectors/README.md): below latitude 65° each event is
// within a minute of both; everywhere it occurs where it does with them.
func TestTwoProgramsAgree(t *testing.T) {
	t.Parallel()
	counted, worst := 0, time.Duration(0)
	for _, v := range vectors(t) {
		if v.set == "below65" {
			counted++
		}
		for i, got := range []light.Event{v.day.Sunrise, v.day.Sunset, v.day.Dusk} {
			for _, program := range v.two {
				want, err := time.Parse(time.RFC3339, program[i])
				if err != nil {
					state := map[string]light.State{"above": light.Above, "below": light.Below, "none": got.State}[program[i]]
					if got.State == light.Occurs || got.State != state || !got.At.IsZero() {
						t.Errorf("%s: event %d is %+v, want %s", v.date, i, got, program[i])
					}
					continue
				}
				off := got.At.Sub(want).Abs()
				if v.set == "below65" {
					worst = max(worst, off)
				}
				if most := map[string]time.Duration{"below65": time.Minute, "polar": 4 * time.Minute}[v.set]; got.State != light.Occurs || off > most {
					t.Errorf("%s: event %d is %+v, %v off %v", v.date, i, got, off, want)
				}
			}
		}
	}
	if counted != 60 {
		t.Errorf("%d places below 65°, want 60", counted)
	}
	t.Logf("at most %v off below 65°", worst)
}

// Dawn, sunrise, sunset and dusk follow each other within a day, and the sun sets on the
// day it rose even where that is after midnight.
func TestOrderOfTheDay(t *testing.T) {
	t.Parallel()
	for lat := -65.0; lat <= 65; lat += 6.5 {
		for month := time.January; month <= time.December; month++ {
			at := geodesy.DegLatLon(lat, 180-lat)
			d := light.Around(at, light.SunNoon(2026, month, 21, at))
			last := time.Time{}
			for i, e := range []light.Event{d.Dawn, d.Sunrise, d.Sunset, d.Dusk} {
				if e.State != light.Occurs {
					continue
				}
				if !e.At.After(last) || !last.IsZero() && e.At.After(last.Add(24*time.Hour)) || e.At.Nanosecond() != 0 {
					t.Errorf("latitude %v, %v: event %d at %v after %v", lat, month, i, e.At, last)
				}
				last = e.At
			}
			phases := [][2]light.Phase{{light.Dark, light.Twilight}, {light.Twilight, light.Daylight}, {light.Daylight, light.Twilight}, {light.Twilight, light.Dark}}
			for i, e := range []light.Event{d.Dawn, d.Sunrise, d.Sunset, d.Dusk} {
				if e.State != light.Occurs {
					continue
				}
				got := [2]light.Phase{light.PhaseAt(at, e.At.Add(-time.Minute)), light.PhaseAt(at, e.At.Add(time.Minute))}
				if got != phases[i] {
					t.Errorf("latitude %v, %v: phases %v around event %d, want %v", lat, month, got, i, phases[i])
				}
			}
		}
	}
	// Reykjavik's latitude and longitude, 21 June 2026: printed almanacs give sunset shortly
	// after midnight by the clock, which is UTC (from memory).
	d := light.Around(geodesy.DegLatLon(64.15, -21.94), time.Date(2026, 6, 21, 12, 0, 0, 0, time.UTC))
	if d.Sunset.At.Day() != 22 || d.Sunset.At.Hour() != 0 || d.Sunrise.At.Day() != 21 {
		t.Errorf("the sun rises %v and sets %v", d.Sunrise.At, d.Sunset.At)
	}
}

// The calendar repeats after 400 years, and the sun with it to some minutes: no date so far
// off has the sun stand still.
func TestFarYears(t *testing.T) {
	t.Parallel()
	at := geodesy.DegLatLon(57, -5)
	day := func(year int) light.Day { return light.Around(at, light.SunNoon(year, time.December, 21, at)) }
	for _, year := range []int{1226, 1626, 2426, 2826} {
		far, near := day(year), day(2026)
		for i, e := range []light.Event{far.Dawn, far.Sunrise, far.Sunset, far.Dusk} {
			want := []light.Event{near.Dawn, near.Sunrise, near.Sunset, near.Dusk}[i]
			clock := func(e light.Event) time.Duration { return e.At.Sub(e.At.Truncate(24 * time.Hour)) }
			if off := clock(e) - clock(want); e.State != light.Occurs || e.At.Year() != year || off.Abs() > 10*time.Minute {
				t.Errorf("%d: event %d is %+v, in 2026 %+v", year, i, e, want)
			}
		}
	}
}

// At the poles the sun has no hour, and what does not occur there is a state.
func TestPoles(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		lat   float64
		month time.Month
		want  light.State
	}{{90, 6, light.Above}, {90, 12, light.Below}, {-90, 6, light.Below}, {-90, 12, light.Above}} {
		d := light.Around(geodesy.DegLatLon(c.lat, 0), time.Date(2026, c.month, 21, 12, 0, 0, 0, time.UTC))
		for i, e := range []light.Event{d.Dawn, d.Sunrise, d.Sunset, d.Dusk} {
			if e != (light.Event{State: c.want}) {
				t.Errorf("latitude %v in month %d: event %d is %+v", c.lat, c.month, i, e)
			}
		}
	}
}

// A clock that is ahead of the sun is so by the same hours on either side of the date line.
func TestOffSun(t *testing.T) {
	t.Parallel()
	zone := func(hours int) time.Time {
		return time.Date(2026, 1, 1, 12, 0, 0, 0, time.FixedZone("", hours*3600))
	}
	for _, c := range []struct{ lon, hours, want float64 }{
		{0, 0, 0}, {-6, 0, 0.4}, {75, 8, 3}, {-172.5, 13, 0.5}, {172.5, -12, 0.5}, {-75, -8, -3}, {178, 12, 2.0 / 15},
	} {
		got := light.OffSun(geodesy.DegLatLon(40, c.lon), zone(int(c.hours))).Hours()
		if got < c.want-1e-6 || got > c.want+1e-6 {
			t.Errorf("longitude %v, UTC%+v: %v h ahead of the sun, want %v", c.lon, c.hours, got, c.want)
		}
	}
}

// Of two positions the shorter day counts at each end, in whole minutes inwards; no sunset
// at one of them is no reason to expect none.
func TestShortest(t *testing.T) {
	t.Parallel()
	at := func(clock string) light.Event {
		when, err := time.Parse("15:04:05", clock)
		if err != nil {
			t.Fatal(err)
		}
		return light.Event{At: when}
	}
	west := light.Day{Dawn: at("07:40:01"), Sunrise: at("08:20:00"), Sunset: at("15:58:10"), Dusk: at("16:40:59")}
	east := light.Day{Dawn: at("07:39:00"), Sunrise: at("08:21:30"), Sunset: at("15:57:59"), Dusk: light.Event{State: light.Above}}
	want := light.Day{Dawn: at("07:41:00"), Sunrise: at("08:22:00"), Sunset: at("15:57:00"), Dusk: at("16:40:00")}
	for _, days := range [][]light.Day{{west, east}, {east, west}} {
		if got := light.Shortest(days...); got != want {
			t.Errorf("got %v, want %v", got, want)
		}
	}
	night := light.Day{Dawn: light.Event{State: light.Below}, Sunrise: light.Event{State: light.Below}, Sunset: light.Event{State: light.Below}, Dusk: light.Event{State: light.Below}}
	for _, days := range [][]light.Day{{west, night}, {night, west}} {
		if got := light.Shortest(days...); got.Sunset.State != light.Below || got.Dawn.State != light.Below {
			t.Errorf("with a polar night: %v", got)
		}
	}
}

// What does not occur is said in words: the days of TestLightWithoutAnEvent.
func TestSunsetWords(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		lat, lon float64
		month    time.Month
		day      int
		want     string
	}{
		{56.57, -2, 11, 28, "Sunset 15:38, civil twilight ends 16:24."},
		{69.6, 18.9, 6, 21, "The sun does not set."},
		{69.6, 18.9, 12, 21, "The sun does not rise, civil twilight ends 12:54."},
		{78.2, 15.6, 12, 21, "The sun does not rise, and it is dark all day."},
		{61.5, 24, 6, 21, "Sunset 20:10; it does not get dark: twilight lasts all night."},
	} {
		at := geodesy.DegLatLon(c.lat, c.lon)
		if got := light.SunsetWords(light.Around(at, light.SunNoon(2026, c.month, c.day, at)), time.UTC); got != c.want {
			t.Errorf("%v in month %d: %q, want %q", c.lat, c.month, got, c.want)
		}
	}
}

// A way from daylight to daylight is as dark as the sun's lowest point on it: dark in winter,
// twilight at midsummer at 62° N, where it stands 4.6° below the horizon (90° − 62° − 23.4°), and
// none where no midnight lies on it.
func TestMidnight(t *testing.T) {
	t.Parallel()
	at := geodesy.DegLatLon(62, -6.8)
	clock := func(month time.Month, day, hour int) time.Time {
		return time.Date(2026, month, day, hour, 0, 0, 0, time.UTC)
	}
	for _, c := range []struct {
		from, to time.Time
		want     light.Phase
	}{
		{clock(time.November, 28, 10), clock(time.November, 28, 14), light.Unknown},
		{clock(time.November, 28, 14), clock(time.November, 29, 10), light.Dark},
		{clock(time.June, 21, 20), clock(time.June, 22, 6), light.Twilight},
		{clock(time.June, 21, 20), clock(time.December, 22, 12), light.Dark},
	} {
		if got := light.Midnight(at, c.from, c.to); got != c.want {
			t.Errorf("from %v to %v: %v, want %v", c.from, c.to, got, c.want)
		}
	}
}
