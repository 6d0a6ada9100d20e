package crs

import (
	"cmp"
	"math"
	"strings"

	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
)

// Family is a kind of projection that a Definition can be of, by its name in
// PROJ strings.
type Family string

// The families.
const (
	FamilyTM       Family = "tmerc"   // Transverse Mercator, zones of UTM among them
	FamilyConic    Family = "lcc"     // Lambert conformal conic, of one parallel or two
	FamilyEqual    Family = "laea"    // Lambert azimuthal equal-area
	FamilySwiss    Family = "somerc"  // Swiss oblique Mercator
	FamilyMercator Family = "merc"    // Mercator on the ellipsoid
	FamilyWeb      Family = "webmerc" // Web Mercator
	FamilyPolar    Family = "stere"   // polar stereographic
	FamilyLatLon   Family = "longlat" // latitude and longitude, in degrees
)

// words names the family for people, or returns "" for an unknown one.
func (f Family) words() string {
	switch f {
	case FamilyTM:
		return "Transverse Mercator"
	case FamilyConic:
		return "Lambert conformal conic"
	case FamilyEqual:
		return "Lambert azimuthal equal-area"
	case FamilySwiss:
		return "Swiss oblique Mercator"
	case FamilyMercator:
		return "Mercator"
	case FamilyWeb:
		return "Web Mercator"
	case FamilyPolar:
		return "polar stereographic"
	case FamilyLatLon:
		return "Latitude and longitude"
	}
	return ""
}

// Definition describes a grid: a projection with its parameters, an ellipsoid, a
// datum and a unit. Angles are in degrees, longitudes from Greenwich, lengths in
// metres. Values outside the ranges given here are refused, and parameters that the
// family does not use are ignored.
type Definition struct {
	Title  string // name of the grid for people, or ""
	Family Family

	Lat0, Lon0     float64 // origin, −90 to 90 and −540 to 540; the pole for FamilyPolar
	Lat1, Lat2     float64 // FamilyConic: its parallels, the same twice where there is one; −89.9 to 89.9
	LatTS          float64 // FamilyMercator, FamilyPolar: latitude of true scale; the pole where K0 is used
	K0             float64 // scale at the origin, 0.5 to 2; 1 with a latitude of true scale
	FalseE, FalseN float64 // coordinates of the origin, to ±1e9

	Ellipsoid earth.Ellipsoid // radius 6.3e6 to 6.45e6 m, inverse flattening 150 to 400; zero where the datum is known by a code
	Datum     NamedDatum
	Unit      Unit // of the printed coordinates, 1 mm to 200 km; the zero Unit is the metre

	EPSG     int  // the text's own code, or 0
	OnlyCode bool // the text is nothing but a code

	Known     *datum.Known // nil if the datum is unknown
	DatumName string       // the name in the text
	ToWGS84   []float64    // as in NamedDatum
	ShiftFile string       // the file of datum shifts, if nothing else states the shift; it is not read
}

// NamedDatum is a datum as a file describes it; each part may be absent. Without a
// known code, a known name or a stated shift, its shift is unknown: see
// Shift.Unknown.
type NamedDatum struct {
	Code, LatLonCode int       // EPSG codes of the datum and of its latitude and longitude, or 0
	Name, LatLonName string    // names of the two
	ToWGS84          []float64 // nil, or three or seven parameters: metres, seconds of arc as position vector, parts per million; to ±5000
}

// Prepared is the definition with its names cleaned, its unit and its datum resolved, and
// checked. The error is a *BadDefinition.
func (def Definition) Prepared() (*Definition, error) {
	def.Title = cleanTitle(def.Title)
	def.Ellipsoid.Name = cleanTitle(strings.ReplaceAll(def.Ellipsoid.Name, "_", " "))
	def.Ellipsoid = named(def.Ellipsoid)
	if def.Unit.Metres == 0 {
		def.Unit.Metres = 1
	}
	def.Unit = lengthUnit(def.Unit.Metres, def.Unit.Name)
	if err := def.onDatum(def.Datum); err != nil {
		return nil, err
	}
	if def.Ellipsoid.A == 0 {
		return nil, Bad("the definition gives no ellipsoid, and this program does not know the datum EPSG:%d: give the ellipsoid", cmp.Or(def.Datum.LatLonCode, def.Datum.Code))
	}
	if def.Family == FamilyLatLon {
		def.Unit = DegreeUnit(def.Ellipsoid)
	}
	return &def, nil
}

