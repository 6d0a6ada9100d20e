package session

import (
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// ImportSigmaM is the σ per axis, in metres, given to positions read from an
// exchange file, which says nothing of its own: that of a hand-held receiver
// under open sky (common practice, no source).
const ImportSigmaM = 5.0

// joinM is how far apart, in metres, two positions of the same name count as one.
const joinM = 1.0

// ImportedPoint is a named position read from an exchange file.
type ImportedPoint struct {
	Name, Note string
	At         geodesy.LatLon    // WGS 84
	Cautions   []caution.Caution // what the file says against the position
}

// Imported is what was read from an exchange file: points become marks, routes
// become legs, tracks are shown, shapes become what they are said to be.
type Imported struct {
	Name   string // of the file, such as "walk.gpx"
	Marks  []ImportedPoint
	Routes [][]ImportedPoint
	Tracks []plan.Track
	Shapes []ImportedShape

	Escapes int // that the file holds: they are not imported, for as a route they would be walked
}

// Empty reports whether there is nothing to import.
func (in Imported) Empty() bool {
	_, some := in.first()
	return !some
}

// ImportReport counts what an import added to the plan, and the things in the file
// that the plan had already.
type ImportReport struct {
	Name                string // of the import in the plan; "" if it added nothing
	Marks, Legs, Tracks int    // added
	Hazards, Havens     int    // added
	Lines, Areas        int    // added
	Crossings           int    // of water, that came with the hazards added
	LeftOut             int    // shapes with too few points, or that cross themselves
	Known               int    // in the plan before
	Escapes             int    // left out
}

func (r ImportReport) added() int {
	return r.Marks + r.Legs + r.Tracks + r.Hazards + r.Havens + r.Lines + r.Areas
}

func (s *Session) importSystem(in Imported) (*geodesy.System, error) {
	if sys := s.Reader().System(); sys != nil {
		return sys, nil
	}
	if p := s.Plan(); len(p.Marks) > 0 {
		return s.Reader().SystemOf(p.Marks[0].Position.Code)
	}
	first, ok := in.first()
	if !ok {
		return nil, refuse("there are no marks, routes or tracks in this file: choose another")
	}
	if err := first.Check(); err != nil {
		return nil, err
	}
	zone, north := geodesy.UTMZoneFor(first)
	return geodesy.UTM(zone, north), nil
}

// first returns any position of the import.
func (in Imported) first() (geodesy.LatLon, bool) {
	for _, m := range in.Marks {
		return m.At, true
	}
	for _, r := range in.Routes {
		for _, q := range r {
			return q.At, true
		}
	}
	for _, t := range in.Tracks {
		for _, q := range t.Points {
			return q, true
		}
	}
	for _, x := range in.Shapes {
		for _, q := range x.Points {
			return q, true
		}
	}
	return geodesy.LatLon{}, false
}
