package geodesy

import (
	"fmt"
	"math"
	"strings"
)

// family is a kind of projection that can be defined.
type family string

// The families, by their names in PROJ strings.
const (
	familyTM       family = "tmerc"
	familyConic    family = "lcc"
	familyEqual    family = "laea"
	familySwiss    family = "somerc"
	familyMercator family = "merc"
	familyWeb      family = "webmerc"
	familyPolar    family = "stere"
	familyFlat     family = "eqc"
	familyLatLon   family = "longlat"
)

// words names the family for people.
func (f family) words() string {
	switch f {
	case familyTM:
		return "Transverse Mercator"
	case familyConic:
		return "Lambert conformal conic"
	case familyEqual:
		return "Lambert azimuthal equal-area"
	case familySwiss:
		return "Swiss oblique Mercator"
	case familyMercator:
		return "Mercator"
	case familyWeb:
		return "Web Mercator"
	case familyPolar:
		return "polar stereographic"
	case familyFlat:
		return "Equirectangular"
	}
	return "Latitude and longitude"
}

// recipe is a definition as read from a text: angles in degrees from
// Greenwich, lengths in metres. Conics have lat1 and lat2 (the same where there
// is one parallel); k0 is the scale at the origin, 1 where a latitude of true
// scale latTS is given instead.
type recipe struct {
	title    string
	epsg     int  // the text's own code, 0 where it has none
	onlyCode bool // the text is nothing but a code
	family   family

	lat0, lon0, lat1, lat2, latTS, k0, falseE, falseN float64

	ellipsoid Ellipsoid
	known     *knownDatum // nil where the datum is not known
	datumName string      // as the text names it
	toWGS84   []float64   // nil, three or seven figures in the units of TOWGS84
	shiftFile string      // the file that holds the shift, where nothing else states it; such files are not read
	unit      Unit        // of the printed figures
}

// check refuses figures that no map has.
func (r *recipe) check() error {
	if math.IsInf(r.ellipsoid.InvF, 0) || r.ellipsoid.InvF == 0 {
		return refuseSphere()
	}
	for _, c := range [...]struct {
		what           string
		value, lo, hi  float64
		orInTheseUnits string
	}{
		{"latitude of origin", r.lat0, -90, 90, "°"},
		{"central meridian", r.lon0, -540, 540, "°"},
		{"first standard parallel", r.lat1, -89.9, 89.9, "°"},
		{"second standard parallel", r.lat2, -89.9, 89.9, "°"},
		{"latitude of true scale", r.latTS, -90, 90, "°"},
		{"scale factor", r.k0, 0.5, 2, ""},
		{"false easting", r.falseE, -1e9, 1e9, " m"},
		{"false northing", r.falseN, -1e9, 1e9, " m"},
		{"equatorial radius", r.ellipsoid.A, minAxisM, maxAxisM, " m"},
		{"inverse flattening", r.ellipsoid.InvF, minInvF, maxInvF, ""},
		{"unit", r.unit.Metres, 1e-3, 2e5, " m"},
	} {
		if !(c.value >= c.lo && c.value <= c.hi) {
			return badDefinition("the %s is %g%s, and must lie between %g and %g", c.what, c.value, c.orInTheseUnits, c.lo, c.hi)
		}
	}
	for _, v := range r.toWGS84 {
		if !(math.Abs(v) <= 5000) {
			return badDefinition("the shift to WGS 84 has the figure %g, and no datum is shifted so far: check its units", v)
		}
	}
	return r.checkFamily()
}

