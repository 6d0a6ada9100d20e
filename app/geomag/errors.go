package geomag

import (
	"fmt"
	"math"
	"time"
)

// OutsideModel is the error of a date for which no embedded model holds. Years
// are decimal.
type OutsideModel struct{ Year, From, To float64 }

func (e *OutsideModel) Error() string {
	if e.Year != e.Year {
		return fmt.Sprintf("the year is not a number: give a date from %s to %s", dayOf(e.From), dayOf(e.To))
	}
	return fmt.Sprintf("%s is outside the magnetic model, which is valid from %s to %s: choose a date in that range",
		dayOf(e.Year), dayOf(e.From), dayOf(e.To))
}

// Days writes the first and the last day for which there is a model.
func (e *OutsideModel) Days() string { return dayOf(e.From) + " to " + dayOf(e.To) }

// dayOf writes the day of a decimal year, or the year if a calendar has no such year.
func dayOf(year float64) string {
	if !(year >= 0 && year < 10000) {
		return fmt.Sprintf("the year %.0f", year)
	}
	first := time.Date(int(year), time.January, 1, 0, 0, 0, 0, time.UTC)
	days := first.AddDate(1, 0, 0).Sub(first).Hours() / 24
	n := math.Floor((year-math.Floor(year))*days + 1e-6) // DecimalYear is the start of a day, but for rounding
	return first.AddDate(0, 0, int(n)).Format("2 January 2006")
}

// BadSite is the error of a position at which the field cannot be computed.
type BadSite struct {
	What  string  // "latitude", "longitude", "height"
	Value float64 // degrees or metres
	Range string  // what is allowed, with its unit
}

func (e *BadSite) Error() string {
	return fmt.Sprintf("%s %g cannot be used: give a value %s", e.What, e.Value, e.Range)
}
