package georef

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"legwright/app/geodesy"
	"legwright/mapio/tiff"
)

// Keys of OGC 19-008r4 by which a GeoTIFF defines a grid of its own.
const (
	keyGeographic     = 2048
	keyDatum          = 2050
	keyMeridian       = 2051
	keyAngularUnits   = 2054
	keyAngularSize    = 2055
	keyEllipsoid      = 2056
	keySemiMajor      = 2057
	keySemiMinor      = 2058
	keyInvFlattening  = 2059
	keyMeridianLong   = 2061
	keyToWGS84        = 2062 // common practice, not of the standard
	keyProjection     = 3074
	keyMethod         = 3075
	keyParallel1      = 3078
	keyParallel2      = 3079
	keyOriginLong     = 3080
	keyOriginLat      = 3081
	keyFalseEasting   = 3082
	keyFalseNorthing  = 3083
	keyFalseLong      = 3084
	keyFalseLat       = 3085
	keyFalseOriginE   = 3086
	keyFalseOriginN   = 3087
	keyCentreLong     = 3088
	keyCentreLat      = 3089
	keyCentreEasting  = 3090
	keyCentreNorthing = 3091
	keyScaleOrigin    = 3092
	keyScaleCentre    = 3093
	keyAzimuth        = 3094
	keyPoleLong       = 3095
	keySkew           = 3096 // common practice, not of the standard
)

// spelt returns the grid that the keys describe. An unknown datum has an unknown
// shift, and the grid says so.
func spelt(g *tiff.Geo) (*geodesy.System, error) {
	k := keyed{g: g}
	k.base()
	if g.Model == tiff.Projected {
		k.projected()
	} else {
		k.latLon()
	}
	s, err := (*geodesy.System)(nil), k.err
	if err == nil {
		s, err = geodesy.SystemOf(k.def)
	}
	if err != nil {
		return nil, fmt.Errorf("it defines a grid of its own: %w", err)
	}
	return s, nil
}

// keyed fills in a definition from keys, and keeps the first error.
type keyed struct {
	g        *tiff.Geo
	def      geodesy.Definition
	degreeOf float64 // the unit of angles, degrees
	err      error
}

func (k *keyed) fail(format string, args ...any) {
	if k.err == nil {
		k.err = fmt.Errorf(format, args...)
	}
}

// number is the value of the first key that is present.
func (k *keyed) number(ids ...int) (float64, bool) {
	for _, id := range ids {
		if v, ok := k.g.Number(id); ok {
			return v, true
		}
	}
	return 0, false
}

// code is the value of a key that holds a code, 0 if it is absent or means "defined by
// other keys".
func (k *keyed) code(id int) int {
	v, _ := k.g.Number(id)
	if !(v > 0 && v < tiff.UserDefined) {
		return 0
	}
	return int(v)
}

// angle returns the value in degrees of the first key that is present, or 0.
func (k *keyed) angle(ids ...int) float64 {
	v, _ := k.number(ids...)
	return v * k.degreeOf
}

// base reads the latitude and longitude system: datum, ellipsoid, prime meridian,
// unit.
func (k *keyed) base() {
	d := geodesy.NamedDatum{
		Code: k.code(keyDatum), Name: k.cited("Datum"),
		LatLonCode: k.g.GeographicCRS, LatLonName: k.cited("GCS Name"), ToWGS84: k.shift(),
	}
	if d.LatLonCode == tiff.UserDefined {
		d.LatLonCode = 0
	}
	if d.Code == 0 && d.LatLonCode == 0 {
		d.LatLonCode = k.code(keyGeographic)
	}
	k.def.Datum = d
	k.ellipsoid(d)
	k.degreeOf = k.angularUnit()
	k.def.Lon0 = k.meridian()
}

// latLon reads a grid of latitude and longitude.
func (k *keyed) latLon() {
	k.def.Family, k.def.Title, k.def.K0 = geodesy.FamilyLatLon, k.def.Datum.LatLonName, 1
	if k.degreeOf != 1 {
		k.fail("its latitude and longitude are in units of %.6g°: only degrees are supported", k.degreeOf)
	}
}

// cited returns a name from the geographic citation, or "".
// Programs write it as "GCS Name = … |Datum = … |Ellipsoid = …" (common
// practice, no source).
func (k *keyed) cited(what string) string {
	for _, part := range strings.Split(k.g.GeographicCitation, "|") {
		name, value, ok := strings.Cut(part, "=")
		if ok && strings.EqualFold(strings.TrimSpace(name), what) {
			return value
		}
	}
	if what == "GCS Name" && !strings.ContainsAny(k.g.GeographicCitation, "|=") {
		return k.g.GeographicCitation
	}
	return ""
}

// ellipsoid reads radius and flattening, as numbers or by a code. A datum with a
// known code needs neither.
func (k *keyed) ellipsoid(d geodesy.NamedDatum) {
	a, okA := k.number(keySemiMajor)
	invF, okF := k.number(keyInvFlattening)
	if b, ok := k.number(keySemiMinor); ok && !okF {
		invF, okF = a/(a-b), true
	}
	if okA && okF {
		k.def.Ellipsoid = geodesy.Ellipsoid{A: a, InvF: invF, Name: k.cited("Ellipsoid")}
		return
	}
	code := k.code(keyEllipsoid)
	if code == 0 { // of datums by the numbering of the EPSG dataset
		code = ellipsoidOf(cmp.Or(d.LatLonCode, d.Code-2000))
	}
	e, known := geodesy.EllipsoidByCode(code)
	k.def.Ellipsoid = e
	switch {
	case known:
	case code != 0:
		k.fail("this program does not know its ellipsoid, EPSG:%d, and its radius and flattening are missing", code)
	case d.LatLonCode == 0 && d.Code == 0:
		k.fail("it names neither a datum nor an ellipsoid")
	}
}

// ellipsoidOf is the code of the ellipsoid of some geographic systems whose datum shift is
// not known here, by the EPSG dataset; 0 for others.
func ellipsoidOf(geographic int) int {
	switch geographic {
	case 4289:
		return 7004
	case 4230, 4265:
		return 7022
	case 4275:
		return 7011
	case 4322:
		return 7043
	}
	return 0
}

// shift returns the shift to WGS 84, or nil if the keys state none.
func (k *keyed) shift() []float64 {
	for _, key := range k.g.Keys {
		if key.ID == keyToWGS84 && (len(key.Numbers) == 3 || len(key.Numbers) == 7) {
			return key.Numbers
		}
	}
	return nil
}

// meridian is the prime meridian's longitude in degrees.
func (k *keyed) meridian() float64 {
	if _, ok := k.number(keyMeridianLong); ok {
		return k.angle(keyMeridianLong)
	}
	const greenwich = 8901 // of the EPSG dataset
	if code := k.code(keyMeridian); code != 0 && code != greenwich {
		k.fail("its prime meridian, EPSG:%d, has no longitude", code)
	}
	return 0
}

// angularUnit is the size of the unit of angles in degrees.
func (k *keyed) angularUnit() float64 {
	code, _ := k.number(keyAngularUnits)
	switch code {
	case 0, 9102, 9122:
		return 1
	case 9101:
		return 180 / math.Pi
	case 9105, 9106: // grad, gon
		return 0.9
	case tiff.UserDefined:
		if v, ok := k.number(keyAngularSize); ok && v > 0 {
			return geodesy.UnitDegrees(v)
		}
	}
	k.fail("its unit of angles, EPSG:%g, is unknown: only degrees, grads and radians are supported", code)
	return 1
}
