package escape

import (
	"time"

	"legwright/app/light"
)

// Event is what gives the time by which a party must be off the hill.
type Event string

// The events. OwnTime is the one that the leader set: it counts where it is earlier than the
// other, or that does not occur.
const (
	Sunset   Event = "sunset"
	Twilight Event = "end of civil twilight"
	OwnTime  Event = "own latest time"
)

// OffBy is when a party must be off the hill: the time that a turn-back time is counted
// from, by the clock of the outing; zero for none.
type OffBy struct {
	At    time.Time
	Event Event
}

// Words name the time with its event: "sunset at 15:38".
func (by OffBy) Words() string {
	switch at := clock(by.At); by.Event {
	case OwnTime:
		return "your " + string(by.Event) + ", " + at
	case Twilight:
		return "the " + string(by.Event) + " at " + at
	default:
		return string(by.Event) + " at " + at
	}
}

// latest is the time on a day with that light, or why there is none.
func (j *judge) latest(d light.Day, zone *time.Location) (by OffBy, why string) {
	name, event, up, down := Sunset, d.Sunset, "The sun does not set that day", "The sun does not rise that day"
	if j.p.Timing.UntilDusk {
		name, event, up, down = Twilight, d.Dusk, "It does not get dark that day", "It is dark all that day"
	}
	set, own := j.p.Timing.Latest.Set, j.clockOn(j.p.Timing.Latest, zone)
	switch occurs := event.State == light.Occurs; {
	case set && !(occurs && event.At.Before(own)):
		return OffBy{own, OwnTime}, ""
	case occurs:
		return OffBy{event.At.In(zone), name}, ""
	case event.State == light.Below:
		return OffBy{}, down
	}
	return OffBy{}, up
}
