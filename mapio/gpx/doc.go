// Package gpx writes legs and marks as GPX 1.1 and reads GPX 1.0 and 1.1 of any
// origin. It knows points, names and text. What a leg is, and what its description
// says, is decided in app/leg.
//
// The work is done by github.com/tkrajina/gpxgo between two guards. Before reading,
// the file is converted to UTF-8, checked against limits and reduced to the elements
// that matter, so that a stray field or an entity cannot do harm. Before writing,
// names, text and coordinates are brought into the form that the schema allows.
//
// A name begins with STOP where a stop speaks against what it names, and that of an escape that
// is not ticked with DRAFT: lists of a receiver show names alone. Where names are shorter than
// ShortNames letters, ! stands for both. What was written is read again and compared before any of it
// leaves this package.
package gpx

import (
	"time"

	"legwright/app/caution"
	"legwright/app/geodesy"
)

// Point is a named position on WGS 84. Stop names the stops on it in few words. It
// begins the description and is the comment too, because a receiver shows one or the
// other. Cautions are written to src, the GPX element for the reliability of data.
type Point struct {
	Name, Desc, Stop string
	At               geodesy.LatLon
	Cautions         []caution.Caution
}

// cautionsIn begins the src of a point with cautions.
const cautionsIn = "Legwright cautions:"

// Route is a series of points: a route, or one segment of a track. Stop names the
// stops on any of it and is its comment.
type Route struct {
	Name, Desc, Stop string
	Points           []Point
	Escape           bool // a way off, which is no part of the route
}

// escapeIn is the src of a route or track that is a way off: an import leaves these out,
// for as a route they would be walked.
const escapeIn = "Legwright escape"

// Document is the content of a GPX file. Stop names all stops in few words and
// begins the description of the file.
type Document struct {
	Title, Desc, Stop string
	Date              time.Time
	Marks             []Point
	Routes            []Route
	Tracks            []Route
}

// ShortNames is the limit of names below which a stop is one letter.
const ShortNames = 12

// DefaultNameLimit is the longest name in letters unless Options say
// otherwise.
const DefaultNameLimit = 30

// Options say how a document is written.
type Options struct {
	NameLimit int       // longest name in letters, 0 for DefaultNameLimit
	Plain     bool      // names in ASCII alone, for receivers that show no other letters
	Track     bool      // write each route as a track too
	Time      time.Time // when the file is made; the zero time leaves it out
}
