package scan

import (
	"fmt"
	"math"
	"strings"

	"legwright/app/geodesy"
)

// figureKeys are the keys that may hold each figure of a projection, the
// likeliest first, with its name in well-known text.
type figureKeys struct {
	name string
	keys []int
}

// projected wraps latitude and longitude in the projection.
func (k *keyed) projected(base string) string {
	unit, err := saidUnit(k.g)
	if err != nil && k.err == nil {
		k.err = err
	}
	if unit == 0 {
		unit = 1
	}
	method, figures := k.method()
	out := fmt.Sprintf(`PROJCS["%s",%s,PROJECTION["%s"]`, plainName(k.title()), base, method)
	for _, f := range figures {
		if v, ok := k.number(f.keys...); ok {
			out += fmt.Sprintf(`,PARAMETER["%s",%s]`, f.name, figure(v))
		}
	}
	if method == "UTM" {
		return k.utm(base, unit)
	}
	return out + fmt.Sprintf(`,UNIT["length",%s]]`, figure(unit))
}

func (k *keyed) title() string {
	for _, s := range []string{k.g.ProjectedCitation, k.g.Citation} {
		if s != "" && !strings.ContainsAny(s, "|=") {
			return s
		}
	}
	return "unknown"
}

// method is the projection's name in well-known text and where its figures are.
func (k *keyed) method() (name string, figures []figureKeys) {
	origin := []figureKeys{
		{"latitude_of_origin", []int{keyOriginLat, keyFalseLat, keyCentreLat}},
		{"central_meridian", []int{keyOriginLong, keyFalseLong, keyCentreLong}},
		{"false_easting", []int{keyFalseEasting, keyFalseOriginE, keyCentreEasting}},
		{"false_northing", []int{keyFalseNorthing, keyFalseOriginN, keyCentreNorthing}},
	}
	scale := figureKeys{"scale_factor", []int{keyScaleOrigin, keyScaleCentre}}
	centre := []figureKeys{
		{"latitude_of_center", []int{keyCentreLat, keyOriginLat, keyFalseLat}},
		{"longitude_of_center", []int{keyCentreLong, keyOriginLong, keyFalseLong}},
		origin[2], origin[3],
	}
	number, said := k.number(keyMethod)
	if !said {
		return k.byProjection()
	}
	switch number {
	case 1:
		return "Transverse_Mercator", append(origin, scale)
	case 5:
		return "Swiss_Oblique_Cylindrical", append(centre, scale)
	case 7:
		return k.mercator(origin, scale)
	case 8:
		return "Lambert_Conformal_Conic_2SP", append([]figureKeys{
			{"standard_parallel_1", []int{keyParallel1}},
			{"standard_parallel_2", []int{keyParallel2}},
			{"latitude_of_origin", []int{keyFalseLat, keyOriginLat, keyCentreLat}},
			{"central_meridian", []int{keyFalseLong, keyOriginLong, keyCentreLong}},
			{"false_easting", []int{keyFalseOriginE, keyFalseEasting}},
			{"false_northing", []int{keyFalseOriginN, keyFalseNorthing}},
		}, scale)
	case 9:
		return "Lambert_Conformal_Conic_1SP", append(origin, scale)
	case 10:
		return "Lambert_Azimuthal_Equal_Area", centre
	case 15:
		return "Polar_Stereographic", []figureKeys{
			origin[0], {"central_meridian", []int{keyPoleLong, keyOriginLong, keyFalseLong, keyCentreLong}}, origin[2], origin[3], scale,
		}
	case 9815: // of the EPSG dataset; common practice, not of the standard
		return "Hotine_Oblique_Mercator_Azimuth_Center", append(centre, scale,
			figureKeys{"azimuth", []int{keyAzimuth}}, figureKeys{"rectified_grid_angle", []int{keySkew}})
	}
	k.fail("its projection, %s, is not read; %s", methodName(number), geodesy.ReadableGrids)
	return "", nil
}

// mercator is the Mercator projection, by a scale factor or by a latitude of
// true scale.
func (k *keyed) mercator(origin []figureKeys, scale figureKeys) (string, []figureKeys) {
	if _, ok := k.number(keyParallel1); ok {
		return "Mercator_2SP", append(origin, figureKeys{"standard_parallel_1", []int{keyParallel1}})
	}
	return "Mercator_1SP", append(origin, scale)
}

// byProjection takes a projection that is named by a code: zones of UTM only.
func (k *keyed) byProjection() (string, []figureKeys) {
	code := k.code(keyProjection)
	if _, _, ok := utmOf(code); ok {
		return "UTM", nil
	}
	if code != 0 {
		k.fail("its projection EPSG:%d is not read by its code: zones of UTM are", code)
	} else {
		k.fail("it names no projection")
	}
	return "", nil
}

// utmOf is the zone of UTM that a code of the EPSG dataset stands for as a
// projection: 16001 to 16060 north, 16101 to 16160 south.
func utmOf(code int) (zone int, south, ok bool) {
	zone, south = code-16000, false
	if zone > 100 {
		zone, south = zone-100, true
	}
	return zone, south, zone >= 1 && zone <= 60
}

// utm writes a zone of UTM on the base of the keys. Its figures are in metres,
// those of well-known text in the grid's unit.
func (k *keyed) utm(base string, unit float64) string {
	zone, south, _ := utmOf(k.code(keyProjection))
	northing := 0.0
	if south {
		northing = 1e7
	}
	degrees := k.angularUnit() * 180 / math.Pi
	return fmt.Sprintf(`PROJCS["%s",%s,PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",%s],`+
		`PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",%s],PARAMETER["false_northing",%s],UNIT["length",%s]]`,
		plainName(k.title()), base, figure(float64(6*zone-183)/degrees), figure(5e5/unit), figure(northing/unit), figure(unit))
}

// methodName names the methods of the standard (OGC 19-008r4, annex with the
// codes of coordinate transformation methods) that are not drawn.
func methodName(number float64) string {
	names := map[float64]string{
		2: "Transverse Mercator modified for Alaska", 3: "the oblique Mercator", 4: "the oblique Mercator of Laborde",
		6: "the spherical oblique Mercator", 11: "Albers equal-area", 12: "the azimuthal equidistant", 13: "the equidistant conic",
		14: "the stereographic", 16: "the oblique stereographic", 17: "the equirectangular", 18: "Cassini-Soldner", 19: "the gnomonic",
		20: "Miller's cylindrical", 21: "the orthographic", 22: "the polyconic", 23: "Robinson's", 24: "the sinusoidal",
		25: "Van der Grinten's", 26: "the New Zealand Map Grid", 27: "Transverse Mercator with axes to the south",
	}
	if n, ok := names[number]; ok {
		return n
	}
	return fmt.Sprintf("method %g", number)
}
