package crs

import (
	"math"
	"strings"

	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
)

// degreeRad is a degree in radians; writers cut it off at 15 digits or fewer.
const degreeRad = math.Pi / 180

// readBase reads datum, ellipsoid and prime meridian. It returns the meridian's
// longitude in degrees and the size of the base's angular unit in degrees.
func (def *Definition) readBase(base *wktNode) (pmDeg, degreeOf float64, err error) {
	degreeOf, err = angleUnit(base)
	if err != nil {
		return 0, 0, err
	}
	datum := base.child("DATUM", "GEODETICDATUM", "TRF", "ENSEMBLE")
	if datum == nil {
		return 0, 0, Bad("the well-known text has no datum")
	}
	if err := def.readSpheroid(datum.child("SPHEROID", "ELLIPSOID")); err != nil {
		return 0, 0, err
	}
	named := NamedDatum{Code: datum.epsg(), LatLonCode: base.epsg(), Name: datum.name(), LatLonName: base.name()}
	if shift := datum.child("TOWGS84"); shift != nil {
		named.ToWGS84 = append([]float64{}, shift.numbers...)
	}
	if err := def.onDatum(named); err != nil {
		return 0, 0, err
	}
	def.readExtensions(datum)
	pmDeg, err = meridianOf(base.child("PRIMEM", "PRIMEMERIDIAN"), degreeOf)
	return pmDeg, degreeOf, err
}

func (def *Definition) readSpheroid(s *wktNode) error {
	a, okA := s.number(0)
	invF, okF := s.number(1)
	if s == nil || !okA || !okF {
		return Bad("the well-known text has no ellipsoid with its radius and inverse flattening")
	}
	if u := s.child("LENGTHUNIT", "UNIT"); u != nil {
		if v, ok := u.number(0); ok {
			a *= v
		}
	}
	if invF == 0 {
		invF = math.Inf(1)
	}
	def.Ellipsoid = earth.Ellipsoid{A: a, InvF: invF, Name: cleanTitle(strings.ReplaceAll(s.name(), "_", " "))}
	if e := named(def.Ellipsoid); e.Name != "" {
		def.Ellipsoid = e
	}
	return nil
}

// angleUnit returns the base's angular unit in degrees.
func angleUnit(n *wktNode) (float64, error) {
	u := n.child("UNIT", "ANGLEUNIT")
	if u == nil {
		u = n.child("AXIS").child("ANGLEUNIT", "UNIT")
	}
	if u == nil {
		return 1, nil
	}
	return unitDegrees(u)
}

// unitDegrees returns an angular unit in degrees.
func unitDegrees(u *wktNode) (float64, error) {
	v, ok := u.number(0)
	if !ok || !(v > 0 && v < 7) {
		return 0, Bad("the unit %q has no size in radians", shorten(u.name()))
	}
	return UnitDegrees(v), nil
}

// UnitDegrees returns the size in degrees of an angular unit given in radians.
// Degrees, grads, radians, minutes and seconds are exact, even if the writer
// rounded them.
func UnitDegrees(radians float64) float64 {
	for _, exact := range []float64{1, 0.9, 180 / math.Pi, 1.0 / 60, 1.0 / 3600} {
		if math.Abs(radians/degreeRad-exact) < 1e-9*exact {
			return exact
		}
	}
	return radians / degreeRad
}

// meridianOf reads the prime meridian, in degrees. Without a unit of its own it
// is in that of the base by OGC 01-009, of degreeOf degrees, but some writers
// put degrees there (common practice, no source): the name of a known meridian
// decides.
func meridianOf(pm *wktNode, degreeOf float64) (float64, error) {
	if pm == nil {
		return 0, nil
	}
	v, ok := pm.number(0)
	if !ok {
		return 0, Bad("the prime meridian %q has no longitude", shorten(pm.name()))
	}
	if u := pm.child("ANGLEUNIT", "UNIT"); u != nil {
		d, err := unitDegrees(u)
		return v * d, err
	}
	if v == 0 || degreeOf == 1 {
		return v, nil
	}
	const near = 1e-3 // degrees
	if lon, known := meridianByName(fold(pm.name())); known {
		for _, deg := range []float64{v, v * degreeOf} {
			if math.Abs(deg-lon) < near {
				return deg, nil
			}
		}
	}
	return 0, Bad("the prime meridian %q is at %g, which may be degrees or another unit: give it a unit", shorten(pm.name()), v)
}

