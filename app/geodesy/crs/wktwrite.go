package crs

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"legwright/app/geodesy/earth"
)

// wktText builds well-known text.
type wktText struct{ strings.Builder }

func (w *wktText) add(format string, args ...any) { fmt.Fprintf(w, format, args...) }

// figure writes all digits of a number that it takes to read it again.
func figure(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// quoted doubles quotes within a text.
func quoted(text string) string { return `"` + strings.ReplaceAll(text, `"`, `""`) + `"` }

// WKT1 writes the definition; false where the text has no words for it.
func (def *Definition) WKT1() (string, bool) {
	var w wktText
	if def.Family == FamilyLatLon {
		def.writeBase(&w, def.titled(), def.EPSG, def.Lon0)
		return w.String(), true
	}
	method, parameters, ok := def.method()
	if !ok {
		return "", false
	}
	w.add("PROJCS[%s,", quoted(def.titled()))
	name, code := "unknown", 0
	if def.Known != nil {
		name, code = def.Known.LatLon, def.Known.Geographic
	}
	def.writeBase(&w, name, code, 0)
	w.add(",PROJECTION[%s]", quoted(method))
	unit := 1.0
	if def.Unit.Metres != 0 {
		unit = def.Unit.Metres
	}
	for _, p := range append(parameters, keyed{"false_easting", def.FalseE / unit}, keyed{"false_northing", def.FalseN / unit}) {
		w.add(",PARAMETER[%s,%s]", quoted(p.key), figure(p.value))
	}
	w.add(",UNIT[%s,%s]", quoted(def.Unit.Name), figure(unit))
	if def.Family != FamilyPolar { // its axes run along meridians
		w.add(`,AXIS["Easting",EAST],AXIS["Northing",NORTH]`)
	}
	if def.Family == FamilyWeb {
		w.add(`,EXTENSION["PROJ4","+proj=merc +a=6378137 +b=6378137 +lat_ts=0 +lon_0=%s +x_0=%s +y_0=%s +k=1 +units=m +nadgrids=@null +wktext +no_defs"]`,
			figure(def.Lon0), figure(def.FalseE), figure(def.FalseN))
	}
	if def.EPSG != 0 {
		w.add(`,AUTHORITY["EPSG","%d"]`, def.EPSG)
	}
	w.add("]")
	return w.String(), true
}

// titled is the grid's name, which no reader takes for one where there is none.
func (def *Definition) titled() string {
	if def.Title == "" {
		return "unknown"
	}
	return def.Title
}

// writeBase writes latitude and longitude with datum and prime meridian.
func (def *Definition) writeBase(w *wktText, name string, code int, meridianDeg float64) {
	datum := def.DatumName
	switch {
	case def.Known != nil:
		datum = def.Known.Name
	case datum == "":
		datum = "unknown"
	}
	w.add("GEOGCS[%s,DATUM[%s,SPHEROID[%s,%s,%s]", quoted(name), quoted(datum), quoted(ellipsoidWords(def.Ellipsoid)), figure(def.Ellipsoid.A), figure(def.Ellipsoid.InvF))
	switch {
	case def.Known != nil:
	case def.ToWGS84 != nil:
		var shift []string
		for _, v := range def.ToWGS84 {
			shift = append(shift, figure(v))
		}
		w.add(",TOWGS84[%s]", strings.Join(shift, ","))
	case def.ShiftFile != "":
		w.add(`,EXTENSION["PROJ4_GRIDS",%s]`, quoted(def.ShiftFile))
	}
	meridian := "Greenwich"
	if meridianDeg != 0 {
		meridian = "unknown"
	}
	w.add(`],PRIMEM[%s,%s],UNIT["degree",%s]`, quoted(meridian), figure(meridianDeg), figure(degreeRad))
	if code != 0 {
		w.add(`,AUTHORITY["EPSG","%d"]`, code)
	}
	w.add("]")
}

// ellipsoidWords is the ellipsoid's name, or that it has none.
func ellipsoidWords(e earth.Ellipsoid) string {
	if e.Name == "" {
		return "unknown"
	}
	return e.Name
}

// method is the projection by its name in OGC 01-009, with its parameters in
// degrees; the false origin is separate. False if there is no such method.
func (def *Definition) method() (string, []keyed, bool) {
	lat0, lon0, k0 := keyed{"latitude_of_origin", def.Lat0}, keyed{"central_meridian", def.Lon0}, keyed{"scale_factor", def.K0}
	switch def.Family {
	case FamilyTM:
		return "Transverse_Mercator", []keyed{lat0, lon0, k0}, true
	case FamilyConic:
		if def.Lat1 == def.Lat2 && def.Lat0 == def.Lat1 {
			return "Lambert_Conformal_Conic_1SP", []keyed{lat0, lon0, k0}, true
		}
		return "Lambert_Conformal_Conic_2SP", []keyed{{"standard_parallel_1", def.Lat1}, {"standard_parallel_2", def.Lat2}, lat0, lon0}, def.K0 == 1
	case FamilyEqual:
		return "Lambert_Azimuthal_Equal_Area", []keyed{{"latitude_of_center", def.Lat0}, {"longitude_of_center", def.Lon0}}, true
	case FamilySwiss:
		return "Hotine_Oblique_Mercator_Azimuth_Center", []keyed{
			{"latitude_of_center", def.Lat0}, {"longitude_of_center", def.Lon0}, {"azimuth", 90}, {"rectified_grid_angle", 90}, k0,
		}, true
	case FamilyMercator:
		if def.LatTS != 0 {
			return "Mercator_2SP", []keyed{{"standard_parallel_1", def.LatTS}, lon0}, true
		}
		return "Mercator_1SP", []keyed{lon0, k0}, true
	case FamilyWeb:
		return "Mercator_1SP", []keyed{lon0, k0}, SameEllipsoid(def.Ellipsoid, earth.WGS84())
	case FamilyPolar:
		if math.Abs(def.LatTS) != 90 {
			lat0.value = def.LatTS
		}
		return "Polar_Stereographic", []keyed{lat0, lon0, k0}, true
	}
	return "", nil, false
}