func (r *recipe) checkFamily() error {
	switch r.family {
	case familyConic:
		if math.Abs(r.lat1+r.lat2) < 1e-6 || math.Abs(r.lat1) < 1e-6 || math.Abs(r.lat2) < 1e-6 || r.lat1*r.lat2 < 0 {
			return badDefinition("the standard parallels of the cone are %g° and %g°: both must lie on the same side of the equator", r.lat1, r.lat2)
		}
		if r.lat0*sign(r.lat1) < -80 {
			return badDefinition("the latitude of origin %g° is too far from the standard parallels", r.lat0)
		}
	case familyPolar:
		if math.Abs(r.lat0) != 90 {
			return badDefinition("the stereographic projection has its centre at latitude %g°: it is read only with the centre at a pole; %s", r.lat0, ReadableGrids)
		}
		if r.latTS*r.lat0 < 0 || math.Abs(r.latTS) < 1 {
			return badDefinition("the latitude of true scale %g° lies on the far side of the earth from the pole %g°", r.latTS, r.lat0)
		}
	case familySwiss, familyMercator, familyFlat:
		if math.Abs(r.lat0) > 88 || math.Abs(r.latTS) > 88 {
			return badDefinition("the latitude of origin or of true scale lies beyond 88°, where this projection has no scale")
		}
	}
	return nil
}

// projection builds the formulas; check has passed.
func (r *recipe) projection() projection {
	ell := r.ellipsoid
	tm := tmParams{r.lat0, r.lon0, r.k0, r.falseE, r.falseN}
	switch r.family {
	case familyTM:
		return newTransverseMercator(ell, tm)
	case familyConic:
		return newLambertConic(ell, conicParams{r.lat0, r.lon0, r.lat1, r.lat2, r.k0, r.falseE, r.falseN})
	case familyEqual:
		return newLambertAzimuthal(ell, azimuthalParams{r.lat0, r.lon0, r.falseE, r.falseN})
	case familySwiss:
		return newSwissMercator(ell, tm)
	case familyMercator:
		return newMercator(ell, mercatorParams{r.lon0, r.latTS, r.k0, r.falseE, r.falseN})
	case familyWeb:
		return newWebMercator(ell, r.lon0, r.falseE, r.falseN)
	case familyPolar:
		return newPolarStereographic(ell, polarParams{r.lat0 > 0, r.lon0, r.k0 * polarScale(ell, r.latTS), r.falseE, r.falseN})
	case familyFlat:
		return newEquirectangular(ell, flatParams{r.lat0, r.lon0, r.latTS, r.falseE, r.falseN})
	}
	return newEquirectangular(ell, flatParams{lon0: r.lon0})
}

// system returns the grid of the catalogue with these figures, or a new one.
func (r *recipe) system() (*System, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	r.lon0 = wrapDeg(wrapDeg(r.lon0))
	proj := r.projection()
	if s, err := r.inCatalogue(proj); s != nil || err != nil {
		return s, err
	}
	code := r.code()
	if s, ok := catalogue().defined.find(code); ok {
		return s, nil
	}
	s := &System{
		definition: code, name: r.name(), country: "by definition", words: []string{"defined"},
		ellipsoid: r.ellipsoid, proj: proj, datum: r.datum(), unit: r.unit,
		refs: plainOnly{}, rank: rankWide, bends: r.bends(),
	}
	if r.known != nil {
		s.own = r.known.geographic
	}
	s.area, s.areaWords = r.area()
	return catalogue().defined.keep(s), nil
}

func (r *recipe) name() string {
	if r.title != "" {
		return r.title
	}
	if r.family == familyLatLon {
		return "Latitude and longitude on " + r.ellipsoid.Name
	}
	return fmt.Sprintf("%s at %s, %s", r.family.words(), parallel(r.lat0), meridianExact(r.lon0))
}

func parallel(lat float64) string {
	if lat < 0 {
		return fmt.Sprintf("%.6g° S", -lat)
	}
	return fmt.Sprintf("%.6g° N", lat)
}

func meridianExact(lon float64) string {
	if lon < 0 {
		return fmt.Sprintf("%.6g° W", -lon)
	}
	return fmt.Sprintf("%.6g° E", lon)
}

func (r *recipe) bends() string {
	switch r.family {
	case familyEqual:
		return equalBends
	case familyWeb:
		return webMercatorGrid().bends
	case familyFlat, familyLatLon:
		return latLonGrid().bends
	}
	return ""
}

