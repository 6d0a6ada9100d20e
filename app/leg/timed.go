package leg

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/light"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/units"
)

// Timed is what a row says of time. What is not known is zero: walking time where nobody
// gets through or the route is too much, the clock without a start, or after a break of
// the route or a leg without a walking time.
type Timed struct {
	Time    time.Duration // walking, without rests
	RunTime time.Duration // running, on the flat
	Leave   time.Time     // by the clock of the plan's zone, rests included
	Arrive  time.Time
	OrLater bool        // Arrive leaves out climb that is not known, of this leg or an earlier one
	Light   light.Phase // the darkest on the leg

	TimeCautions []caution.Caution // what speaks against these; do not write into it
}

// timing works out the times of a plan's rows.
type timing struct {
	p    *plan.Plan
	rule pace.Rule
	at   []geodesy.LatLon // around the route
	days map[plan.Date]light.Day
}

// time fills in the times of all legs, one unbroken part of the route after the other.
func (r *Reader) time(legs []Row) {
	t := timing{r.p, r.p.Timing.Rule(r.p.Party), around(legs), map[plan.Date]light.Day{}}
	for _, c := range r.p.Chains() {
		t.walk(legs[c.First:c.Last+1], r.p.Legs[c.First:c.Last+1])
	}
	if len(legs) > 0 {
		t.clock(legs[:r.p.Chains()[0].Last+1])
	}
	if c, far := offSun(t.at, r.p); far {
		for i := range legs {
			legs[i].warn(c)
		}
	}
}

// walk fills in the walking times of an unbroken part of the route, whose legs share the
// ratio of Tranter's table.
func (t timing) walk(rows []Row, legs []plan.Leg) {
	minutes, all := make([]float64, len(rows)), 0.0
	for i := range rows {
		row := &rows[i]
		if row.Err != nil {
			continue
		}
		row.RunTime = timeFor(row.Reading.GroundM, t.p.Party.RunSpeedKmh)
		if minutes[i] = row.Minutes(t.rule, legs[i].Ground); math.IsInf(minutes[i], 1) {
			if !legs[i].Ground.Passable() { // an area says so itself
				through := caution.Of(caution.NoWayThrough)
				row.Reading.Cautions = append([]caution.Caution{through}, row.Reading.Cautions...)
			}
			minutes[i] = 0
		}
		all += minutes[i]
	}
	hours, ok := t.p.Timing.OnRoute(all / 60)
	for i := range rows {
		switch {
		case !ok:
			rows[i].warn(caution.Of(caution.TooMuch))
		case all > 0:
			rows[i].Time = pace.Duration(minutes[i] * hours * 60 / all)
		}
	}
}

// UntimedWords say which legs no sum of walking times counts, "" for none: " (not counting
// leg 4)".
func UntimedWords(rows []Row) string {
	var names []string
	for i, row := range rows {
		if row.Time == 0 {
			names = append(names, fmt.Sprint(i+1))
		}
	}
	switch len(names) {
	case 0:
		return ""
	case 1:
		return " (not counting leg " + names[0] + ")"
	}
	return " (not counting legs " + strings.Join(names, ", ") + ")"
}

// TimeWords write a walking time: "27 min", or "27 min if flat" where the climb is not known.
func TimeWords(d time.Duration, climbKnown bool) string {
	if climbKnown {
		return units.Minutes(d)
	}
	return units.Minutes(d) + " if flat"
}

// Per100m is how many double paces a party takes to 100 m of the leg, by its climb and descent as
// far as they are known.
func (row Row) Per100m(p plan.Party) float64 { return p.Counts().Of(row.Way()) }

// Walking returns how long a party takes for a single reading, off a path, on the
// flat and without rests; 0 where it is too much to be attempted.
func (r Reading) Walking(p *plan.Plan) time.Duration {
	minutes := p.Timing.Rule(p.Party).Minutes(pace.Even(r.GroundM, 0, 0), pace.Unsaid)
	hours, ok := p.Timing.OnRoute(minutes / 60)
	if !ok {
		return 0
	}
	return pace.Duration(60 * hours)
}

// clock fills in when each leg begins and ends, from the start on, as far as the walking
// times are known.
func (t timing) clock(rows []Row) {
	at, ok := t.p.Timing.StartOn(t.p.Date)
	if !ok {
		return
	}
	orLater := false
	for i := range rows {
		row := &rows[i]
		if row.Err != nil || row.Time == 0 {
			return
		}
		orLater = orLater || !row.ClimbKnown()
		row.OrLater = orLater
		row.Leave = at
		at = at.Add(row.Time + t.p.Timing.Rests(row.Time))
		row.Arrive = at
		t.light(row)
	}
}

// light says how dark it is on a leg, and what that means.
func (t timing) light(row *Row) {
	from, to := row.Reading.FromLatLon, row.Reading.ToLatLon
	leaving, arriving := light.PhaseAt(from, row.Leave), light.PhaseAt(to, row.Arrive)
	row.Light = max(leaving, arriving, light.Midnight(from, row.Leave, row.Arrive))
	switch {
	case row.Light == light.Dark:
		row.warn(caution.Of(caution.InTheDark, t.darkWords(row, leaving == light.Dark, arriving == light.Dark)))
	case arriving == light.Twilight && light.Sinks(to, row.Arrive):
		row.warn(caution.Of(caution.AfterSunset, clockText(row.Arrive)))
	}
}

