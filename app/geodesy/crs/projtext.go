package crs

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// projKeys are the key and value pairs of a PROJ string.
type projKeys map[string]string

// maxProjKeys bounds a PROJ string.
const maxProjKeys = 64

// ReadProj reads a PROJ string: the keys of the PROJ documentation,
// "Cartographic projection" and "Ellipsoids", with or without the plus signs.
// Keys that are not read and could change the grid are refused.
func ReadProj(text string) (*Definition, error) {
	keys, err := splitProj(text)
	if err != nil {
		return nil, err
	}
	if init, ok := keys["init"]; ok {
		return readInit(keys, init)
	}
	if err := keys.refuseUnread(); err != nil {
		return nil, err
	}
	def := &Definition{K0: 1, Unit: Unit{"metre", 1}, Title: cleanTitle(strings.ReplaceAll(keys[TitleKey], "_", " "))}
	for _, step := range []func(*Definition) error{keys.readNumbers, keys.readEllipsoid, keys.readDatum, keys.readUnit, keys.readFamily} {
		if err := step(def); err != nil {
			return nil, err
		}
	}
	return def, nil
}

// readInit reads "+init=epsg:27700", which must be alone.
func readInit(keys projKeys, init string) (*Definition, error) {
	number, ok := BareCode(init)
	if !ok {
		return nil, Bad("+init=%s is not supported: only +init=epsg: with a number is", shorten(init))
	}
	for k := range keys {
		switch k {
		case "init", "no_defs", "type", "wktext", "over":
		default:
			return nil, Bad("the PROJ string has +init=%s and +%s: give the code alone, or the whole definition without it", shorten(init), shorten(k))
		}
	}
	return &Definition{EPSG: number, OnlyCode: true}, nil
}

func splitProj(text string) (projKeys, error) {
	keys := projKeys{}
	fields := strings.Fields(text)
	if len(fields) > maxProjKeys {
		return nil, Bad("the PROJ string has %d parts, but no grid needs more than %d", len(fields), maxProjKeys)
	}
	for _, f := range fields {
		if f == "<>" {
			continue
		}
		key, value, _ := strings.Cut(strings.TrimPrefix(f, "+"), "=")
		key = strings.ToLower(key)
		if key == "step" || value == "pipeline" {
			return nil, Bad("a pipeline is a chain of steps, not a grid: give the definition of the grid alone")
		}
		if old, had := keys[key]; had && old != value {
			return nil, Bad("the PROJ string has +%s twice, with different values", shorten(key))
		}
		keys[key] = value
	}
	return keys, nil
}

// projRead are the keys that are read, and those that do not change the grid.
const projRead = " proj lat_0 lon_0 lat_1 lat_2 lat_ts k k_0 x_0 y_0 zone south alpha gamma lonc " +
	"ellps datum a b rf f towgs84 nadgrids units to_meter pm axis title base datum_name " +
	"no_defs type wktext over no_off no_uoff approx algo vunits vto_meter geoidgrids no_rot "

func (k projKeys) refuseUnread() error {
	for key := range k {
		if key == "" || !strings.Contains(projRead, " "+key+" ") {
			return Bad("the PROJ string has +%s, which is not supported here and may change the grid", shorten(key))
		}
	}
	if axis, ok := k["axis"]; ok && axis != "enu" {
		return Bad("+axis=%s turns the axes of the grid: only grids with eastings to the east and northings to the north are supported", shorten(axis))
	}
	return nil
}

// readNumbers reads the numbers of the projection.
func (k projKeys) readNumbers(def *Definition) error {
	for _, p := range []struct {
		key   string
		to    *float64
		angle bool
	}{
		{"lat_0", &def.Lat0, true},
		{"lon_0", &def.Lon0, true},
		{"lat_1", &def.Lat1, true},
		{"lat_2", &def.Lat2, true},
		{"lat_ts", &def.LatTS, true},
		{"k", &def.K0, false},
		{"k_0", &def.K0, false},
		{"x_0", &def.FalseE, false},
		{"y_0", &def.FalseN, false},
	} {
		text, ok := k[p.key]
		if !ok {
			continue
		}
		v, err := number(p.key, text)
		if p.angle {
			v, err = projAngle(p.key, text)
		}
		if err != nil {
			return err
		}
		*p.to = v
	}
	pm, err := k.primeMeridian()
	def.Lon0 += pm
	return err
}

func number(key, text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !earth.Finite(v) {
		return 0, Bad("+%s=%s is not a number", key, shorten(text))
	}
	return v, nil
}

