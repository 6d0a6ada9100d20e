package gpx

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"

	"legwright/app/geodesy"
)

// ErrReadBack is returned for a document that does not come back as it was.
var ErrReadBack = errors.New("the GPX does not read back as it should, so it was not written: please report this to the makers of the program")

// readsBack reads what was written and compares it with the document: every point where it was,
// to a ten-millionth of a degree, in its order, no stop or draft without its word in the name, and
// no name at two positions.
func readsBack(text []byte, d *Document, o Options) error {
	got, err := read(bytes.NewReader(text))
	if err != nil {
		return fmt.Errorf("%w (%w)", ErrReadBack, err)
	}
	want := append([]Route{}, d.Tracks...)
	if o.Track {
		want = append(want, d.Routes...)
	}
	if err := samePoints(got.Marks, d.Marks, true); err != nil {
		return err
	}
	if err := sameRoutes(got.Routes, d.Routes, true); err != nil {
		return err
	}
	if err := sameRoutes(got.Tracks, want, false); err != nil {
		return err
	}
	return namedOnce(got)
}

// namedOnce refuses a name that has two positions. The word of a stop makes no other name.
func namedOnce(d *Document) error {
	known := map[string]geodesy.LatLon{}
	for _, list := range named(d) {
		for _, p := range list {
			key := strings.ToLower(unmarked(p.Name))
			if at, ok := known[key]; ok && at != p.At {
				return fmt.Errorf("%w (the name %q has two positions)", ErrReadBack, p.Name)
			}
			known[key] = p.At
		}
	}
	return nil
}

func sameRoutes(got, want []Route, named bool) error {
	if len(got) != len(want) {
		return fmt.Errorf("%w (%d routes or tracks instead of %d)", ErrReadBack, len(got), len(want))
	}
	for i, r := range want {
		if r.Stop != "" && !marked(got[i].Name) {
			return fmt.Errorf("%w (the name %q without its stop)", ErrReadBack, got[i].Name)
		}
		if err := samePoints(got[i].Points, r.Points, named); err != nil {
			return err
		}
	}
	return nil
}

func samePoints(got, want []Point, named bool) error {
	const near = 1e-7 // degrees
	if len(got) != len(want) {
		return fmt.Errorf("%w (%d points instead of %d)", ErrReadBack, len(got), len(want))
	}
	for i, p := range want {
		q := got[i]
		lon := math.Remainder(q.At.Lon.Deg()-p.At.Lon.Deg(), 360)
		if math.Abs(q.At.Lat.Deg()-p.At.Lat.Deg()) > near || math.Abs(lon) > near {
			return fmt.Errorf("%w (%s has moved)", ErrReadBack, q.Name)
		}
		if named && p.Stop != "" && !marked(q.Name) {
			return fmt.Errorf("%w (the name %q without its stop)", ErrReadBack, q.Name)
		}
	}
	return nil
}
