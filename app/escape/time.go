package escape

import (
	"math"
	"time"

	"legwright/app/leg"
	"legwright/app/pace"
	"legwright/app/units"
)

// Speeds of a party on its way off, km/h (common practice, no source).
const (
	lineKmh    = 4.0
	compassKmh = 3.0
	darkKmh    = 2.5
)

// time works out how long a leg takes by day and in the dark. Without climb and descent
// there is no time: what is left out would be missing in the dark. Nor is there one through
// plantation.
func (j *judge) time(l *Leg) {
	if !l.Climb.Known() || !l.Descent.Known() {
		return
	}
	kmh := compassKmh
	if l.Along != "" {
		kmh = lineKmh
	}
	if day := l.minutesAt(kmh); !math.IsInf(day, 1) {
		l.Minutes, l.DarkMinutes = day, l.minutesAt(darkKmh)
	}
}

// minutesAt is the time of the leg at a speed on the flat; +Inf where nobody gets through. Bog takes
// what rough ground does, and an area of path saves nothing. Steep descent counts where the terrain has it, not by the slope of the whole leg.
func (l *Leg) minutesAt(kmh float64) float64 {
	rule := pace.Rule{Method: pace.NaismithMetric, SpeedKmh: kmh, Langmuir: true, NoSaving: true}
	steepM, dropM := 0.0, 0.0
	if l.Descent.From == leg.RiseTerrain {
		steepM, dropM = l.Profile.Down(units.Degrees(pace.SteepDeg), units.Degrees(90))
	}
	if dropM > l.Descent.M { // small falls that do not count as descent
		steepM, dropM = steepM*l.Descent.M/dropM, l.Descent.M
	}
	steepM = min(steepM, l.LengthM)
	part := func(share float64) []pace.Stretch {
		rest := pace.Even(share*(l.LengthM-steepM), share*l.Climb.M, share*(l.Descent.M-dropM))
		return append(rest, pace.Stretch{LengthM: share * steepM, RiseM: -share * dropM})
	}
	total := 0.0
	for _, s := range l.Shares(l.LengthM, pace.OffPath) {
		if s.Ground == pace.Path {
			s.Ground = pace.OffPath
		}
		total += rule.Minutes(part(s.Of), s.Ground)
	}
	return total
}

// minutes is so many minutes as a duration, 0 where they are not known.
func minutes(min float64) time.Duration { return pace.Duration(min) }

// ceilMinutes is minutes rounded up to whole ones: a turn-back time is never late.
func ceilMinutes(min float64) time.Duration { return minutes(math.Ceil(min - 1e-9)) }

// clock writes a time as the ledger does, with its day after the first: "01:10 (day 2)".
func (j *judge) clock(t time.Time) string { return leg.Timed{Arrive: t}.ClockWords(j.p.Date) }

// clock writes a time of day.
func clock(t time.Time) string { return t.Format("15:04") }
