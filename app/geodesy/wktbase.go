package geodesy

import (
	"math"
	"strings"
)

// degreeRad is a degree in radians; writers cut it off at 15 digits or fewer.
const degreeRad = math.Pi / 180

// readBase reads datum, ellipsoid and prime meridian. It returns the meridian's
// longitude in degrees and the size of the base's angular unit in degrees.
func (r *recipe) readBase(base *wktNode) (pmDeg, degreeOf float64, err error) {
	degreeOf, err = angleUnit(base)
	if err != nil {
		return 0, 0, err
	}
	datum := base.child("DATUM", "GEODETICDATUM", "TRF", "ENSEMBLE")
	if datum == nil {
		return 0, 0, badDefinition("the well-known text has no datum")
	}
	if err := r.readSpheroid(datum.child("SPHEROID", "ELLIPSOID")); err != nil {
		return 0, 0, err
	}
	r.datumName = cleanTitle(strings.ReplaceAll(datum.name(), "_", " "))
	r.known = datumOf(base, datum, r.ellipsoid)
	if err := r.readShift(datum); err != nil {
		return 0, 0, err
	}
	pmDeg, err = meridianOf(base.child("PRIMEM", "PRIMEMERIDIAN"), degreeOf)
	return pmDeg, degreeOf, err
}

// datumOf finds a datum that is known by its code or its name; the ellipsoid
// must be the same.
func datumOf(base, datum *wktNode, ell Ellipsoid) *knownDatum {
	names := " " + fold(strings.TrimPrefix(datum.name(), "D_")) + " " + fold(strings.TrimPrefix(base.name(), "GCS_")) + " "
	baseCode, datumCode := base.epsg(), datum.epsg()
	var byName *knownDatum
	for _, d := range knownDatums() {
		if !sameEllipsoid(d.ellipsoid, ell) {
			continue
		}
		if baseCode == d.geographic || (datumCode != 0 && datumCode == d.geographic+2000) {
			return &d
		}
		for _, name := range strings.Fields(d.names) {
			if byName == nil && strings.Contains(names, " "+name+" ") {
				byName = &d
			}
		}
	}
	if baseCode != 0 || datumCode != 0 {
		return nil // another datum with a like name
	}
	return byName
}

