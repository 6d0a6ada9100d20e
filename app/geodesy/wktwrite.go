package geodesy

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// ErrNoWKT is returned for a grid that well-known text of version 1 cannot
// spell out so that it would be read as the same grid again.
var ErrNoWKT = errors.New("this grid cannot be written as well-known text of version 1")

// WKT1 is the definition of the grid as well-known text of version 1 (OGC
// 01-009), as files of the ending .prj hold it. Define reads it as the same grid;
// where it would not, the error is ErrNoWKT.
func (s *System) WKT1() (string, error) {
	r, ok := s.recipe()
	if !ok {
		return "", ErrNoWKT
	}
	text, ok := r.wkt1()
	if !ok {
		return "", ErrNoWKT
	}
	if back, err := Define(text); err != nil || !back.Code().Alike(s.Code()) {
		return "", ErrNoWKT
	}
	return text, nil
}

// wktText builds well-known text.
type wktText struct{ strings.Builder }

func (w *wktText) add(format string, args ...any) { fmt.Fprintf(w, format, args...) }

// figure writes all digits of a number that it takes to read it again.
func figure(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// quoted doubles quotes within a text.
func quoted(text string) string { return `"` + strings.ReplaceAll(text, `"`, `""`) + `"` }

// wkt1 writes the definition; false where the text has no words for it.
func (r *recipe) wkt1() (string, bool) {
	var w wktText
	if r.family == familyLatLon {
		r.writeBase(&w, r.titled(), r.epsg, r.lon0)
		return w.String(), true
	}
	method, parameters, ok := r.method()
	if !ok {
		return "", false
	}
	w.add("PROJCS[%s,", quoted(r.titled()))
	name, code := "unknown", 0
	if r.known != nil {
		name, code = r.known.wktNames().base, r.known.geographic
	}
	r.writeBase(&w, name, code, 0)
	w.add(",PROJECTION[%s]", quoted(method))
	unit := 1.0
	if r.unit.Metres != 0 {
		unit = r.unit.Metres
	}
	for _, p := range append(parameters, keyed{"false_easting", r.falseE / unit}, keyed{"false_northing", r.falseN / unit}) {
		w.add(",PARAMETER[%s,%s]", quoted(p.key), figure(p.value))
	}
	w.add(",UNIT[%s,%s]", quoted(r.unit.Name), figure(unit))
	if r.family != familyPolar { // its axes run along meridians
		w.add(`,AXIS["Easting",EAST],AXIS["Northing",NORTH]`)
	}
	if r.family == familyWeb {
		w.add(`,EXTENSION["PROJ4","+proj=merc +a=6378137 +b=6378137 +lat_ts=0 +lon_0=%s +x_0=%s +y_0=%s +k=1 +units=m +nadgrids=@null +wktext +no_defs"]`,
			figure(r.lon0), figure(r.falseE), figure(r.falseN))
	}
	if r.epsg != 0 {
		w.add(`,AUTHORITY["EPSG","%d"]`, r.epsg)
	}
	w.add("]")
	return w.String(), true
}

// titled is the grid's name, which no reader takes for one where there is none.
func (r *recipe) titled() string {
	if r.title == "" {
		return "unknown"
	}
	return r.title
}

// writeBase writes latitude and longitude with datum and prime meridian.
func (r *recipe) writeBase(w *wktText, name string, code int, meridianDeg float64) {
	datum := r.datumName
	switch {
	case r.known != nil:
		datum = r.known.wktNames().datum
	case datum == "":
		datum = "unknown"
	}
	w.add("GEOGCS[%s,DATUM[%s,SPHEROID[%s,%s,%s]", quoted(name), quoted(datum), quoted(r.ellipsoid.spelt()), figure(r.ellipsoid.A), figure(r.ellipsoid.InvF))
	switch {
	case r.known != nil:
	case r.toWGS84 != nil:
		var shift []string
		for _, v := range r.toWGS84 {
			shift = append(shift, figure(v))
		}
		w.add(",TOWGS84[%s]", strings.Join(shift, ","))
	case r.shiftFile != "":
		w.add(`,EXTENSION["PROJ4_GRIDS",%s]`, quoted(r.shiftFile))
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

// spelt is the ellipsoid's name, or that it has none.
func (e Ellipsoid) spelt() string {
	if e.Name == "" {
		return "unknown"
	}
	return e.Name
}

// method is the projection by its name in OGC 01-009, with its figures in
// degrees; the false origin stands apart. False where no such method draws it.
func (r *recipe) method() (string, []keyed, bool) {
	lat0, lon0, k0 := keyed{"latitude_of_origin", r.lat0}, keyed{"central_meridian", r.lon0}, keyed{"scale_factor", r.k0}
	switch r.family {
	case familyTM:
		return "Transverse_Mercator", []keyed{lat0, lon0, k0}, true
	case familyConic:
		if r.lat1 == r.lat2 && r.lat0 == r.lat1 {
			return "Lambert_Conformal_Conic_1SP", []keyed{lat0, lon0, k0}, true
		}
		return "Lambert_Conformal_Conic_2SP", []keyed{{"standard_parallel_1", r.lat1}, {"standard_parallel_2", r.lat2}, lat0, lon0}, r.k0 == 1
	case familyEqual:
		return "Lambert_Azimuthal_Equal_Area", []keyed{{"latitude_of_center", r.lat0}, {"longitude_of_center", r.lon0}}, true
	case familySwiss:
		return "Hotine_Oblique_Mercator_Azimuth_Center", []keyed{
			{"latitude_of_center", r.lat0}, {"longitude_of_center", r.lon0}, {"azimuth", 90}, {"rectified_grid_angle", 90}, k0,
		}, true
	case familyMercator:
		if r.latTS != 0 {
			return "Mercator_2SP", []keyed{{"standard_parallel_1", r.latTS}, lon0}, true
		}
		return "Mercator_1SP", []keyed{lon0, k0}, true
	case familyWeb:
		return "Mercator_1SP", []keyed{lon0, k0}, sameEllipsoid(r.ellipsoid, WGS84())
	case familyPolar:
		if math.Abs(r.latTS) != 90 {
			lat0.value = r.latTS
		}
		return "Polar_Stereographic", []keyed{lat0, lon0, k0}, true
	case familyFlat:
		return "Equirectangular", []keyed{lat0, {"standard_parallel_1", r.latTS}, lon0}, true
	}
	return "", nil, false
}
