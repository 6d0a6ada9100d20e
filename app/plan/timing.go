package plan

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"legwright/app/light"
	"legwright/app/pace"
	"legwright/app/units"
)

// Timing says how walking times are worked out, and when the party sets out.
type Timing struct {
	Method   pace.Method
	Langmuir bool         // descents are corrected; of the forms of Naismith's rule alone
	Fitness  pace.Fitness // row of Tranter's table, 0 for none; of these forms alone
	Load     bool         // 20 kg each: one line of the table lower, as Night and HeadWind
	Night    bool
	HeadWind bool

	RestMinPerHour float64   // minutes of rest for every hour of walking
	Start          TimeOfDay // by the clock of Zone
	Zone           string    // IANA name; "" while none is known

	// The latest time to be off the hill, which turn-back times are counted from: sunset, or
	// with UntilDusk the end of civil twilight; Latest where it is earlier, or neither occurs.
	UntilDusk bool
	Latest    TimeOfDay
}

// DefaultTiming returns that of a new plan: 10 minutes for every 100 m of climb on top of
// the party's speed, and 10 minutes of rest for every hour of walking, so that a time is
// never the least possible (common practice, no source).
func DefaultTiming() Timing { return Timing{Method: pace.NaismithMetric, RestMinPerHour: 10} }

// SetTiming returns the plan with another timing.
func (p *Plan) SetTiming(t Timing) *Plan { return p.with(func(q *Plan) { q.Timing = t }) }

// Rule is the rule that a party walks by.
func (t Timing) Rule(p Party) pace.Rule {
	return pace.Rule{Method: t.Method, SpeedKmh: p.SpeedKmh, Langmuir: t.Langmuir && t.Method.CountsClimb()}
}

// TimingWords say by which rule times are worked out, and how much rest is counted:
// "Naismith, metric; 10 min of rest an hour".
func (p *Plan) TimingWords() string {
	t := p.Timing
	words := t.Method.Words()
	if t.Method.CountsClimb() && t.Langmuir {
		words += ", descents by Langmuir"
		if slices.ContainsFunc(p.Legs, func(l Leg) bool { return l.Descent.Known }) {
			words += " (descents that you counted save no time)"
		}
	}
	if t.UsesTranter() {
		words += ", Tranter’s table for a fitness of " + units.Minutes(time.Duration(t.Fitness)*time.Minute)
	}
	if t.RestMinPerHour <= 0 {
		return words + "; no rests"
	}
	return words + "; " + units.Minutes(time.Duration(t.RestMinPerHour*float64(time.Minute))) + " of rest an hour"
}

// UsesTranter reports whether Tranter's table is used.
func (t Timing) UsesTranter() bool { return t.Fitness != 0 && t.Method.CountsClimb() }

// OnRoute turns the hours of a whole route by the rule into those of this party; ok is
// false where Tranter's table calls the route too much to be attempted.
func (t Timing) OnRoute(hours float64) (float64, bool) {
	if !t.UsesTranter() {
		return hours, true
	}
	lines := 0
	for _, drops := range []bool{t.Load, t.Night, t.HeadWind} {
		if drops {
			lines++
		}
	}
	fitness, ok := t.Fitness.Dropped(lines)
	if !ok {
		return 0, false
	}
	return pace.Tranter(fitness, hours)
}

// Location returns the zone, or nil while none is known.
func (t Timing) Location() *time.Location {
	zone, err := light.Zone(t.Zone)
	if err != nil {
		return nil
	}
	return zone
}

// StartOn returns when the party sets out on a day; ok is false while time, zone or day is
// not set.
func (t Timing) StartOn(d Date) (at time.Time, ok bool) {
	zone := t.Location()
	if zone == nil || !t.Start.Set || d.IsZero() {
		return time.Time{}, false
	}
	return time.Date(d.Year, d.Month, d.Day, 0, t.Start.Minutes, 0, 0, zone), true
}

// Rests are how long a party rests in a time of walking.
func (t Timing) Rests(walking time.Duration) time.Duration {
	return time.Duration(float64(walking) * t.RestMinPerHour / 60)
}

// mostRests is the most minutes of rest for an hour of walking.
const mostRests = 120

// Validate checks the timing. The error is an *Invalid.
func (t Timing) Validate() error {
	reason := ""
	_, badZone := light.Zone(t.Zone)
	switch {
	case !slices.Contains(pace.Methods(), t.Method):
		reason = fmt.Sprintf("the walking-time rule %q is not known", t.Method)
	case t.Fitness != 0 && !slices.Contains(pace.Fitnesses(), t.Fitness):
		reason = fmt.Sprintf("Tranter's table has no row for a fitness of %d", t.Fitness)
	case !(t.RestMinPerHour >= 0 && t.RestMinPerHour <= mostRests): // NaN fails too
		reason = fmt.Sprintf("the rests are %g minutes per hour, but must be between 0 and %d", t.RestMinPerHour, mostRests)
	case !t.Start.valid() || !t.Latest.valid():
		reason = "the start or the latest time off the hill is not a time of day"
	case t.Zone != "" && badZone != nil:
		reason = badZone.Error()
	}
	return firstOf("the walking time", reason)
}

// TimeOfDay is a time by the clock, to the minute. The zero value means that none is set.
type TimeOfDay struct {
	Set     bool
	Minutes int // after midnight
}

// ClockTime returns a time of day that is set.
func ClockTime(hour, minute int) TimeOfDay { return TimeOfDay{true, 60*hour + minute} }

func (t TimeOfDay) valid() bool {
	return t.Minutes >= 0 && t.Minutes < 24*60 && (t.Set || t.Minutes == 0)
}

// String writes the time as 09:30, "" for none.
func (t TimeOfDay) String() string {
	if !t.Set {
		return ""
	}
	return fmt.Sprintf("%02d:%02d", t.Minutes/60, t.Minutes%60)
}

// BadTime is the error for a text that is not a time of day.
type BadTime struct{ Text string }

func (e *BadTime) Error() string {
	return fmt.Sprintf("%q is not a time of day: type one such as 09:30", e.Text)
}

// ParseTimeOfDay reads 9:30, 09.30, 0930, 9h30 or 9; nothing means none. Half a day with
// am or pm is read as well. The error is a *BadTime.
func ParseTimeOfDay(text string) (TimeOfDay, error) {
	body := strings.ToUpper(strings.Join(strings.Fields(text), ""))
	if body == "" {
		return TimeOfDay{}, nil
	}
	body = strings.NewReplacer(".", ":", "H", ":").Replace(body)
	body = strings.TrimSuffix(body, ":")
	if len(body) == 3 && !strings.ContainsAny(body, ":M") {
		body = "0" + body // 930
	}
	for _, layout := range []string{"15:04", "1504", "15", "3:04PM", "3PM"} {
		if t, err := time.Parse(layout, body); err == nil {
			return ClockTime(t.Hour(), t.Minute()), nil
		}
	}
	return TimeOfDay{}, &BadTime{text}
}
