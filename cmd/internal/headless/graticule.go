package headless

import (
	"fmt"
	"math"
	"strings"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/units"
)

// graticuleFlag is how far lines of latitude and longitude are apart, in
// minutes: one figure for both, or two with a comma.
type graticuleFlag struct{ lat, lon float64 }

func (g *graticuleFlag) String() string { return "" }

func (g *graticuleFlag) flags(o *options) {
	o.Var(g, "graticule", "the printed lines are latitude and longitude, this many `MINUTES` apart: 5, or 5,10 if latitude and longitude differ")
}

// mostMinutes is the widest step that is accepted, ten degrees.
const mostMinutes = 600

func (g *graticuleFlag) Set(text string) error {
	first, second, two := strings.Cut(text, ",")
	lat, err := parseNumber([]byte(strings.TrimSpace(first)))
	lon, errLon := lat, error(nil)
	if two {
		lon, errLon = parseNumber([]byte(strings.TrimSpace(second)))
	}
	ok := func(v float64) bool { return v > 0 && v <= mostMinutes }
	if err != nil || errLon != nil || !ok(lat) || !ok(lon) {
		return fmt.Errorf("give the minutes between lines, above 0 and at most %d, such as 5, or 5,10 if latitude and longitude differ", mostMinutes)
	}
	g.lat, g.lon = lat, lon
	return nil
}

func (g *graticuleFlag) given() bool { return g.lat > 0 }

// steps are the distances between lines, and the projection to the grid.
// own says that the lines are on the grid's own datum, not WGS 84.
func (g *graticuleFlag) steps(s *geodesy.System, own bool) lattice.Graticule {
	return lattice.Graticule{
		Lat: units.Degrees(g.lat / 60), Lon: units.Degrees(g.lon / 60),
		Project: func(at geodesy.LatLon) (geodesy.Grid, error) {
			if own {
				grid, _, err := s.Project(at)
				return grid, err
			}
			grid, _, _, err := s.FromWGS84(at)
			return grid, err
		},
	}
}

// latitudes makes the intersections of lines of latitude and longitude control
// points.
func (l *search) latitudes(names nameFlag, g graticuleFlag, s *geodesy.System, own bool) ([]calib.ControlPoint, []caution.Caution, error) {
	if l.found == nil {
		return nil, nil, fmt.Errorf("no printed lines were found in the picture: %s; use fit with control points", l.reason)
	}
	var list []lattice.LatLonName
	for _, n := range names {
		ref, err := geodesy.ParseRef(n.ref, geodesy.RefContext{System: s})
		if err != nil {
			return nil, nil, fmt.Errorf("--name %s: %w", n.ref, err)
		}
		if ref.Kind != geodesy.RefLatLon {
			return nil, nil, fmt.Errorf("--name %s: with --graticule give latitude and longitude, such as 56°10'N 6°20'W", n.ref)
		}
		at, _, err := s.ToWGS84(ref.Grid)
		if err != nil {
			return nil, nil, fmt.Errorf("--name %s: %w", n.ref, err)
		}
		list = append(list, lattice.LatLonName{At: n.at, Ref: at})
	}
	steps := g.steps(s, own)
	steps.Medium = l.header.Medium
	points, err := l.found.Latitudes(list, steps)
	if err != nil {
		return nil, nil, err
	}
	l.graticule = &g
	return points, []caution.Caution{datumCaution(s, list[0].Ref, own)}, nil
}

// datumOf reads references that are latitude and longitude: as WGS 84 or, with own, on the
// grid's own datum. Only the first gets the caution.
type datumOf struct {
	own  bool
	said bool
}

// grid is the position of a reference on the grid, with the caution about its datum.
func (d *datumOf) grid(s *geodesy.System, ref geodesy.Ref) (geodesy.Grid, []caution.Caution, error) {
	if ref.Kind != geodesy.RefLatLon {
		return ref.Grid, nil, nil
	}
	at, _, err := s.ToWGS84(ref.Grid) // as it was typed
	if err != nil {
		return ref.Grid, nil, err
	}
	var out []caution.Caution
	if !d.said {
		d.said, out = true, []caution.Caution{datumCaution(s, at, d.own)}
	}
	if !d.own {
		return ref.Grid, out, nil
	}
	grid, _, err := s.Project(at)
	return grid, out, err
}

// datumCaution says on which datum latitudes and longitudes were read, and how far away the
// other datum would put them.
func datumCaution(s *geodesy.System, at geodesy.LatLon, own bool) caution.Caution {
	text := "latitudes and longitudes are read as WGS 84"
	other := "read on the grid's own datum"
	if own {
		text, other = "latitudes and longitudes are read on the grid's own datum", "read as WGS 84"
	}
	a, _, errOwn := s.Project(at)
	b, _, _, errWGS := s.FromWGS84(at)
	if off := math.Hypot(a.E-b.E, a.N-b.N); errOwn == nil && errWGS == nil && off >= 0.5 {
		text += fmt.Sprintf("; %s they would be %.0f m away. The sheet's margin says which datum it uses: give --datum own or wgs84", other, off)
	}
	return caution.Of(caution.LatLonDatum, text)
}
