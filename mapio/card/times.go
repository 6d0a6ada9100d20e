package card

import (
	"errors"
	"fmt"
	"time"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

// ActAfter is how long after due back the person at home acts unless another time is chosen
// (common practice, no source).
const ActAfter = 2 * time.Hour

// Home is what a base sheet says beside the plan.
type Home struct {
	People  People
	DueBack time.Time // zero for the end of the route by the plan's clock
	ActAt   time.Time // zero for ActAfter later
}

// ErrNoEnd is returned if neither the person nor the plan says when the party is due back.
var ErrNoEnd = errors.New("the plan does not say when the route ends: say when the party is due back, or set the date, time zone and start")

// Home is what a base sheet says of people, with the times that When reads, "" for the usual ones.
func (c *Content) Home(p People, dueBack, actAt string) (h *Home, err error) {
	h = &Home{People: p}
	for _, x := range []struct {
		text string
		at   *time.Time
	}{{dueBack, &h.DueBack}, {actAt, &h.ActAt}} {
		if x.text == "" {
			continue
		}
		if *x.at, err = c.When(x.text); err != nil {
			return nil, err
		}
	}
	return h, nil
}

// When reads a time such as "17:30", on the plan's date, or "2026-11-28 17:30", by the plan's
// clock. A plan without a time zone takes the time as it is written.
func (c *Content) When(text string) (time.Time, error) {
	at, hasDay, err := timeIn(text, c.clock.zone())
	if err != nil || hasDay {
		return at, err
	}
	if c.clock.date.IsZero() {
		return time.Time{}, fmt.Errorf("%s needs a date, as the plan has none: write it as 2026-11-28 %s", text, text)
	}
	d := c.clock.date
	return time.Date(d.Year, d.Month, d.Day, at.Hour(), at.Minute(), 0, 0, c.clock.zone()), nil
}

// CheckTime returns why When reads a text for no plan, nil for "".
func CheckTime(text string) error {
	if text == "" {
		return nil
	}
	_, _, err := timeIn(text, time.UTC)
	return err
}

// timeIn reads a time of some day, or of its own.
func timeIn(text string, zone *time.Location) (at time.Time, hasDay bool, err error) {
	if at, err = time.ParseInLocation("2006-01-02 15:04", text, zone); err == nil {
		return at, true, nil
	}
	if at, err = time.Parse("15:04", text); err != nil {
		err = fmt.Errorf("%q is not a time: write 17:30 or 2026-11-28 17:30", text)
	}
	return at, false, err
}

// planClock is the clock of a plan.
type planClock struct {
	date plan.Date
	in   *time.Location // nil where no zone is set
	end  time.Time      // of the route, zero where it is not known

	orLater bool // end leaves out climb that is not known
}

func (k planClock) zone() *time.Location {
	if k.in == nil {
		return time.UTC
	}
	return k.in
}

// words write a time with its day, and its zone where the plan has one.
func (k planClock) words(at time.Time) string {
	form := "15:04 MST on Monday 2 January 2006"
	if k.in == nil {
		form = "15:04 on Monday 2 January 2006"
	}
	return at.In(k.zone()).Format(form)
}

// short writes a time, with its day where that is not the plan's.
func (k planClock) short(at time.Time) string {
	at = at.In(k.zone())
	if plan.DateOf(at) == k.date {
		return at.Format("15:04")
	}
	return at.Format("15:04 on Monday 2 January")
}

// times are when the party is due back and when somebody acts, to the minute. Errors: ErrNoEnd,
// nobody says when the party is due back and the route may end later than its clock says, and
// times that contradict each other.
func (k planClock) times(h Home) (due, act time.Time, err error) {
	due, act = h.DueBack, h.ActAt
	if due.IsZero() {
		due = upToMinute(k.end)
	}
	switch {
	case due.IsZero():
		return due, act, ErrNoEnd
	case h.DueBack.IsZero() && k.orLater:
		return due, act, fmt.Errorf("the climb of some legs is not known, so the route ends at %s%s: say when the party is due back", k.words(due), leg.OrLaterWords)
	case due.Before(k.end):
		return due, act, fmt.Errorf("the party is due back at %s, but the route ends at %s: choose a later time", k.words(due), k.words(upToMinute(k.end)))
	case act.IsZero():
		act = due.Add(ActAfter)
	case act.Before(due):
		return due, act, fmt.Errorf("ACT AT %s is before the party is due back, at %s: choose a later time", k.words(act), k.words(due))
	}
	return due, act, nil
}

// upToMinute rounds a time up to the minute; the zero time stays.
func upToMinute(at time.Time) time.Time {
	if cut := at.Truncate(time.Minute); !cut.Equal(at) {
		return cut.Add(time.Minute)
	}
	return at
}

// against says how much later or earlier than another a time is: "1 h 05 later than the DUE BACK time".
func against(at, than time.Time, name string) string {
	switch d := at.Sub(than).Round(time.Minute); {
	case d > 0:
		return units.Minutes(d) + " later than " + name
	case d < 0:
		return units.Minutes(-d) + " before " + name
	}
	return "at " + name
}
