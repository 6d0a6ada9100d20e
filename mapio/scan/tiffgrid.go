package scan

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"legwright/app/geodesy"
	"legwright/mapio/tiff"
)

// Keys of OGC 19-008r4 by which a GeoTIFF spells out a grid of its own.
const (
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

// spelt writes the grid that the keys spell out as well-known text, for which
// geodesy.Define says whether it is one that can be drawn. The datum is known
// by its code or its name; one that is not has no known shift, of which the
// grid then tells.
func spelt(g *tiff.Geo) (*geodesy.System, error) {
	k := keyed{g: g}
	text := k.base()
	if g.Model == tiff.Projected {
		text = k.projected(text)
	}
	if k.err != nil {
		return nil, fmt.Errorf("it spells out a grid of its own key by key: %w", k.err)
	}
	s, err := geodesy.Define(text)
	if err != nil {
		return nil, fmt.Errorf("it spells out a grid of its own key by key: %w", err)
	}
	return s, nil
}

// keyed reads keys and keeps the first error.
type keyed struct {
	g   *tiff.Geo
	err error
}

func (k *keyed) fail(format string, args ...any) {
	if k.err == nil {
		k.err = fmt.Errorf(format, args...)
	}
}

// number is the value of the first of some keys that is there.
func (k *keyed) number(ids ...int) (float64, bool) {
	for _, id := range ids {
		if v, ok := k.g.Number(id); ok {
			return v, true
		}
	}
	return 0, false
}

// code is the value of a key that holds a code, 0 where it is absent or says
// that the thing is spelt out.
func (k *keyed) code(id int) int {
	v, _ := k.g.Number(id)
	if !(v > 0 && v < tiff.UserDefined) {
		return 0
	}
	return int(v)
}

// figure writes a number as short as gives it back.
func figure(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// base writes latitude and longitude: datum, ellipsoid, prime meridian, unit.
func (k *keyed) base() string {
	geographic, datum := k.g.GeographicCRS, k.code(keyDatum)
	if geographic == tiff.UserDefined {
		geographic = 0
	}
	if datum == 0 && geographic == 0 {
		geographic = k.code(2048)
	}
	a, invF := k.ellipsoid(geographic, datum)
	name := k.cited("GCS Name")
	out := fmt.Sprintf(`GEOGCS["%s",DATUM["%s",SPHEROID["%s",%s,%s]`, name, k.cited("Datum"), k.cited("Ellipsoid"), figure(a), figure(invF))
	if v := k.shift(); v != "" {
		out += ",TOWGS84[" + v + "]"
	}
	out += authority(datum) + "]"
	long, unit := k.meridian(), k.angularUnit()
	out += fmt.Sprintf(`,PRIMEM["meridian",%s,UNIT["angle",%s]],UNIT["angle",%s]`, figure(long), figure(unit), figure(unit))
	return out + authority(geographic) + "]"
}

func authority(code int) string {
	if code == 0 {
		return ""
	}
	return fmt.Sprintf(`,AUTHORITY["EPSG","%d"]`, code)
}

// cited takes a name out of the geographic citation, "unknown" where it has
// none. Programs write it as "GCS Name = … |Datum = … |Ellipsoid = …" (common
// practice, no source).
func (k *keyed) cited(what string) string {
	for _, part := range strings.Split(k.g.GeographicCitation, "|") {
		name, value, ok := strings.Cut(part, "=")
		if ok && strings.EqualFold(strings.TrimSpace(name), what) {
			return plainName(value)
		}
	}
	if what == "GCS Name" && !strings.ContainsAny(k.g.GeographicCitation, "|=") {
		return plainName(k.g.GeographicCitation)
	}
	return "unknown"
}

// plainName leaves out what would end a name in well-known text.
func plainName(s string) string {
	s = strings.TrimSpace(strings.Map(func(r rune) rune {
		if strings.ContainsRune(`"[](),`, r) || r < ' ' {
			return -1
		}
		return r
	}, s))
	if s == "" {
		return "unknown"
	}
	return s
}

// ellipsoid is the equatorial radius in metres and the inverse flattening, by
// figures or by codes. A datum by its code needs no ellipsoid beside it.
func (k *keyed) ellipsoid(geographic, datum int) (a, invF float64) {
	a, okA := k.number(keySemiMajor)
	invF, okF := k.number(keyInvFlattening)
	if b, ok := k.number(keySemiMinor); ok && !okF {
		invF, okF = a/(a-b), true
		if b == a {
			invF = 0 // a ball, as well-known text has it
		}
	}
	if okA && okF {
		return a, invF
	}
	code := k.code(keyEllipsoid)
	if code == 0 {
		code = ellipsoidOf(geographic)
	}
	if code == 0 && datum > 2000 {
		code = ellipsoidOf(datum - 2000) // the numbering of the EPSG dataset
	}
	for _, e := range ellipsoids() {
		if e.code == code {
			return e.a, e.invF
		}
	}
	switch {
	case code != 0:
		k.fail("its ellipsoid EPSG:%d is not known here, and its radius and flattening are not given", code)
	case geographic != 0 || datum != 0:
		k.fail("it names a datum (EPSG:%d) whose ellipsoid is not known here", max(geographic, datum))
	default:
		k.fail("it names neither a datum nor an ellipsoid")
	}
	return 0, 0
}

// ellipsoidByCode is an ellipsoid of the EPSG dataset.
type ellipsoidByCode struct {
	code    int
	a, invF float64
}

// ellipsoids are those of the EPSG dataset that maps stand on most.
func ellipsoids() []ellipsoidByCode {
	byRadii := func(code int, a, b float64) ellipsoidByCode { return ellipsoidByCode{code, a, a / (a - b)} }
	return []ellipsoidByCode{
		{7001, 6377563.396, 299.3249646},
		{7002, 6377340.189, 299.3249646},
		{7003, 6378160, 298.25},
		{7004, 6377397.155, 299.1528128},
		byRadii(7008, 6378206.4, 6356583.8),
		byRadii(7011, 6378249.2, 6356515),
		{7012, 6378249.145, 293.465},
		{7019, 6378137, 298.257222101},
		{7022, 6378388, 297},
		{7024, 6378245, 298.3},
		{7030, 6378137, 298.257223563},
		{7036, 6378160, 298.247167427},
		{7043, 6378135, 298.26},
	}
}

// ellipsoidOf is the ellipsoid's code of a geographic system, both of the EPSG
// dataset; 0 for those that are not known here.
func ellipsoidOf(geographic int) int {
	switch geographic {
	case 4326:
		return 7030
	case 4258, 4269, 4283, 4167, 4171, 4173, 4612, 4619, 4659, 4674, 4121, 6668, 7844:
		return 7019
	case 4267:
		return 7008
	case 4277:
		return 7001
	case 4299, 4300:
		return 7002
	case 4149, 4150, 4289, 4312, 4314:
		return 7004
	case 4230, 4265, 4272, 4313:
		return 7022
	case 4223, 4275:
		return 7011
	case 4322:
		return 7043
	}
	return 0
}

// shift writes the figures of a shift to WGS 84, "" where there are none.
func (k *keyed) shift() string {
	for _, key := range k.g.Keys {
		if key.ID != keyToWGS84 || len(key.Numbers) != 3 && len(key.Numbers) != 7 {
			continue
		}
		var out []string
		for _, v := range key.Numbers {
			out = append(out, figure(v))
		}
		return strings.Join(out, ",")
	}
	return ""
}

// meridian is the prime meridian's longitude in the angular unit of the keys.
func (k *keyed) meridian() float64 {
	if v, ok := k.number(keyMeridianLong); ok {
		return v
	}
	const greenwich = 8901 // of the EPSG dataset
	if code := k.code(keyMeridian); code != 0 && code != greenwich {
		k.fail("its prime meridian EPSG:%d is named without its longitude", code)
	}
	return 0
}

// angularUnit is the size of the unit of angles in radians.
func (k *keyed) angularUnit() float64 {
	const degree = math.Pi / 180
	code, _ := k.number(keyAngularUnits)
	switch code {
	case 0, 9102, 9122:
		return degree
	case 9101:
		return 1
	case 9105, 9106: // grad, gon
		return math.Pi / 200
	case tiff.UserDefined:
		if v, ok := k.number(keyAngularSize); ok && v > 0 {
			return v
		}
	}
	k.fail("its unit of angles (EPSG:%g) is not one that is read: degrees, grads or radians", code)
	return degree
}
