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
	Lat, Lon units.Angle  // from line to line; 0 where the names tell it
	Medium   calib.Medium // how the picture came about, which says how far its shape may differ
	// Project puts a position on the sheet's grid, whatever datum the lines are on.
	Project func(geodesy.LatLon) (geodesy.Grid, error)
}

// LatLonName says which latitude and longitude belong to the intersection nearest
// to a point of the picture.
type LatLonName struct {
	At  calib.PicturePt
	Ref geodesy.LatLon
}

// UsualMinutes are how far lines of latitude or longitude are apart on maps, in
// minutes (common practice, no source).
func UsualMinutes() []float64 { return []float64{1, 2, 2.5, 5, 10, 15, 20, 30, 60, 120, 300, 600} }

// MinuteWords write a step as a margin prints it.
func MinuteWords(minutes float64) string {
	if minutes >= 60 {
		return fmt.Sprintf("%g°", minutes/60)
	}
	return fmt.Sprintf("%g′", minutes)
}

// askewTolerance is how far the ratio of height to width may differ, as a part,
// from what latitude and longitude make it where a camera was held askew. On
// paper it is mostUnequal.
const askewTolerance = 0.08

// Latitudes makes every intersection of a lattice of latitude and longitude a
// control point, on a map held upright. A name must lie on a multiple of the
// steps. Uncertainties are those of Named. More than one name is a check; so is
// the shape of the cells between the lines. Errors: ErrStep,
// ErrOpenSquare where they are unknown, ErrNoIntersection, ErrDisagree, and that
// of an intersection that the grid cannot hold.
func (l *Lattice) Latitudes(names []LatLonName, g Graticule) ([]calib.ControlPoint, error) {
	if !(g.Lat >= 0 && g.Lon >= 0 && g.Lat.Deg() < 45 && g.Lon.Deg() < 45) {
		return nil, fmt.Errorf("%w, not %g° and %g°", ErrStep, g.Lat.Deg(), g.Lon.Deg())
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("%w: name at least one intersection", ErrNoIntersection)
	}
	if err := l.Steps(names, &g); err != nil {
		return nil, err
	}
	if g.Lat == 0 || g.Lon == 0 {
		return nil, ErrOpenSquare
	}
	origin, err := l.originOf(names, g)
	if err != nil {
		return nil, err
	}
	out := make([]calib.ControlPoint, 0, len(l.Intersections))
	for _, p := range l.Intersections {
		at := origin.stepped(p, g)
		ref, err := g.Project(at)
		if err != nil {
			return nil, fmt.Errorf("the intersection at %s: %w", geodesy.FormatLatLon(at), err)
		}
		out = append(out, calib.ControlPoint{
			At: calib.PicturePt{Col: p.Col, Row: p.Row}, Ref: ref, Text: geodesy.FormatLatLon(at), SigmaPx: max(p.SigmaPx, leastSigmaPx), Source: calib.FoundPoint,
		})
	}
	l.widen(out, g.Medium)
	return out, l.shaped(out, g.Medium)
}

// Steps fills the steps that are 0 where the names tell them, by the lines
// between two names, and checks every name against the steps: it must lie on a
// multiple. The error wraps ErrDisagree or ErrNoIntersection.
func (l *Lattice) Steps(names []LatLonName, g *Graticule) error {
	at := make([]Intersection, len(names))
	for k, name := range names {
		c, ok := l.Nearest(name.At)
		if !ok {
			return fmt.Errorf("%w: column %.1f, row %.1f", ErrNoIntersection, name.At.Col, name.At.Row)
		}
		at[k] = c
	}
	for k := range names[1:] {
		a, b := names[0].Ref, names[k+1].Ref
		if dj := at[k+1].J - at[0].J; dj != 0 && g.Lat == 0 {
			g.Lat = usualStep((b.Lat - a.Lat) / units.Angle(dj))
			if g.Lat == 0 {
				return unusualStep(a, b, dj, "latitude")
			}
		}
		if di := at[k+1].I - at[0].I; di != 0 && g.Lon == 0 {
			g.Lon = usualStep((b.Lon - a.Lon).Signed() / units.Angle(di))
			if g.Lon == 0 {
				return unusualStep(a, b, di, "longitude")
			}
		}
	}
	for _, name := range names {
		for _, v := range []struct {
			at, step units.Angle
			what     string
		}{{name.Ref.Lat, g.Lat, "latitude"}, {name.Ref.Lon, g.Lon, "longitude"}} {
			if v.step > 0 && math.Abs(math.Remainder(v.at.Rad(), v.step.Rad())) > 0.001*v.step.Rad() {
				return fmt.Errorf("%w: %s is not on a line of %s if the lines are %s apart; click the feature that this reference belongs to, or correct the reference or the spacing",
					ErrDisagree, geodesy.FormatLatLon(name.Ref), v.what, MinuteWords(60*v.step.Deg()))
			}
		}
	}
	return nil
}

