// Package feature turns a plan into features for programs that show maps: each named thing
// with its shape on WGS 84, its words and what speaks against it. mapio/geojson and mapio/placemark
// write them, so that both say the same. It writes no file itself. What a receiver needs is the
// work of mapio/gpx.
//
// The description of a feature begins with its stops and ends with its cautions. The name of an
// escape that is not ticked begins with DRAFT. Sights and teaching stay in the plan.
package feature

import (
	"errors"
	"time"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// PlanningAid stands in every file.
const PlanningAid = "Planning aid only. Check every bearing against the map before walking on it, " +
	"carry a paper map and a compass, and let the ground and the weather overrule the plan."

// ErrNothing is returned for a plan in which there is nothing to write.
var ErrNothing = errors.New("there is nothing to export yet: keep a leg, set a mark or draw something first")

// Document is a plan as features. Whole says that it is a planning aid, and what speaks against
// all of it; Stop names all stops in few words, "" for none.
type Document struct {
	Title, Whole, Stop string
	Date               time.Time // of the outing; zero for none
	Features           []Feature
}

// About is what there is to say of the whole, its stops first.
func (d *Document) About() string {
	if d.Stop == "" {
		return d.Whole
	}
	return d.Stop + ". " + d.Whole
}

// Feature is one thing of a plan. Its shape is a point for one position, an area where Closed,
// and else a line.
type Feature struct {
	Kind   plan.Kind
	Sort   string // what a hazard, haven, line or area is, such as "crag"; "" for others
	Name   string
	Note   string // the person's own
	Text   string // for people: stops first, cautions last
	Stop   string // its stops in few words, "" for none
	Closed bool
	KeepM  float64 // of a hazard: how far a leg keeps from it, metres
	Cross  string  // of water: how it is crossed, such as "ford"; "" for not at all
	Points []Point // of an area, the first is not repeated at the end
}

// Point is a position of a feature. A leg's two points have names.
type Point struct {
	Name    string
	At      geodesy.LatLon
	HeightM float64           // by the plan's terrain; NaN if not known
	Lasting []caution.Caution // cautions that stay with it when the file is read again
}