// Check refuses values that no map has, and wraps the central meridian.
func (def *Definition) Check() error {
	if math.IsInf(def.Ellipsoid.InvF, 0) || def.Ellipsoid.InvF == 0 {
		return refuseSphere()
	}
	for _, c := range [...]struct {
		what           string
		value, lo, hi  float64
		orInTheseUnits string
	}{
		{"latitude of origin", def.Lat0, -90, 90, "°"},
		{"central meridian", def.Lon0, -540, 540, "°"},
		{"first standard parallel", def.Lat1, -89.9, 89.9, "°"},
		{"second standard parallel", def.Lat2, -89.9, 89.9, "°"},
		{"latitude of true scale", def.LatTS, -90, 90, "°"},
		{"scale factor", def.K0, 0.5, 2, ""},
		{"false easting", def.FalseE, -1e9, 1e9, " m"},
		{"false northing", def.FalseN, -1e9, 1e9, " m"},
		{"equatorial radius", def.Ellipsoid.A, minAxisM, maxAxisM, " m"},
		{"inverse flattening", def.Ellipsoid.InvF, minInvF, maxInvF, ""},
		{"unit", def.Unit.Metres, 1e-3, 2e5, " m"},
	} {
		if !(c.value >= c.lo && c.value <= c.hi) {
			return Bad("the %s is %g%s, but must be between %g and %g", c.what, c.value, c.orInTheseUnits, c.lo, c.hi)
		}
	}
	for _, v := range def.ToWGS84 {
		if !(math.Abs(v) <= 5000) {
			return Bad("the shift to WGS 84 has the value %g, but no datum is shifted that far: check its units", v)
		}
	}
	if err := def.checkFamily(); err != nil {
		return err
	}
	def.Lon0 = earth.WrapDeg(earth.WrapDeg(def.Lon0))
	return nil
}

func (def *Definition) checkFamily() error {
	if def.Family.words() == "" {
		return Bad("the projection %q is not supported; %s", shorten(string(def.Family)), ReadableGrids)
	}
	switch def.Family {
	case FamilyConic:
		if math.Abs(def.Lat1+def.Lat2) < 1e-6 || math.Abs(def.Lat1) < 1e-6 || math.Abs(def.Lat2) < 1e-6 || def.Lat1*def.Lat2 < 0 {
			return Bad("the standard parallels of the cone are %g° and %g°: both must be on the same side of the equator", def.Lat1, def.Lat2)
		}
		if def.Lat0*math.Copysign(1, def.Lat1) < -80 {
			return Bad("the latitude of origin %g° is too far from the standard parallels", def.Lat0)
		}
	case FamilyPolar:
		if math.Abs(def.Lat0) != 90 {
			return Bad("the stereographic projection has its centre at latitude %g°: it is supported only with the centre at a pole; %s", def.Lat0, ReadableGrids)
		}
		if def.LatTS != def.Lat0 && def.K0 != 1 {
			return def.twoScales()
		}
		if def.LatTS*def.Lat0 < 0 || math.Abs(def.LatTS) < 1 {
			return Bad("the latitude of true scale is %g°: it must be in the same hemisphere as the pole at %g°, and at least 1° from the equator", def.LatTS, def.Lat0)
		}
	case FamilyMercator:
		if def.Lat0 != 0 {
			return Bad("the Mercator projection has its origin at latitude %g°: set the origin to the equator (+lat_0=0), and give the latitude of true scale as a standard parallel (+lat_ts)", def.Lat0)
		}
		if def.LatTS != 0 && def.K0 != 1 {
			return def.twoScales()
		}
		return def.scaleBeyond(def.LatTS)
	case FamilySwiss:
		return def.scaleBeyond(def.Lat0)
	}
	return nil
}

func (def *Definition) twoScales() error {
	return Bad("the %s projection has both a scale factor %g and true scale at latitude %g°: give only one of them", def.Family.words(), def.K0, def.LatTS)
}

func (def *Definition) scaleBeyond(latitudes ...float64) error {
	for _, lat := range latitudes {
		if math.Abs(lat) > 88 {
			return Bad("the latitude of origin or of true scale is beyond 88°, where the %s projection has no scale", def.Family.words())
		}
	}
	return nil
}

// cleanTitle removes the characters of a name that would break a line.
func cleanTitle(text string) string {
	clean := strings.Map(func(c rune) rune {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c > 0xbf && c != 0xfffd && c < 0x2000, strings.ContainsRune("-/.,()'", c):
			return c
		}
		return ' '
	}, text)
	clean = strings.Join(strings.Fields(clean), " ")
	if letters := []rune(clean); len(letters) > maxTitle {
		clean = strings.TrimSpace(string(letters[:maxTitle]))
	}
	if strings.EqualFold(clean, "unknown") || strings.EqualFold(clean, "unnamed") {
		return ""
	}
	return clean
}