// projAngle reads an angle in degrees, or in degrees, minutes and seconds such
// as 7d26'22.5"E.
func projAngle(key, text string) (float64, error) {
	bad := Bad("+%s=%s is not an angle in degrees", key, shorten(text))
	body, sign := text, 1.0
	if n := len(body); n > 1 && strings.ContainsRune("NnEeSsWw", rune(body[n-1])) {
		if strings.ContainsRune("SsWw", rune(body[n-1])) {
			sign = -1
		}
		body = body[:n-1]
	}
	if strings.HasPrefix(body, "-") {
		sign, body = -sign, body[1:]
	}
	body = strings.TrimPrefix(body, "+")
	sum, scale := 0.0, 1.0
	for _, mark := range []string{"dD°", "'", "\""} {
		if body == "" {
			break
		}
		at := strings.IndexAny(body, mark)
		part, rest := body, ""
		switch {
		case at >= 0 && mark == "dD°":
			_, size := utf8.DecodeRuneInString(body[at:])
			part, rest = body[:at], body[at+size:]
		case at >= 0:
			part, rest = body[:at], body[at+1:]
		}
		v, err := strconv.ParseFloat(part, 64)
		if err != nil || v < 0 || !earth.Finite(v) || (scale < 1 && v >= 60) {
			return 0, bad
		}
		sum += v * scale
		scale /= 60
		body = rest
	}
	if body != "" {
		return 0, bad
	}
	return sign * sum, nil
}

// readFamily turns the name of the projection and its special keys into the
// family.
func (k projKeys) readFamily(def *Definition) error {
	switch name := k["proj"]; name {
	case "utm":
		return k.readUTM(def)
	case "tmerc", "etmerc":
		def.Family = FamilyTM
	case "lcc":
		def.Family = FamilyConic
		if _, ok := k["lat_1"]; !ok {
			return Bad("+proj=lcc needs +lat_1, a standard parallel")
		}
		if _, ok := k["lat_2"]; !ok {
			def.Lat2 = def.Lat1
			if _, ok := k["lat_0"]; !ok {
				def.Lat0 = def.Lat1
			}
		}
	case "laea":
		def.Family = FamilyEqual
	case "somerc":
		def.Family = FamilySwiss
	case "omerc":
		return k.readOblique(def)
	case "webmerc":
		def.Family = FamilyWeb
	case "merc":
		return k.readMercator(def)
	case "stere":
		k.readPolar(def)
	case "ups":
		def.Family, def.Lat0, def.LatTS, def.K0, def.FalseE, def.FalseN = FamilyPolar, 90, 90, 0.994, 2e6, 2e6
		if _, south := k["south"]; south {
			def.Lat0, def.LatTS = -90, -90
		}
	case "longlat", "latlong", "lonlat", "latlon":
		def.Family, def.Unit = FamilyLatLon, DegreeUnit(def.Ellipsoid)
	case "":
		return Bad("the PROJ string has no +proj")
	default:
		return Bad("the projection +proj=%s is not supported; %s", shorten(name), ReadableGrids)
	}
	return nil
}

func (k projKeys) readUTM(def *Definition) error {
	zone, err := strconv.Atoi(k["zone"])
	if err != nil || zone < 1 || zone > 60 {
		return Bad("+zone=%s is not a UTM zone from 1 to 60", shorten(k["zone"]))
	}
	_, south := k["south"]
	pm, err := k.primeMeridian()
	p := proj.UTMParams(zone, !south)
	def.Family, def.Lat0, def.Lon0, def.K0, def.FalseE, def.FalseN = FamilyTM, 0, p.Lon0+pm, p.K0, p.FalseE, p.FalseN
	return err
}

// readOblique reads the Swiss oblique Mercator, and no other.
func (k projKeys) readOblique(def *Definition) error {
	alpha, errA := projAngle("alpha", k["alpha"])
	gamma, errG := alpha, error(nil)
	if text, ok := k["gamma"]; ok {
		gamma, errG = projAngle("gamma", text)
	}
	lonc, errL := projAngle("lonc", k["lonc"])
	_, noOff := k["no_off"]
	_, noUoff := k["no_uoff"]
	_, noRot := k["no_rot"]
	if errA != nil || errG != nil || errL != nil || alpha != 90 || gamma != 90 || noOff || noUoff || noRot {
		return refuseOblique()
	}
	pm, err := k.primeMeridian()
	def.Family, def.Lon0 = FamilySwiss, lonc+pm
	return err
}

func refuseOblique() error {
	return Bad("the only oblique Mercator supported is the Swiss one, with azimuth 90° and its origin at the centre; %s", ReadableGrids)
}

// readMercator reads a Mercator on the sphere of the equatorial radius as Web Mercator.
func (k projKeys) readMercator(def *Definition) error {
	def.Family, def.Lat0 = FamilyMercator, 0 // PROJ passes +lat_0 over
	if def.LatTS != 0 {
		def.K0 = 1
	}
	if math.IsInf(def.Ellipsoid.InvF, 1) {
		if math.Abs(def.Ellipsoid.A-earth.WGS84().A) > 1e-3 || def.K0 != 1 || def.LatTS != 0 || k["nadgrids"] != "@null" {
			return refuseSphere()
		}
		def.Family, def.Ellipsoid = FamilyWeb, earth.WGS84()
		def.Known, def.ShiftFile, def.ToWGS84 = datumByCode(4326), "", nil
	}
	return nil
}

func refuseSphere() error {
	return Bad("the definition uses a sphere; only Web Mercator is supported on a sphere")
}

func (k projKeys) readPolar(def *Definition) {
	def.Family = FamilyPolar
	if _, ok := k["lat_ts"]; !ok {
		def.LatTS = 90
	}
	def.LatTS = math.Copysign(def.LatTS, def.Lat0)
}