// around are the corners of the latitudes and longitudes of the legs that can be read.
func around(legs []Row) []geodesy.LatLon {
	var lats, lons []units.Angle
	for _, row := range legs {
		if row.Err == nil {
			lats = append(lats, row.Reading.FromLatLon.Lat, row.Reading.ToLatLon.Lat)
			lons = append(lons, row.Reading.FromLatLon.Lon, row.Reading.ToLatLon.Lon)
		}
	}
	if len(lats) == 0 {
		return nil
	}
	s, n, w, e := slices.Min(lats), slices.Max(lats), slices.Min(lons), slices.Max(lons)
	return []geodesy.LatLon{{Lat: s, Lon: w}, {Lat: s, Lon: e}, {Lat: n, Lon: w}, {Lat: n, Lon: e}}
}

// ground are positions around the route or, without a leg that can be read, the middle of
// the first calibrated sheet.
func (r *Reader) ground() []geodesy.LatLon {
	if at := around(r.Legs()); at != nil {
		return at
	}
	for _, s := range r.sheets {
		if sys, err := r.SystemOf(s.code); err == nil && s.c != nil {
			if at, _, err := sys.ToWGS84(s.ground); err == nil {
				return []geodesy.LatLon{at}
			}
		}
	}
	return nil
}

// Day is the light of the plan's day wherever it is written: the shortest of those around its
// ground. It is false while date, time zone or ground is not known.
func (r *Reader) Day() (light.Day, bool) {
	zone, at := r.p.Timing.Location(), r.ground()
	if zone == nil || r.p.Date.IsZero() || at == nil {
		return light.Day{}, false
	}
	return shortest(at, r.p.Date, zone), true
}

// shortest is the shortest of the days of some positions by the clock of a zone.
func shortest(at []geodesy.LatLon, d plan.Date, zone *time.Location) light.Day {
	var days []light.Day
	for _, p := range at {
		days = append(days, light.Around(p, time.Date(d.Year, d.Month, d.Day, 12, 0, 0, 0, zone)))
	}
	return light.Shortest(days...)
}

// SunsetWords say when the sun sets on the plan's ground and when twilight ends, or what is
// missing to say it.
func (r *Reader) SunsetWords() string {
	zone := r.p.Timing.Location()
	if zone == nil || r.p.Date.IsZero() {
		return "To see when the sun sets, set the date and time zone."
	}
	day, ok := r.Day()
	if !ok {
		return "To see when the sun sets, calibrate the sheet."
	}
	return light.SunsetWords(day, zone) + " " + light.FlatHorizon
}

// OffSun is the caution about a clock far from the sun on the plan's ground, if it is. It holds
// for every time by that clock, the sunset's too.
func (r *Reader) OffSun() (caution.Caution, bool) { return offSun(r.ground(), r.p) }

func offSun(at []geodesy.LatLon, p *plan.Plan) (c caution.Caution, far bool) {
	zone, d := p.Timing.Location(), p.Date
	if zone == nil || d.IsZero() || at == nil {
		return c, false
	}
	off := light.OffSun(at[0], time.Date(d.Year, d.Month, d.Day, 12, 0, 0, 0, zone))
	return caution.Of(caution.ZoneOffSun, p.Timing.Zone, offWords(off)), off.Abs() > mostOffSun
}

// mostOffSun is how far the clock may be from the sun without a word.
const mostOffSun = 3 * time.Hour

// offWords says how far a clock is from the sun: "3.4 h ahead of".
func offWords(off time.Duration) string {
	if off < 0 {
		return fmt.Sprintf("%.1f h behind", -off.Hours())
	}
	return fmt.Sprintf("%.1f h ahead of", off.Hours())
}

// darkWords says why a leg is dark: "it ends at 16:50, but twilight ends at 16:31".
func (t timing) darkWords(row *Row, leaving, arriving bool) string {
	if !leaving && !arriving {
		return "night falls between " + clockText(row.Leave) + " and " + clockText(row.Arrive)
	}
	words, when := "it ends at ", row.Arrive
	if leaving {
		words, when = "it begins at ", row.Leave
	}
	words += clockText(when)
	d := t.day(when)
	switch {
	case d.Dawn.State == light.Occurs && when.Before(d.Dawn.At):
		return words + ", but twilight begins at " + clockText(d.Dawn.At.In(when.Location()))
	case d.Dusk.State == light.Occurs && !when.Before(d.Dusk.At):
		return words + ", but twilight ends at " + clockText(d.Dusk.At.In(when.Location()))
	}
	return words
}

// day is the light of the day of an instant, worked out once.
func (t timing) day(when time.Time) light.Day {
	date := plan.DateOf(when)
	d, known := t.days[date]
	if !known {
		d = shortest(t.at, date, when.Location())
		t.days[date] = d
	}
	return d
}

// clockText writes a time by the clock to the nearest minute.
func clockText(t time.Time) string { return t.Round(time.Minute).Format("15:04") }

// Cautions are all that speaks against a row: against its reading, its heights, its times.
func (row Row) Cautions() []caution.Caution {
	return slices.Concat(row.Reading.Cautions, row.HeightCautions, row.TimeCautions)
}

func (row *Row) warn(c caution.Caution) { row.TimeCautions = append(row.TimeCautions, c) }

// ClockWords writes when a leg ends by the clock, "" where it is not known, and counts the
// days after the first: "01:10 (day 2)", "01:10 or later (day 2)".
func (t Timed) ClockWords(start plan.Date) string {
	if t.Arrive.IsZero() {
		return ""
	}
	words := clockText(t.Arrive)
	if t.OrLater {
		words += OrLaterWords
	}
	if days := int(math.Round(plan.DateOf(t.Arrive.Round(time.Minute)).Time().Sub(start.Time()).Hours() / 24)); days > 0 {
		words += fmt.Sprintf(" (day %d)", days+1)
	}
	return words
}

// OrLaterWords stand behind a time by the clock that leaves out climb.
const OrLaterWords = " or later"
