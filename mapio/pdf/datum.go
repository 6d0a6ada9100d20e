package pdf

import (
	"fmt"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// datumCode is a datum that is named by a code, with its name in well-known
// text and its ellipsoid.
type datumCode struct {
	prefix, name string
	axisM, invF  float64
}

// datumCodes are the codes of DMA TR8350.2, appendix B, that are used in PDFs
// and read by GDAL; regional variants share the first three letters.
func datumCodes() []datumCode {
	return []datumCode{
		{"WE", "WGS_1984", 6378137, 298.257223563},
		{"WGE", "WGS_1984", 6378137, 298.257223563},
		{"NAR", "North_American_Datum_1983", 6378137, 298.257222101},
		{"NAS", "North_American_Datum_1927", 6378206.4, 294.978698213898},
	}
}

// datum gives the GEOGCS of a Projection dictionary.
func (p projection) datum() (string, error) {
	if dict, ok := p.d.dict(p.p["Datum"]); ok {
		return p.spelledDatum(dict)
	}
	code := p.d.word(p.p["Datum"])
	for _, c := range datumCodes() {
		if code == c.prefix || len(c.prefix) == 3 && strings.HasPrefix(code, c.prefix) {
			return geogcs(c.name, c.axisM, c.invF, ""), nil
		}
	}
	return "", fmt.Errorf("its datum %.20q is not known here", code)
}

// spelledDatum reads a datum dictionary: name, ellipsoid and shift to WGS 84.
func (p projection) spelledDatum(dict types.Dict) (string, error) {
	ellipsoid, ok := p.d.dict(dict["Ellipsoid"])
	if !ok {
		return "", fmt.Errorf("its datum spells out no ellipsoid")
	}
	axis, ok := p.d.number(ellipsoid["SemiMajorAxis"])
	if !ok || axis < 6.3e6 || axis > 6.45e6 {
		return "", fmt.Errorf("its ellipsoid has no semi-major axis between 6,300 and 6,450 km")
	}
	invF, ok := p.d.number(ellipsoid["InvFlattening"])
	if minor, given := p.d.number(ellipsoid["SemiMinorAxis"]); !ok && given && minor > 0 && minor < axis {
		invF, ok = axis/(axis-minor), true
	}
	if !ok || invF < 150 || invF > 400 {
		return "", fmt.Errorf("its ellipsoid has no flattening between 1/150 and 1/400")
	}
	name := cleanName(p.d.word(dict["Description"]))
	return geogcs(name, axis, invF, p.shift(dict["ToWGS84"])), nil
}

// shift gives TOWGS84 by three or seven parameters, or "" where the file gives
// none.
func (p projection) shift(o types.Object) string {
	dict, ok := p.d.dict(o)
	if !ok {
		return ""
	}
	var out []string
	for i, key := range []string{"dx", "dy", "dz", "rx", "ry", "rz", "sf"} {
		v, ok := p.d.number(dict[key])
		if !ok && i < 3 {
			return ""
		}
		out = append(out, figure(v))
	}
	return ",TOWGS84[" + strings.Join(out, ",") + "]"
}

func geogcs(name string, axisM, invF float64, shift string) string {
	return fmt.Sprintf(`GEOGCS["%s",DATUM["%s",SPHEROID["%s",%s,%s]%s],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]`,
		name, name, name, figure(axisM), figure(invF), shift)
}

// cleanName keeps of a file's words what cannot break well-known text.
func cleanName(s string) string {
	clean := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '_', r == ' ', r == '+':
			return r
		}
		return -1
	}, s)
	if clean == "" {
		return "unnamed"
	}
	return clean[:min(len(clean), 80)]
}