// readExtensions reads the names of shift files of a datum that is not known.
func (def *Definition) readExtensions(datum *wktNode) {
	if def.Known != nil {
		return
	}
	for _, e := range datum.children("EXTENSION") {
		if len(e.texts) > 1 && strings.EqualFold(e.texts[0], "PROJ4_GRIDS") && e.texts[1] != "@null" {
			def.readShiftFiles(e.texts[1])
		}
	}
}

// readBound reads a grid that is bound to WGS 84 by a transformation.
func readBound(n *wktNode) (*Definition, error) {
	source, target := n.child("SOURCECRS"), n.child("TARGETCRS")
	if source == nil || len(source.nodes) == 0 || target == nil || len(target.nodes) == 0 {
		return nil, Bad("BOUNDCRS lacks SOURCECRS or TARGETCRS")
	}
	def, err := readCRS(source.nodes[0])
	if err != nil || !def.ownShiftCounts() {
		return def, err
	}
	to, err := readCRS(target.nodes[0])
	if err != nil {
		return nil, err
	}
	if to.Known == nil {
		return def, nil
	}
	if _, like := to.Known.Datum.(datum.Like); !like {
		return def, nil // bound to another datum: of no use here
	}
	return def, def.readTransformation(n.child("ABRIDGEDTRANSFORMATION"))
}

// readTransformation reads the shift of BOUNDCRS by methods 9603, 9606 and
// 9607 of IOGP 373-7-2, and NTv2 files by their names.
func (def *Definition) readTransformation(t *wktNode) error {
	if t == nil {
		return nil
	}
	method := t.child("METHOD", "PROJECTION")
	name := fold(method.name())
	if f := t.child("PARAMETERFILE"); f != nil && len(f.texts) > 1 {
		def.readShiftFiles(f.texts[1])
		return nil
	}
	sign := 1.0
	switch {
	case strings.HasPrefix(name, "geocentrictranslations"), strings.HasPrefix(name, "positionvector"):
	case strings.HasPrefix(name, "coordinateframe"):
		sign = -1
	default:
		def.ShiftFile = cleanFile(fold(method.name()))
		return nil
	}
	v := make([]float64, 7)
	for _, p := range t.children("PARAMETER") {
		if err := readShiftParameter(p, v, sign); err != nil {
			return err
		}
	}
	def.Known, def.ToWGS84 = nil, v
	return nil
}

func readShiftParameter(p *wktNode, v []float64, sign float64) error {
	x, ok := p.number(0)
	name := fold(p.name())
	if !ok {
		return Bad("the transformation has %q without a number", shorten(p.name()))
	}
	axis := strings.IndexByte("xyz", (name + " ")[0])
	size := 1.0 // of the unit that is given, in metres or radians or 1
	u := p.child("LENGTHUNIT", "ANGLEUNIT", "SCALEUNIT", "UNIT")
	if u != nil {
		if s, given := u.number(0); given {
			size = s
		}
	}
	switch {
	case axis >= 0 && strings.HasPrefix(name[1:], "axistranslation"):
		v[axis] = x * size
	case axis >= 0 && strings.HasPrefix(name[1:], "axisrotation"):
		if u != nil {
			x *= size / datum.Arcsecond
		}
		v[3+axis] = sign * x
	case strings.HasPrefix(name, "scaledifference"):
		switch {
		case math.Abs(x-1) < 0.01: // written as the whole factor
			v[6] = (x - 1) * 1e6
		case u != nil:
			v[6] = x * size * 1e6
		default:
			v[6] = x
		}
	default:
		return Bad("the transformation has %q, which is not supported", shorten(p.name()))
	}
	return nil
}
