package pdf

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// readProjection puts a Projection dictionary (OGC 08-139r3, clause 8) into
// well-known text. The types, datums and parameters it knows are those that
// GDAL 3.6 reads, less the datums that it takes for WGS 84 because it does not
// know them: a map may not be moved by hundreds of metres in silence.
func (d *dictionary) readProjection(p types.Dict, f *Frame) {
	if text, ok := d.text(p["WKT"]); ok && text != "" {
		f.Definition = text
		return
	}
	words, err := projection{d, p}.definition(f.Matrix)
	if err != nil {
		f.Doubts = append(f.Doubts, "the grid of the PDF cannot be used: "+err.Error())
		return
	}
	f.Definition = words
}

// projection is a Projection dictionary being put into words.
type projection struct {
	d *dictionary
	p types.Dict
}

func (p projection) figure(key string, otherwise float64) float64 {
	if v, ok := p.d.number(p.p[key]); ok {
		return v
	}
	return otherwise
}

// definition gives well-known text of version 1 or an EPSG code. The matrix
// tells figures in metres from those in degrees.
func (p projection) definition(matrix *[6]float64) (string, error) {
	datum, err := p.datum()
	if err != nil {
		return "", err
	}
	kind := p.d.word(p.p["ProjectionType"])
	if kind == "GEOGRAPHIC" {
		// Programs that cannot name a grid's projection write this type for
		// it, with its metres.
		if p.p["Units"] != nil || matrix != nil && !inDegrees(*matrix) {
			return "", fmt.Errorf("it says latitude and longitude, but its figures are metres on a grid that it does not name")
		}
		return datum, nil
	}
	unit, err := p.unit()
	if err != nil {
		return "", err
	}
	method, err := p.method(kind)
	if err != nil {
		return "", err
	}
	if strings.HasPrefix(method, "EPSG:") {
		return method, nil
	}
	return fmt.Sprintf(`PROJCS["grid of the PDF",%s,%s,%s]`, datum, method, unit), nil
}

// inDegrees says that the origin of user space and a page's length from it
// are places in degrees.
func inDegrees(m [6]float64) bool {
	return m[2] >= -360 && m[2] <= 360 && m[5] >= -90 && m[5] <= 90
}

func (p projection) unit() (string, error) {
	switch u := p.d.word(p.p["Units"]); strings.ToUpper(u) {
	case "", "M":
		return `UNIT["metre",1]`, nil
	case "FT":
		return `UNIT["foot",0.3048]`, nil
	default:
		return "", fmt.Errorf("its unit of length %.20q is not known here", u)
	}
}

// method gives PROJECTION and its parameters.
func (p projection) method(kind string) (string, error) {
	falseOrigin := parameters("false_easting", p.figure("FalseEasting", 0), "false_northing", p.figure("FalseNorthing", 0))
	meridian := p.figure("CentralMeridian", 0)
	latitude := p.figure("OriginLatitude", 0)
	scale := p.figure("ScaleFactor", 1)
	switch kind {
	case "UT":
		return p.utm()
	case "TC":
		return `PROJECTION["Transverse_Mercator"]` + parameters("latitude_of_origin", latitude,
			"central_meridian", meridian, "scale_factor", scale) + falseOrigin, nil
	case "LE":
		return `PROJECTION["Lambert_Conformal_Conic_2SP"]` + parameters(
			"standard_parallel_1", p.figure("StandardParallelOne", latitude),
			"standard_parallel_2", p.figure("StandardParallelTwo", latitude),
			"latitude_of_origin", latitude, "central_meridian", meridian) + falseOrigin, nil
	case "MC":
		return p.mercator(meridian, latitude, scale, falseOrigin)
	case "PG":
		return `PROJECTION["Polar_Stereographic"]` + parameters(
			"latitude_of_origin", p.figure("LatitudeTrueScale", 0),
			"central_meridian", p.figure("LongitudeDownFromPole", 0), "scale_factor", 1) + falseOrigin, nil
	}
	return "", fmt.Errorf("its kind of projection %.20q is not read here; read are UT, TC, LE, MC, PG and GEOGRAPHIC", kind)
}

func (p projection) utm() (string, error) {
	zone := p.figure("Zone", 0)
	if zone < 1 || zone > 60 || zone != float64(int(zone)) {
		return "", fmt.Errorf("its UTM zone %g is not one of 1 to 60", zone)
	}
	north := 0.0
	switch h := p.d.word(p.p["Hemisphere"]); h {
	case "N":
	case "S":
		north = 10_000_000
	default:
		return "", fmt.Errorf("its hemisphere %.20q is neither N nor S", h)
	}
	return `PROJECTION["Transverse_Mercator"]` + parameters("latitude_of_origin", 0, "central_meridian", zone*6-183,
		"scale_factor", 0.9996, "false_easting", 500_000, "false_northing", north), nil
}

// mercator refuses what may be either of two grids up to 40 km apart: the
// spherical one of web maps is written as if it were the ellipsoidal one.
func (p projection) mercator(meridian, latitude, scale float64, falseOrigin string) (string, error) {
	plain := meridian == 0 && latitude == 0 && scale == 1
	if plain && p.p["FalseEasting"] != nil && p.figure("FalseEasting", 1) == 0 && p.isWGS84() {
		return "", fmt.Errorf("it says Mercator on WGS 84, which may be the spherical Mercator of web maps or the true one, up to 40 km apart; calibrate by the printed grid")
	}
	if latitude != 0 {
		return "", fmt.Errorf("its Mercator has its origin at latitude %g, which may mean two things", latitude)
	}
	return `PROJECTION["Mercator_1SP"]` + parameters("central_meridian", meridian, "scale_factor", scale) + falseOrigin, nil
}

func (p projection) isWGS84() bool {
	code, _ := p.d.text(p.p["Datum"])
	return code == "WE" || code == "WGE"
}

// parameters writes pairs of a name and a figure.
func parameters(pairs ...any) string {
	var b strings.Builder
	for i := 0; i < len(pairs); i += 2 {
		var v float64
		switch n := pairs[i+1].(type) {
		case float64:
			v = n
		case int:
			v = float64(n)
		}
		fmt.Fprintf(&b, `,PARAMETER["%s",%s]`, pairs[i], figure(v))
	}
	return b.String()
}

func figure(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
