package geodesy

import (
	"strconv"
	"strings"

	"legwright/app/geodesy/crs"
)

// Code names a grid: "EPSG:27700" for one of the catalogue, or the definition
// of another as Define writes it, "+proj=tmerc …". Two codes that are the same
// name the same grid. The empty code names none.
type Code string

// epsgPrefix begins the code of a grid of the catalogue.
const epsgPrefix = "EPSG:"

// EPSG returns the code of a number of the EPSG dataset, and the empty code
// for 0.
func EPSG(number int) Code {
	if number == 0 {
		return ""
	}
	return Code(epsgPrefix + strconv.Itoa(number))
}

// EPSG returns the number of the EPSG dataset, or 0 where the code is a
// definition or empty.
func (c Code) EPSG() int {
	digits, ok := strings.CutPrefix(string(c), epsgPrefix)
	if !ok {
		return 0
	}
	n, err := strconv.Atoi(digits)
	if err != nil || n < 0 {
		return 0
	}
	return n
}

// Defined reports whether the code is a definition, not a number.
func (c Code) Defined() bool { return strings.HasPrefix(string(c), "+") }

// Name returns the grid's name for people, or the code itself if it is unknown.
func (c Code) Name() string {
	if s, err := Lookup(c); err == nil {
		return s.name
	}
	return string(c)
}

// Alike reports whether two codes name the same grid, whatever it is called: a
// definition keeps the name that its text gave it.
func (c Code) Alike(d Code) bool { return c == d || c.Defined() && c.untitled() == d.untitled() }

// untitled is the code without the name of the grid, which comes last.
func (c Code) untitled() string {
	text, _, _ := strings.Cut(string(c), " +"+crs.TitleKey+"=")
	return text
}

// Code returns the code by which Lookup finds the grid again.
func (s *System) Code() Code { return s.code }
