package escape

import (
	"time"

	"legwright/app/light"
)

// Event is what gives the hour by which a party must be off the hill.
type Event string

// The events. LatestHour is the one that the leader set: it counts where it is earlier than the
// other, or that does not occur.
const (
	Sunset     Event = "sunset"
	Twilight   Event = "end of civil twilight"
	LatestHour Event = "latest hour"
)

// OffBy is when a party must be off the hill: the hour that a turn-back time is counted
// from, by the clock of the outing; zero for none.
type OffBy struct {
	At    time.Time
	Event Event
}

// Words name the hour with its event: "sunset at 15:38".
func (by OffBy) Words() string {
	event := string(by.Event)
	if by.Event != Sunset {
		event = "the " + event
	}
	return event + " at " + clock(by.At)
}

// latest is the hour on a day with that light, or why there is none.
func (j *judge) latest(d light.Day, zone *time.Location) (by OffBy, why string) {
	name, event, up, down := Sunset, d.Sunset, "The sun does not set that day", "The sun does not rise that day"
	if j.p.Timing.UntilDusk {
		name, event, up, down = Twilight, d.Dusk, "It does not get dark that day", "It is dark all that day"
	}
	set, own := j.p.Timing.Latest.Set, j.clockOn(j.p.Timing.Latest, zone)
	switch occurs := event.State == light.Occurs; {
	case set && !(occurs && event.At.Before(own)):
		return OffBy{own, LatestHour}, ""
	case occurs:
		return OffBy{event.At.In(zone), name}, ""
	case event.State == light.Below:
		return OffBy{}, down
	}
	return OffBy{}, up
}
