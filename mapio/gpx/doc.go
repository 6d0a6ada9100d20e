// Package gpx writes legs and marks as GPX 1.1 and reads GPX 1.0 and 1.1 from
// anywhere. It knows points, names and text; what a leg is, and what its
// description says, is made elsewhere.
//
// The work is done by github.com/tkrajina/gpxgo between two guards. Before
// reading, the file is brought to UTF-8, held against limits and reduced to
// the elements that matter, so that a stray field or an entity cannot spoil
// it; before writing, names, text and coordinates are brought to what the
// schema allows.
package gpx

import (
	"time"

	"legwright/app/caution"
	"legwright/app/geodesy"
)

// Point is a named position on WGS 84. Stop are the stops against it in few words,
// which begin its description and are its comment too, for receivers show one or the
// other. Cautions are written to src, the GPX element for the reliability of data.
type Point struct {
	Name, Desc, Stop string
	At               geodesy.LatLon
	Cautions         []caution.Caution
}

// cautionsIn begins the src of a point with cautions.
const cautionsIn = "Legwright cautions:"

// Route is a series of points: a route, or one segment of a track. Stop are the stops
// against any of it, its comment.
type Route struct {
	Name, Desc, Stop string
	Points           []Point
}

// Document is the content of a GPX file. Stop are the stops against the whole in few
// words, which begin what the file says of itself.
type Document struct {
	Title, Desc, Stop string
	Date              time.Time
	Marks             []Point
	Routes            []Route
	Tracks            []Route
}

// DefaultNameLimit is the longest name in letters unless Options say
// otherwise.
const DefaultNameLimit = 30

// Caution is what every file says about itself.
const Caution = "Planning aid only. Check every bearing against the map before walking on it, " +
	"carry a paper map and a compass, and let the ground and the weather overrule the plan."

// Options say how a document is written.
type Options struct {
	NameLimit int       // longest name in letters, 0 for DefaultNameLimit
	Track     bool      // write each route as a track too
	Time      time.Time // when the file is made; the zero time leaves it out
}
