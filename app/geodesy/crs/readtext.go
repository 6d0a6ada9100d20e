package crs

import (
	"fmt"
	"strconv"
	"strings"
)

// BadDefinition is the error of a text that does not define a grid that is read here.
// Reason is a sentence for people.
type BadDefinition struct{ Reason string }

func (e *BadDefinition) Error() string { return e.Reason }

// ReadableGrids says which definitions are read.
const ReadableGrids = "supported: Transverse Mercator, UTM, Lambert conformal conic (one or two parallels), " +
	"Lambert azimuthal equal-area, Swiss oblique Mercator, Mercator, Web Mercator, polar stereographic, UPS, " +
	"latitude and longitude"

// Limits of a definition.
const (
	MaxDefinition    = 64 << 10 // bytes
	maxTitle         = 60       // letters
	minAxisM         = 6.3e6    // equatorial radius
	maxAxisM         = 6.45e6
	minInvF, maxInvF = 150, 400
)

// Read reads a PROJ string or well-known text. The error is a *BadDefinition.
func Read(text string) (*Definition, error) {
	if strings.Contains(text, "proj=") || strings.Contains(text, "init=") {
		if !strings.ContainsAny(text[:1], "PGBCLVD") { // a keyword of well-known text
			return ReadProj(text)
		}
	}
	if strings.ContainsAny(text, "[(") {
		return readWKT(text)
	}
	return nil, Bad("%q is neither a PROJ string, such as +proj=tmerc +lat_0=53 +lon_0=-4 +ellps=GRS80, "+
		"nor well-known text, such as PROJCS[…], nor a code, such as EPSG:27700", shorten(text))
}

// BareCode reads "EPSG:27700", and the OGC's names for it.
func BareCode(text string) (int, bool) {
	t := strings.ToLower(text)
	for _, prefix := range []string{
		"epsg:", "urn:ogc:def:crs:epsg::", "http://www.opengis.net/def/crs/epsg/0/", "https://www.opengis.net/def/crs/epsg/0/",
	} {
		if digits, ok := strings.CutPrefix(t, prefix); ok && digits != "" && strings.Trim(digits, "0123456789") == "" && len(digits) < 8 {
			n, err := strconv.Atoi(digits)
			return n, err == nil
		}
	}
	return 0, false
}

// Bad returns a *BadDefinition with a reason.
func Bad(format string, args ...any) *BadDefinition {
	return &BadDefinition{Reason: fmt.Sprintf(format, args...)}
}

// shorten cuts text from a file so that it fits into a sentence.
func shorten(text string) string {
	const most = 40
	clean := strings.Map(func(r rune) rune {
		if r < ' ' || r == '\ufffd' {
			return ' '
		}
		return r
	}, text)
	if len([]rune(clean)) <= most {
		return clean
	}
	return string([]rune(clean)[:most]) + "…"
}
