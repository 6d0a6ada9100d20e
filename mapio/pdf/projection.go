package pdf

import (
	"fmt"
	"math"
	"strings"

	"legwright/app/geodesy"
)

// readProjection reads a Projection dictionary (OGC 08-139r3, clause 8). The
// types, datums and parameters are those that GDAL 3.6 reads, except for the
// unknown datums that GDAL takes for WGS 84: that would move a map by hundreds of
// metres without a word.
func (d *dictionary) readProjection(p dictObject, f *Frame) {
	if text, ok := d.text(p["WKT"]); ok && text != "" {
		f.Definition = text
		return
	}
	def, err := projection{d, p}.definition(f.Matrix)
	if err != nil {
		f.Notes = append(f.Notes, "the grid of the PDF cannot be used: "+err.Error())
		return
	}
	f.Spelt = &def
}

// projection is a Projection dictionary.
type projection struct {
	d *dictionary
	p dictObject
}

func (p projection) figure(key nameObject, otherwise float64) float64 {
	if v, ok := p.d.number(p.p[key]); ok {
		return v
	}
	return otherwise
}

// definition reads the grid. The matrix tells figures in metres from those in
// degrees.
func (p projection) definition(matrix *[6]float64) (geodesy.Definition, error) {
	def := geodesy.Definition{K0: 1}
	if err := p.datum(&def); err != nil {
		return def, err
	}
	kind := p.d.word(p.p["ProjectionType"])
	if kind == "GEOGRAPHIC" {
		// Programs that cannot name a grid's projection write this type for
		// it, with its metres.
		if p.p["Units"] != nil || matrix != nil && !inDegrees(*matrix) {
			return def, fmt.Errorf("it says latitude and longitude, but its coordinates are metres on a grid that it does not name")
		}
		def.Family = geodesy.FamilyLatLon
		return def, nil
	}
	var err error
	if def.Unit, err = p.unit(); err != nil {
		return def, err
	}
	def.Title = "grid of the PDF"
	return def, p.method(kind, &def)
}

// inDegrees says that the origin of user space and a page's length from it
// are in degrees.
func inDegrees(m [6]float64) bool {
	return m[2] >= -360 && m[2] <= 360 && m[5] >= -90 && m[5] <= 90
}

func (p projection) unit() (geodesy.Unit, error) {
	switch u := p.d.word(p.p["Units"]); strings.ToUpper(u) {
	case "", "M":
		return geodesy.Unit{Name: "metre", Metres: 1}, nil
	case "FT":
		return geodesy.Unit{Name: "foot", Metres: 0.3048}, nil
	default:
		return geodesy.Unit{}, fmt.Errorf("its unit of length %.20q is not known to this program", u)
	}
}

// method reads the projection and its parameters.
func (p projection) method(kind string, def *geodesy.Definition) error {
	def.Lat0, def.Lon0, def.K0 = p.figure("OriginLatitude", 0), p.figure("CentralMeridian", 0), p.figure("ScaleFactor", 1)
	def.FalseE, def.FalseN = p.figure("FalseEasting", 0)*def.Unit.Metres, p.figure("FalseNorthing", 0)*def.Unit.Metres
	switch kind {
	case "UT":
		return p.utm(def)
	case "TC":
		def.Family = geodesy.FamilyTM
	case "LE":
		def.Family, def.K0 = geodesy.FamilyConic, 1
		def.Lat1, def.Lat2 = p.figure("StandardParallelOne", def.Lat0), p.figure("StandardParallelTwo", def.Lat0)
	case "MC":
		return p.mercator(def)
	case "PG":
		def.Family, def.LatTS, def.K0 = geodesy.FamilyPolar, p.figure("LatitudeTrueScale", 0), 1
		def.Lat0, def.Lon0 = math.Copysign(90, def.LatTS), p.figure("LongitudeDownFromPole", 0)
	default:
		return fmt.Errorf("its projection %.20q is not supported; UT, TC, LE, MC, PG and GEOGRAPHIC are", kind)
	}
	return nil
}

func (p projection) utm(def *geodesy.Definition) error {
	zone := p.figure("Zone", 0)
	if zone < 1 || zone > 60 || zone != float64(int(zone)) {
		return fmt.Errorf("its UTM zone %g is not one of 1 to 60", zone)
	}
	def.Family, def.Lat0, def.Lon0, def.K0 = geodesy.FamilyTM, 0, zone*6-183, 0.9996
	def.FalseE, def.FalseN = 500_000*def.Unit.Metres, 0
	switch h := p.d.word(p.p["Hemisphere"]); h {
	case "N":
	case "S":
		def.FalseN = 10_000_000 * def.Unit.Metres
	default:
		return fmt.Errorf("its hemisphere %.20q is neither N nor S", h)
	}
	return nil
}

// mercator refuses what may be either of two grids up to 40 km apart: the
// spherical one of web maps is written as if it were the ellipsoidal one.
func (p projection) mercator(def *geodesy.Definition) error {
	plain := def.Lon0 == 0 && def.Lat0 == 0 && def.K0 == 1
	if plain && p.p["FalseEasting"] != nil && p.figure("FalseEasting", 1) == 0 && p.isWGS84() {
		return fmt.Errorf("it says Mercator on WGS 84, which may be the spherical Mercator of web maps or the true one, up to 40 km apart; calibrate from the printed grid")
	}
	if def.Lat0 != 0 {
		return fmt.Errorf("its Mercator has its origin at latitude %g, which can be read in two ways", def.Lat0)
	}
	def.Family = geodesy.FamilyMercator
	return nil
}

func (p projection) isWGS84() bool {
	code, _ := p.d.text(p.p["Datum"])
	return code == "WE" || code == "WGE"
}
