package lattice

import (
	"fmt"
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/units"
)

// Graticule is a lattice whose lines are of latitude and longitude, evenly far
// apart in degrees.
type Graticule struct {
	Lat, Lon units.Angle // from line to line, above 0
	// Project puts a place on the sheet's grid, whatever datum the lines are on.
	Project func(geodesy.LatLon) (geodesy.Grid, error)
}

// LatLonName says which latitude and longitude belong to the crossing nearest
// to a place of the picture.
type LatLonName struct {
	At  calib.PicturePt
	Ref geodesy.LatLon
}

// meshTolerance is how far the meshes' height to their width may differ from
// what latitude and longitude make it there, as a part: paper stretches, and a
// camera held askew shortens.
const meshTolerance = 0.08

// Latitudes makes every crossing of a lattice of latitude and longitude a
// control point, on a map held upright. Uncertainties are those of Named. More
// than one name is a check; so is the shape of the meshes. Errors: ErrSquare for
// steps that are none, ErrNoCrossing, ErrContradiction, and that of a crossing
// that the grid cannot hold.
func (l *Lattice) Latitudes(names []LatLonName, g Graticule) ([]calib.ControlPoint, error) {
	if !(g.Lat > 0 && g.Lon > 0 && g.Lat.Deg() < 45 && g.Lon.Deg() < 45) {
		return nil, fmt.Errorf("%w: lines %g° and %g° apart", ErrSquare, g.Lat.Deg(), g.Lon.Deg())
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("%w: name one", ErrNoCrossing)
	}
	origin, err := l.originOf(names, g)
	if err != nil {
		return nil, err
	}
	out := make([]calib.ControlPoint, 0, len(l.Crossings))
	for _, p := range l.Crossings {
		at := origin.stepped(p, g)
		ref, err := g.Project(at)
		if err != nil {
			return nil, fmt.Errorf("the crossing at %s: %w", geodesy.FormatLatLon(at), err)
		}
		out = append(out, calib.ControlPoint{
			At: calib.PicturePt{Col: p.Col, Row: p.Row}, Ref: ref, Text: geodesy.FormatLatLon(at), SigmaPx: max(p.SigmaPx, leastSigmaPx), Source: calib.FoundPoint,
		})
	}
	l.widen(out)
	return out, l.shaped(out)
}

// origin is where the lines numbered (0, 0) meet.
type origin struct{ lat, lon units.Angle }

func (o origin) stepped(c Crossing, g Graticule) geodesy.LatLon {
	return geodesy.LatLon{Lat: o.lat + g.Lat*units.Angle(c.J), Lon: (o.lon + g.Lon*units.Angle(c.I)).Signed()}
}

// originOf works the origin out from the first name and holds the others
// against it.
func (l *Lattice) originOf(names []LatLonName, g Graticule) (origin, error) {
	var first origin
	for n, name := range names {
		c, ok := l.Nearest(name.At)
		if !ok {
			return first, fmt.Errorf("%w: column %.1f, row %.1f", ErrNoCrossing, name.At.Col, name.At.Row)
		}
		if n == 0 {
			first = origin{name.Ref.Lat - g.Lat*units.Angle(c.J), name.Ref.Lon - g.Lon*units.Angle(c.I)}
			continue
		}
		by := first.stepped(c, g)
		if math.Abs((by.Lat-name.Ref.Lat).Rad()) > 0.01*g.Lat.Rad() || math.Abs((by.Lon-name.Ref.Lon).Signed().Rad()) > 0.01*g.Lon.Rad() {
			return first, fmt.Errorf("%w: by the first, the one at column %.1f, row %.1f is %s, not %s; look at the figures, and at how far the lines are apart",
				ErrContradiction, name.At.Col, name.At.Row, geodesy.FormatLatLon(by), geodesy.FormatLatLon(name.Ref))
		}
	}
	return first, nil
}

// shaped holds the shape of the meshes in the picture against that which the
// control points have on the ground.
func (l *Lattice) shaped(points []calib.ControlPoint) error {
	var height, width, heights, widths float64 // on the ground, metres
	at := map[[2]int]geodesy.Grid{}
	for i, c := range l.Crossings {
		at[[2]int{c.I, c.J}] = points[i].Ref
	}
	for i, c := range l.Crossings {
		if up, ok := at[[2]int{c.I, c.J + 1}]; ok {
			height, heights = height+math.Hypot(up.E-points[i].Ref.E, up.N-points[i].Ref.N), heights+1
		}
		if right, ok := at[[2]int{c.I + 1, c.J}]; ok {
			width, widths = width+math.Hypot(right.E-points[i].Ref.E, right.N-points[i].Ref.N), widths+1
		}
	}
	if heights == 0 || widths == 0 || !(l.WidthPx > 0) {
		return nil
	}
	want, seen := height/heights/(width/widths), l.HeightPx/l.WidthPx
	if math.Abs(seen/want-1) > meshTolerance {
		return fmt.Errorf("%w: the meshes of the picture are %.2f times as high as wide, those lines would be %.2f times; look at how far they are apart", ErrContradiction, seen, want)
	}
	return nil
}