// usualStep is the usual step that is meant, 0 where there is none.
func usualStep(step units.Angle) units.Angle {
	for _, m := range UsualMinutes() {
		if math.Abs(60*step.Deg()/m-1) < likeness {
			return units.Degrees(m / 60)
		}
	}
	return 0
}

func unusualStep(a, b geodesy.LatLon, lines int, what string) error {
	n := int(math.Abs(float64(lines)))
	return fmt.Errorf("%w: in the picture, %s and %s are %d %s of %s apart, and no map spaces its lines like that; check the digits of both",
		ErrDisagree, geodesy.FormatLatLon(a), geodesy.FormatLatLon(b), n, pick(n == 1, "line", "lines"), what)
}

// origin is where the lines numbered (0, 0) meet.
type origin struct{ lat, lon units.Angle }

func (o origin) stepped(c Intersection, g Graticule) geodesy.LatLon {
	return geodesy.LatLon{Lat: o.lat + g.Lat*units.Angle(c.J), Lon: (o.lon + g.Lon*units.Angle(c.I)).Signed()}
}

// originOf works the origin out from the first name and checks the others
// against it.
func (l *Lattice) originOf(names []LatLonName, g Graticule) (origin, error) {
	var first origin
	for n, name := range names {
		c, ok := l.Nearest(name.At)
		if !ok {
			return first, fmt.Errorf("%w: column %.1f, row %.1f", ErrNoIntersection, name.At.Col, name.At.Row)
		}
		if n == 0 {
			first = origin{name.Ref.Lat - g.Lat*units.Angle(c.J), name.Ref.Lon - g.Lon*units.Angle(c.I)}
			continue
		}
		by := first.stepped(c, g)
		if math.Abs((by.Lat-name.Ref.Lat).Rad()) > 0.01*g.Lat.Rad() || math.Abs((by.Lon-name.Ref.Lon).Signed().Rad()) > 0.01*g.Lon.Rad() {
			return first, fmt.Errorf("%w: going by the first reference, the intersection at column %.1f, row %.1f is %s, not %s; check the digits of both, and how far apart the lines are",
				ErrDisagree, name.At.Col, name.At.Row, geodesy.FormatLatLon(by), geodesy.FormatLatLon(name.Ref))
		}
	}
	return first, nil
}

// shaped compares the shape of the cells between the lines in the picture with that
// on the ground.
func (l *Lattice) shaped(points []calib.ControlPoint, medium calib.Medium) error {
	var height, width, heights, widths float64 // on the ground, metres
	at := map[[2]int]geodesy.Grid{}
	for i, c := range l.Intersections {
		at[[2]int{c.I, c.J}] = points[i].Ref
	}
	for i, c := range l.Intersections {
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
	tolerance := max(mostUnequal, mostUnequalPx/l.SquarePx)
	if medium == calib.Photograph {
		tolerance = askewTolerance
	}
	if math.Abs(seen/want-1) > tolerance {
		return fmt.Errorf("%w: a cell in the picture is %.2f times as high as it is wide, but with the spacing that you typed it would be %.2f times; check in the margin how far apart the lines are", ErrDisagree, seen, want)
	}
	return nil
}
