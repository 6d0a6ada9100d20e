package pdf

import (
	"fmt"
	"strings"

	"legwright/app/geodesy"
)

// datumCode is a datum's code in a PDF, with the EPSG code of its latitude and
// longitude.
type datumCode struct {
	prefix string
	latLon int
}

// datumCodes are the codes of DMA TR8350.2, appendix B, that are used in PDFs
// and read by GDAL; regional variants share the first three letters.
func datumCodes() []datumCode {
	return []datumCode{{"WE", 4326}, {"WGE", 4326}, {"NAR", 4269}, {"NAS", 4267}}
}

// datum reads the datum of a Projection dictionary.
func (p projection) datum(def *geodesy.Definition) error {
	if dict, ok := p.d.dict(p.p["Datum"]); ok {
		return p.spelledDatum(dict, def)
	}
	code := p.d.word(p.p["Datum"])
	for _, c := range datumCodes() {
		if code == c.prefix || len(c.prefix) == 3 && strings.HasPrefix(code, c.prefix) {
			def.Datum.LatLonCode = c.latLon
			return nil
		}
	}
	return fmt.Errorf("its datum %.20q is not known to this program", code)
}

// spelledDatum reads a datum dictionary: name, ellipsoid and shift to WGS 84.
func (p projection) spelledDatum(dict dictObject, def *geodesy.Definition) error {
	ellipsoid, ok := p.d.dict(dict["Ellipsoid"])
	if !ok {
		return fmt.Errorf("its datum does not describe an ellipsoid")
	}
	axis, ok := p.d.number(ellipsoid["SemiMajorAxis"])
	if !ok {
		return fmt.Errorf("its ellipsoid has no semi-major axis")
	}
	invF, ok := p.d.number(ellipsoid["InvFlattening"])
	if minor, given := p.d.number(ellipsoid["SemiMinorAxis"]); !ok && given && minor > 0 && minor < axis {
		invF, ok = axis/(axis-minor), true
	}
	if !ok {
		return fmt.Errorf("its ellipsoid has no flattening")
	}
	name := p.d.word(dict["Description"])
	def.Ellipsoid = geodesy.Ellipsoid{A: axis, InvF: invF, Name: name}
	def.Datum = geodesy.NamedDatum{Name: name, LatLonName: name, ToWGS84: p.shift(dict["ToWGS84"])}
	return nil
}

// shift is the seven-parameter shift to WGS 84, or nil.
func (p projection) shift(o object) []float64 {
	dict, ok := p.d.dict(o)
	if !ok {
		return nil
	}
	var out []float64
	for i, key := range []nameObject{"dx", "dy", "dz", "rx", "ry", "rz", "sf"} {
		v, ok := p.d.number(dict[key])
		if !ok && i < 3 {
			return nil
		}
		out = append(out, v)
	}
	return out
}
