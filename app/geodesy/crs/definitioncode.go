package crs

import (
	"strconv"
	"strings"
)

// Keys of a code that PROJ does not have, and ignores: the name of the grid, the
// EPSG code of its latitude and longitude if PROJ has no name for the datum, and
// the name of an unknown datum. Without its name an unknown datum on the ellipsoid
// of WGS 84 would be read again as WGS 84.
const (
	TitleKey     = "title"
	baseKey      = "base"
	datumNameKey = "datum_name"
)

// Canonical writes the definition in canonical form.
func (def *Definition) Canonical() string {
	var b strings.Builder
	add := func(key, value string) { b.WriteString(" +" + key + "=" + value) }
	number := func(key string, v float64) { add(key, strconv.FormatFloat(v, 'f', -1, 64)) }

	add("proj", string(def.Family))
	for _, p := range def.parameters() {
		number(p.key, p.value)
	}
	def.addDatum(add, number)
	if def.Unit.Metres != 1 && def.Family != FamilyLatLon {
		number("to_meter", def.Unit.Metres)
	}
	b.WriteString(" +no_defs")
	if def.Title != "" {
		add(TitleKey, strings.ReplaceAll(def.Title, " ", "_"))
	}
	return strings.TrimSpace(b.String())
}

type keyed struct {
	key   string
	value float64
}

// parameters returns the parameters of the family, in order.
func (def *Definition) parameters() []keyed {
	lat0, lon0, k0 := keyed{"lat_0", def.Lat0}, keyed{"lon_0", def.Lon0}, keyed{"k_0", def.K0}
	latTS := keyed{"lat_ts", def.LatTS}
	e, n := keyed{"x_0", def.FalseE}, keyed{"y_0", def.FalseN}
	switch def.Family {
	case FamilyTM, FamilySwiss:
		return []keyed{lat0, lon0, k0, e, n}
	case FamilyConic:
		return []keyed{{"lat_1", def.Lat1}, {"lat_2", def.Lat2}, lat0, lon0, k0, e, n}
	case FamilyEqual:
		return []keyed{lat0, lon0, e, n}
	case FamilyMercator:
		if def.LatTS != 0 {
			return []keyed{lon0, latTS, e, n}
		}
		return []keyed{lon0, k0, e, n}
	case FamilyWeb:
		return []keyed{lon0, e, n}
	case FamilyPolar:
		if def.LatTS == def.Lat0 {
			return []keyed{lat0, lon0, k0, e, n}
		}
		return []keyed{lat0, latTS, lon0, e, n}
	}
	if def.Lon0 != 0 {
		return []keyed{{"pm", def.Lon0}}
	}
	return nil
}

func (def *Definition) addDatum(add func(key, value string), number func(key string, v float64)) {
	if def.Known != nil && def.Known.Proj != "" {
		add("datum", def.Known.Proj)
		return
	}
	number("a", def.Ellipsoid.A)
	number("rf", def.Ellipsoid.InvF)
	if def.Known == nil && def.DatumName != "" {
		add(datumNameKey, strings.ReplaceAll(def.DatumName, " ", "_"))
	}
	switch {
	case def.Known != nil:
		add(baseKey, "epsg:"+strconv.Itoa(def.Known.Geographic))
	case def.ToWGS84 != nil:
		var parts []string
		for _, v := range def.ToWGS84 {
			parts = append(parts, strconv.FormatFloat(v, 'f', -1, 64))
		}
		add("towgs84", strings.Join(parts, ","))
	case def.ShiftFile != "":
		add("nadgrids", def.ShiftFile)
	}
}
