package geodesy

import (
	"strconv"
	"strings"
)

// The keys that a code has beside those of PROJ, whose programs pass them over:
// the name of the grid, the EPSG code of its latitude and longitude where the
// datum has no name in PROJ, and the name of a datum that is not known. Without
// that it would be read again as one that is not named, and those are taken for
// WGS 84's where the ellipsoid is.
const (
	titleKey     = "title"
	baseKey      = "base"
	datumNameKey = "datum_name"
)

// code writes the definition in one way only.
func (r *recipe) code() Code {
	var b strings.Builder
	add := func(key, value string) { b.WriteString(" +" + key + "=" + value) }
	number := func(key string, v float64) { add(key, strconv.FormatFloat(v, 'f', -1, 64)) }

	add("proj", string(r.family))
	for _, p := range r.figures() {
		number(p.key, p.value)
	}
	r.addDatum(add, number)
	if r.unit.Metres != 1 && r.family != familyLatLon {
		number("to_meter", r.unit.Metres)
	}
	b.WriteString(" +no_defs")
	if r.title != "" {
		add(titleKey, strings.ReplaceAll(r.title, " ", "_"))
	}
	return Code(strings.TrimSpace(b.String()))
}

type keyed struct {
	key   string
	value float64
}

// figures are the parameters of the family, in order.
func (r *recipe) figures() []keyed {
	lat0, lon0, k0 := keyed{"lat_0", r.lat0}, keyed{"lon_0", r.lon0}, keyed{"k_0", r.k0}
	latTS := keyed{"lat_ts", r.latTS}
	e, n := keyed{"x_0", r.falseE}, keyed{"y_0", r.falseN}
	switch r.family {
	case familyTM, familySwiss:
		return []keyed{lat0, lon0, k0, e, n}
	case familyConic:
		return []keyed{{"lat_1", r.lat1}, {"lat_2", r.lat2}, lat0, lon0, k0, e, n}
	case familyEqual:
		return []keyed{lat0, lon0, e, n}
	case familyMercator:
		if r.latTS != 0 {
			return []keyed{lon0, latTS, e, n}
		}
		return []keyed{lon0, k0, e, n}
	case familyWeb:
		return []keyed{lon0, e, n}
	case familyPolar:
		if r.latTS == r.lat0 {
			return []keyed{lat0, lon0, k0, e, n}
		}
		return []keyed{lat0, latTS, lon0, e, n}
	case familyFlat:
		return []keyed{lat0, latTS, lon0, e, n}
	}
	if r.lon0 != 0 {
		return []keyed{{"pm", r.lon0}}
	}
	return nil
}

func (r *recipe) addDatum(add func(key, value string), number func(key string, v float64)) {
	if r.known != nil && r.known.proj != "" {
		add("datum", r.known.proj)
		return
	}
	number("a", r.ellipsoid.A)
	number("rf", r.ellipsoid.InvF)
	if r.known == nil && r.datumName != "" {
		add(datumNameKey, strings.ReplaceAll(r.datumName, " ", "_"))
	}
	switch {
	case r.known != nil:
		add(baseKey, "epsg:"+strconv.Itoa(r.known.geographic))
	case r.toWGS84 != nil:
		var parts []string
		for _, v := range r.toWGS84 {
			parts = append(parts, strconv.FormatFloat(v, 'f', -1, 64))
		}
		add("towgs84", strings.Join(parts, ","))
	case r.shiftFile != "":
		add("nadgrids", r.shiftFile)
	}
}
