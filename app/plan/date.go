package plan

import (
	"fmt"
	"strings"
	"time"
)

// Date is the day of the outing. The zero value means that none is set.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// The years a plan may be dated in. The magnetic model covers far fewer, and
// says so itself.
const (
	MinYear = 1900
	MaxYear = 2200
)

// BadDate is the error for a date that is not one.
type BadDate struct{ Text string }

func (e *BadDate) Error() string {
	return fmt.Sprintf("%q is not a date: type year-month-day, such as 2026-11-25, from %d to %d", e.Text, MinYear, MaxYear)
}

// DateOf returns the day of t in t's own time zone.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// ParseDate reads "2026-11-25", "25 November 2026" or "25 Nov 2026". The
// error is a *BadDate.
func ParseDate(text string) (Date, error) {
	body := strings.Join(strings.Fields(text), " ")
	for _, layout := range []string{"2006-01-02", "2 January 2006", "2 Jan 2006"} {
		t, err := time.Parse(layout, body)
		if err == nil && DateOf(t).Valid() {
			return DateOf(t), nil
		}
	}
	return Date{}, &BadDate{Text: text}
}

// IsZero reports whether no date is set.
func (d Date) IsZero() bool { return d == Date{} }

// Valid reports whether the date exists and lies in MinYear to MaxYear.
func (d Date) Valid() bool {
	return d.Year >= MinYear && d.Year <= MaxYear && DateOf(d.Time()) == d
}

// Time returns 0 h UTC of the day.
func (d Date) Time() time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }

// String writes the date as 2026-11-25.
func (d Date) String() string { return fmt.Sprintf("%04d-%02d-%02d", d.Year, int(d.Month), d.Day) }

// Words writes the date for people, such as "25 November 2026".
func (d Date) Words() string { return fmt.Sprintf("%d %s %d", d.Day, d.Month, d.Year) }