func (r *recipe) readSpheroid(s *wktNode) error {
	a, okA := s.number(0)
	invF, okF := s.number(1)
	if s == nil || !okA || !okF {
		return badDefinition("the well-known text has no ellipsoid with its radius and inverse flattening")
	}
	if u := s.child("LENGTHUNIT", "UNIT"); u != nil {
		if v, ok := u.number(0); ok {
			a *= v
		}
	}
	if invF == 0 {
		invF = math.Inf(1)
	}
	r.ellipsoid = Ellipsoid{A: a, InvF: invF, Name: cleanTitle(strings.ReplaceAll(s.name(), "_", " "))}
	if e := named(r.ellipsoid); e.Name != "" {
		r.ellipsoid = e
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

// unitDegrees returns an angular unit in degrees; degrees and grads are made
// exact, since writers cut off their radians.
func unitDegrees(u *wktNode) (float64, error) {
	v, ok := u.number(0)
	if !ok || !(v > 0 && v < 7) {
		return 0, badDefinition("the unit %q has no size in radians", shorten(u.name()))
	}
	for _, exact := range []float64{1, 0.9, 180 / math.Pi, 1.0 / 60, 1.0 / 3600} {
		if math.Abs(v/degreeRad-exact) < 1e-9*exact {
			return exact, nil
		}
	}
	return v / degreeRad, nil
}

// meridianOf reads the prime meridian, in degrees. Without a unit of its own it
// is in that of the base by OGC 01-009, of degreeOf degrees, but some writers
// put degrees there all the same (common practice, no source): a meridian of a
// known name tells which.
func meridianOf(pm *wktNode, degreeOf float64) (float64, error) {
	if pm == nil {
		return 0, nil
	}
	v, ok := pm.number(0)
	if !ok {
		return 0, badDefinition("the prime meridian %q has no longitude", shorten(pm.name()))
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
	return 0, badDefinition("the prime meridian %q lies at %g, which may be degrees or the base's own unit: give it a unit", shorten(pm.name()), v)
}

// readShift reads TOWGS84 and the names of files in the datum.
func (r *recipe) readShift(datum *wktNode) error {
	if s := datum.child("TOWGS84"); s != nil && r.ownShiftCounts() {
		if len(s.numbers) != 3 && len(s.numbers) != 7 {
			return badDefinition("TOWGS84 has %d figures, and must have 3 or 7", len(s.numbers))
		}
		r.known, r.toWGS84 = nil, s.numbers
	}
	if r.known != nil {
		return nil
	}
	for _, e := range datum.children("EXTENSION") {
		if len(e.texts) > 1 && strings.EqualFold(e.texts[0], "PROJ4_GRIDS") && e.texts[1] != "@null" {
			r.readShiftFiles(e.texts[1])
		}
	}
	return nil
}

// ownShiftCounts reports whether a shift that the text states goes before what
// is known of its datum: it does where that is one mean shift for several
// countries, and not where a better one serves here.
func (r *recipe) ownShiftCounts() bool {
	if r.known == nil {
		return true
	}
	for _, d := range furtherDatums() {
		if d.geographic == r.known.geographic {
			_, mean := d.datum.(*helmert)
			return mean
		}
	}
	return false
}

// readBound reads a grid that is bound to WGS 84 by a transformation.
func readBound(n *wktNode) (*recipe, error) {
	source, target := n.child("SOURCECRS"), n.child("TARGETCRS")
	if source == nil || len(source.nodes) == 0 || target == nil || len(target.nodes) == 0 {
		return nil, badDefinition("BOUNDCRS lacks SOURCECRS or TARGETCRS")
	}
	r, err := readCRS(source.nodes[0])
	if err != nil || !r.ownShiftCounts() {
		return r, err
	}
	to, err := readCRS(target.nodes[0])
	if err != nil {
		return nil, err
	}
	if to.known == nil {
		return r, nil
	}
	if _, like := to.known.datum.(sameDatum); !like {
		return r, nil // bound to another datum: that helps nothing here
	}
	return r, r.readTransformation(n.child("ABRIDGEDTRANSFORMATION"))
}

// readTransformation reads the shift of BOUNDCRS by methods 9603, 9606 and
// 9607 of IOGP 373-7-2, and NTv2 files by their names.
func (r *recipe) readTransformation(t *wktNode) error {
	if t == nil {
		return nil
	}
	method := t.child("METHOD", "PROJECTION")
	name := fold(method.name())
	if f := t.child("PARAMETERFILE"); f != nil && len(f.texts) > 1 {
		r.readShiftFiles(f.texts[1])
		return nil
	}
	sign := 1.0
	switch {
	case strings.HasPrefix(name, "geocentrictranslations"), strings.HasPrefix(name, "positionvector"):
	case strings.HasPrefix(name, "coordinateframe"):
		sign = -1
	default:
		r.shiftFile = cleanFile(fold(method.name()))
		return nil
	}
	v := make([]float64, 7)
	for _, p := range t.children("PARAMETER") {
		if err := readShiftParameter(p, v, sign); err != nil {
			return err
		}
	}
	r.known, r.toWGS84 = nil, v
	return nil
}

func readShiftParameter(p *wktNode, v []float64, sign float64) error {
	x, ok := p.number(0)
	name := fold(p.name())
	if !ok {
		return badDefinition("%q of the transformation has no figure", shorten(p.name()))
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
			x *= size / arcsecond
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
		return badDefinition("%q of the transformation is not read", shorten(p.name()))
	}
	return nil
}
