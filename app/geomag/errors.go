package geomag

import "fmt"

// OutsideModel is the error of a date for which no embedded model holds. Years
// are decimal.
type OutsideModel struct{ Year, From, To float64 }

func (e *OutsideModel) Error() string {
	if e.Year != e.Year {
		return fmt.Sprintf("the year is not a number: give a date from %.1f to %.1f", e.From, e.To)
	}
	return fmt.Sprintf("%.3f lies outside the magnetic model: give a date from %.1f to %.1f", e.Year, e.From, e.To)
}

// BadSite is the error of a place at which the field cannot be computed.
type BadSite struct {
	What  string  // "latitude", "longitude", "height"
	Value float64 // degrees or metres
	Range string  // what is allowed, with its unit
}

func (e *BadSite) Error() string {
	return fmt.Sprintf("%s %g cannot be used: give a value %s", e.What, e.Value, e.Range)
}
