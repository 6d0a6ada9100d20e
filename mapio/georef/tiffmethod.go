package georef

import (
	"fmt"
	"math"
	"strings"

	"legwright/app/geodesy"
)

// projected reads the projection and its unit.
func (k *keyed) projected() {
	unit, err := saidUnit(k.g)
	if err != nil {
		k.fail("%w", err)
	}
	if unit == 0 {
		unit = 1
	}
	k.def.Title, k.def.Unit.Metres = k.title(), unit
	if number, said := k.number(keyMethod); said {
		k.method(number)
	} else {
		k.byProjection()
	}
}

func (k *keyed) title() string {
	for _, s := range []string{k.g.ProjectedCitation, k.g.Citation} {
		if s != "" && !strings.ContainsAny(s, "|=") {
			return s
		}
	}
	return ""
}

// Sets of keys for latitude, longitude, easting and northing of a projection's
// origin. Programs differ in which set they use for a method.
type originKeys [4]int

func naturalOrigin() originKeys {
	return originKeys{keyOriginLat, keyOriginLong, keyFalseEasting, keyFalseNorthing}
}

func falseOrigin() originKeys {
	return originKeys{keyFalseLat, keyFalseLong, keyFalseOriginE, keyFalseOriginN}
}

func centre() originKeys {
	return originKeys{keyCentreLat, keyCentreLong, keyCentreEasting, keyCentreNorthing}
}

// origin reads the origin of the projection and its scale there: from the usual set of keys
// for the method, else from the others.
func (k *keyed) origin(first originKeys) {
	ids := func(i int) []int { return []int{first[i], naturalOrigin()[i], falseOrigin()[i], centre()[i]} }
	east, _ := k.number(ids(2)...)
	north, _ := k.number(ids(3)...)
	k.def.Lat0, k.def.FalseE, k.def.FalseN = k.angle(ids(0)...), east*k.def.Unit.Metres, north*k.def.Unit.Metres
	k.def.Lon0 += k.angle(ids(1)...)
	if v, ok := k.number(keyScaleOrigin, keyScaleCentre); ok {
		k.def.K0 = v
	} else {
		k.def.K0 = 1
	}
}

// method reads a projection by its code in OGC 19-008r4.
func (k *keyed) method(number float64) {
	switch number {
	case 1:
		k.origin(naturalOrigin())
		k.def.Family = geodesy.FamilyTM
	case 5:
		k.origin(centre())
		k.def.Family = geodesy.FamilySwiss
	case 7:
		k.mercator()
	case 8:
		k.conic()
	case 9:
		k.origin(naturalOrigin())
		k.def.Family, k.def.Lat1, k.def.Lat2 = geodesy.FamilyConic, k.def.Lat0, k.def.Lat0
	case 10:
		k.origin(centre())
		k.def.Family = geodesy.FamilyEqual
	case 15: // the latitude is that of the pole, or of true scale
		k.origin(originKeys{keyOriginLat, keyPoleLong, keyFalseEasting, keyFalseNorthing})
		k.def.Family, k.def.LatTS, k.def.Lat0 = geodesy.FamilyPolar, k.def.Lat0, math.Copysign(90, k.def.Lat0)
	case 9815: // of the EPSG dataset; common practice, not of the standard
		k.oblique()
	default:
		k.fail("its projection, %s, is not supported; %s", methodName(number), geodesy.ReadableGrids)
	}
}

// mercator is the Mercator projection, by a scale factor or by a latitude of
// true scale.
func (k *keyed) mercator() {
	k.origin(naturalOrigin())
	k.def.Family = geodesy.FamilyMercator
	if _, ok := k.number(keyParallel1); ok {
		k.def.LatTS, k.def.K0 = k.angle(keyParallel1), 1
	}
}

// conic is the Lambert conic of two parallels.
func (k *keyed) conic() {
	if _, ok := k.number(keyParallel1); !ok {
		k.fail("its Lambert conic has no standard parallel")
	}
	k.origin(falseOrigin())
	k.def.Family, k.def.Lat1, k.def.Lat2 = geodesy.FamilyConic, k.angle(keyParallel1), k.angle(keyParallel2, keyParallel1)
	if _, ok := k.number(keyFalseLat, keyOriginLat, keyCentreLat); !ok {
		k.def.Lat0 = k.def.Lat1
	}
}

// oblique reads the Swiss oblique Mercator, and no other.
func (k *keyed) oblique() {
	k.origin(centre())
	k.def.Family = geodesy.FamilySwiss
	azimuth, turn := k.angle(keyAzimuth), k.angle(keySkew, keyAzimuth)
	if math.Abs(azimuth-90) > 1e-9 || math.Abs(turn-90) > 1e-9 {
		k.fail("its oblique Mercator has azimuth %g° and turns the grid by %g°: only the Swiss one is supported, with 90° for both", azimuth, turn)
	}
}

// byProjection reads a projection that is named by a code: UTM zones only.
func (k *keyed) byProjection() {
	code := k.code(keyProjection)
	zone, south, ok := utmOf(code)
	switch {
	case ok:
		k.def.Family, k.def.K0, k.def.FalseE = geodesy.FamilyTM, 0.9996, 5e5
		k.def.Lon0 += float64(6*zone - 183)
		if south {
			k.def.FalseN = 1e7
		}
	case code != 0:
		k.fail("its projection, EPSG:%d, is not supported: the only projection codes supported are those of UTM zones", code)
	default:
		k.fail("it names no projection")
	}
}

// utmOf is the UTM zone of a projection's code in the EPSG dataset: 16001 to 16060 north,
// 16101 to 16160 south.
func utmOf(code int) (zone int, south, ok bool) {
	zone, south = code-16000, false
	if zone > 100 {
		zone, south = zone-100, true
	}
	return zone, south, zone >= 1 && zone <= 60
}

// methodName names the methods of the standard (OGC 19-008r4, annex with the
// codes of coordinate transformation methods) that are not read.
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