// area is where the family is any good for walking: our own bounds, since a
// definition has none.
func (r *recipe) area() (area, string) {
	band := func(south, north, half float64) area {
		if half >= 180 {
			return area{{south, -180, north, 180}}
		}
		return area{{south, wrapDeg(r.lon0 - half), north, wrapDeg(r.lon0 + half)}}
	}
	switch r.family {
	case familyTM:
		return band(-89, 89, 9), "within 9° of longitude of " + meridianExact(r.lon0) + ", as far as its scale serves"
	case familyConic:
		lo, hi := math.Min(r.lat1, r.lat2)-10, math.Max(r.lat1, r.lat2)+10
		return band(math.Max(lo, -89), math.Min(hi, 89), 75), fmt.Sprintf("from %s to %s, as far as its scale serves", parallel(math.Max(lo, -89)), parallel(math.Min(hi, 89)))
	case familyEqual:
		return band(math.Max(r.lat0-30, -90), math.Min(r.lat0+30, 90), 60), "within some 30° of its centre"
	case familySwiss:
		return band(math.Max(r.lat0-5, -89), math.Min(r.lat0+5, 89), 12), "along the great circle through its centre, as far as its scale serves"
	case familyPolar:
		if r.lat0 > 0 {
			return band(50, 90, 180), "the Arctic north of 50° N"
		}
		return band(-90, -50, 180), "the Antarctic south of 50° S"
	case familyMercator, familyWeb:
		return band(-85.06, 85.06, 180), "the world between 85° S and 85° N"
	}
	return band(-90, 90, 180), "the world"
}

// datum chooses the shift to WGS 84.
func (r *recipe) datum() datum {
	switch {
	case r.known != nil:
		return r.known.datum
	case r.toWGS84 != nil && !r.zeroShift():
		return r.statedShift()
	case r.shiftFile != "":
		return unknownDatum{"the definition names the file " + r.shiftFile + " for it; give +towgs84 instead"}
	case r.likeWGS84():
		return sameDatum{r.datumWords(), unnamedDatumM}
	case r.datumName != "":
		return unknownDatum{"nothing is known of the datum " + r.datumName}
	}
	return unknownDatum{"the definition has no datum and no towgs84"}
}

// σ per axis, our own estimates: of a shift that a definition states without
// its accuracy, by three figures and by seven, and of a datum that is not named
// but lies on the ellipsoid of WGS 84 or GRS 1980.
const (
	statedThreeM  = 10
	statedSevenM  = 3
	unnamedDatumM = 5
)

func (r *recipe) statedShift() datum {
	v := append(append([]float64(nil), r.toWGS84...), 0, 0, 0, 0)
	if v[3] == 0 && v[4] == 0 && v[5] == 0 && v[6] == 0 {
		return translation("three-parameter shift of the definition, accuracy not stated", statedThreeM, v[0], v[1], v[2])
	}
	return seven("seven-parameter shift of the definition, accuracy not stated", statedSevenM, v[0], v[1], v[2], v[3], v[4], v[5], v[6])
}

func (r *recipe) zeroShift() bool {
	for _, v := range r.toWGS84 {
		if v != 0 {
			return false
		}
	}
	return true
}

// likeWGS84 reports whether the datum lies on the ellipsoid of WGS 84, or of
// GRS 1980, as those do that are taken as WGS 84.
func (r *recipe) likeWGS84() bool {
	return sameEllipsoid(r.ellipsoid, WGS84()) || sameEllipsoid(r.ellipsoid, GRS80())
}

func (r *recipe) datumWords() string {
	if r.datumName != "" {
		return r.datumName + ", by its ellipsoid"
	}
	return "a datum that is not named, by its ellipsoid"
}

// sameEllipsoid tells WGS 84 from GRS 1980, which part by 1.5e-6 in the inverse
// flattening, and takes Airy 1830 by its two radii for Airy 1830 by its
// flattening, which part by 3.3e-6.
func sameEllipsoid(a, b Ellipsoid) bool {
	tolerance := 5e-6
	if math.Abs(a.A-WGS84().A) < 1e-3 {
		tolerance = 5e-7
	}
	return math.Abs(a.A-b.A) < 1e-3 && math.Abs(a.InvF-b.InvF) < tolerance
}

// cleanTitle keeps of a name what can stand in a line.
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
