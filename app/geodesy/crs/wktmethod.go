package crs

import (
	"math"
	"slices"
	"strings"
)

// parameter is one parameter of a projection.
type parameter int

const (
	parLat0 parameter = iota
	parLon0
	parLat1
	parLat2
	parScale
	parEast
	parNorth
	parAzimuth
	parSkew
	parSphere // which sphere Web Mercator uses
	parIgnored
)

// figuresOf are the parameters of a projection as the text gives them: degrees,
// metres.
type figuresOf map[parameter]float64

// get returns a parameter, or a default if it is absent.
func (f figuresOf) get(p parameter, absent float64) float64 {
	if v, ok := f[p]; ok {
		return v
	}
	return absent
}

// parameterOf finds a parameter by its EPSG code, or by its names in the EPSG
// dataset, in OGC 01-009 and in .prj files, folded.
func parameterOf(n *wktNode) (parameter, bool) {
	switch n.epsg() {
	case 8801, 8811, 8821:
		return parLat0, true
	case 8802, 8812, 8822, 8833:
		return parLon0, true
	case 8823, 8832:
		return parLat1, true
	case 8824:
		return parLat2, true
	case 8805, 8815, 8819:
		return parScale, true
	case 8806, 8816, 8826:
		return parEast, true
	case 8807, 8817, 8827:
		return parNorth, true
	case 8813:
		return parAzimuth, true
	case 8814:
		return parSkew, true
	}
	switch fold(n.name()) {
	case "latitudeoforigin", "latitudeofcenter", "latitudeofcentre", "latitudeofnaturalorigin", "latitudeoffalseorigin", "latitudeofprojectioncentre", "centralparallel":
		return parLat0, true
	case "centralmeridian", "longitudeofcenter", "longitudeofcentre", "longitudeoforigin", "longitudeofnaturalorigin", "longitudeoffalseorigin", "longitudeofprojectioncentre":
		return parLon0, true
	case "standardparallel1", "latitudeof1ststandardparallel", "latitudeofstandardparallel":
		return parLat1, true
	case "standardparallel2", "latitudeof2ndstandardparallel":
		return parLat2, true
	case "scalefactor", "scalefactoratnaturalorigin", "scalefactoroninitialline", "scalefactoratprojectioncentre":
		return parScale, true
	case "falseeasting", "eastingatfalseorigin", "eastingatprojectioncentre":
		return parEast, true
	case "falsenorthing", "northingatfalseorigin", "northingatprojectioncentre":
		return parNorth, true
	case "azimuth", "azimuthofinitialline", "azimuthatprojectioncentre":
		return parAzimuth, true
	case "rectifiedgridangle", "anglefromrectifiedtoskewgrid", "xyplanerotation":
		return parSkew, true
	case "auxiliaryspheretype":
		return parSphere, true
	}
	return parIgnored, false
}

func (p parameter) angle() bool {
	return p == parLat0 || p == parLon0 || p == parLat1 || p == parLat2 || p == parAzimuth || p == parSkew
}

// readParameters reads all parameters; those without a unit of their own are in
// the base's angular unit and in the grid's unit.
func readParameters(from *wktNode, degreeOf, metres float64) (figuresOf, error) {
	out := figuresOf{}
	for _, n := range from.children("PARAMETER") {
		p, known := parameterOf(n)
		v, ok := n.number(0)
		if !known || !ok {
			return nil, Bad("the parameter %q is not supported here and may change the grid", shorten(n.name()))
		}
		if _, twice := out[p]; twice {
			return nil, Bad("the parameter %q is given twice", shorten(n.name()))
		}
		v, err := inDegreesOrMetres(n, p, v, degreeOf, metres)
		if err != nil {
			return nil, err
		}
		out[p] = v
	}
	return out, nil
}

func inDegreesOrMetres(n *wktNode, p parameter, v, degreeOf, metres float64) (float64, error) {
	u := n.child("ANGLEUNIT", "LENGTHUNIT", "SCALEUNIT", "UNIT")
	switch {
	case p.angle() && u != nil:
		d, err := unitDegrees(u)
		return v * d, err
	case p.angle():
		return v * degreeOf, nil
	case u != nil:
		size, ok := u.number(0)
		if !ok || !(size > 0) {
			return 0, Bad("the unit of %q has no size", shorten(n.name()))
		}
		return v * size, nil
	case p == parEast || p == parNorth:
		return v * metres, nil
	}
	return v, nil
}

// readMethod turns the method, by its EPSG code or its folded name, and the
// parameters into the family.
func (def *Definition) readMethod(method *wktNode, f figuresOf) error {
	def.Lat0, def.Lon0, def.K0 = f.get(parLat0, 0), f.get(parLon0, 0), f.get(parScale, 1)
	def.FalseE, def.FalseN = f.get(parEast, 0), f.get(parNorth, 0)
	name, code := fold(method.name()), method.epsg()
	switch {
	case code == 9807 || name == "transversemercator" || name == "gausskruger" || name == "transversemercatorcomplex":
		def.Family = FamilyTM
	case code == 9801 || name == "lambertconicconformal1sp" || name == "lambertconformalconic1sp":
		if v := f.get(parLat1, def.Lat0); v != def.Lat0 {
			return Bad("the Lambert conic with one parallel has two latitudes, %g° and %g°: give only one of them", def.Lat0, v)
		}
		def.Family, def.Lat1, def.Lat2 = FamilyConic, def.Lat0, def.Lat0
	case code == 9802 || name == "lambertconicconformal2sp" || name == "lambertconformalconic2sp" || name == "lambertconformalconic":
		return def.readConic(f)
	case code == 9820 || name == "lambertazimuthalequalarea":
		def.Family = FamilyEqual
	case code == 9815 || strings.HasPrefix(name, "hotineobliquemercatorvariantb") || name == "hotineobliquemercatorazimuthcenter" || name == "rectifiedskeworthomorphiccenter":
		return def.readSwiss(f, 0)
	case name == "obliquemercator":
		return def.readSwiss(f, 0)
	case name == "swissobliquecylindrical" || name == "swissobliquemercator":
		return def.readSwiss(f, 90)
	case code == 1024 || name == "popularvisualisationpseudomercator":
		def.Family = FamilyWeb
	case name == "mercatorauxiliarysphere":
		return def.readAuxiliary(f)
	case code == 9804 || code == 9805 || strings.HasPrefix(name, "mercator"):
		def.Family, def.LatTS = FamilyMercator, f.get(parLat1, 0)
	case code == 9810 || code == 9829 || strings.HasPrefix(name, "polarstereographic") || strings.HasPrefix(name, "stereographic"):
		return def.readPolarWKT(name, code, f)
	default:
		return Bad("the projection %q is not supported; %s", shorten(method.name()), ReadableGrids)
	}
	return nil
}

// usedBy are the parameters of a family besides the false origin and the central meridian,
// which all families have.
func usedBy(f Family) []parameter {
	switch f {
	case FamilyTM:
		return []parameter{parLat0, parScale}
	case FamilyConic:
		return []parameter{parLat0, parLat1, parLat2, parScale}
	case FamilyEqual:
		return []parameter{parLat0}
	case FamilySwiss:
		return []parameter{parLat0, parScale, parAzimuth, parSkew}
	case FamilyMercator, FamilyPolar:
		return []parameter{parLat0, parLat1, parScale}
	}
	return nil
}

// refuseUnused refuses parameters that the family does not use, unless they
// change nothing: ignoring them silently could move the grid.
func (def *Definition) refuseUnused(f figuresOf) error {
	used := append(usedBy(def.Family), parLon0, parEast, parNorth)
	for p, v := range f {
		neutral := 0.0
		if p == parScale {
			neutral = 1
		}
		if v != neutral && !slices.Contains(used, p) {
			return Bad("the definition has %s of %g, which this projection does not use", parameterWords(p), v)
		}
	}
	return nil
}

// parameterWords names a parameter for people.
func parameterWords(p parameter) string {
	switch p {
	case parLat0:
		return "a latitude of origin"
	case parLat1, parLat2:
		return "a standard parallel"
	case parScale:
		return "a scale factor"
	case parAzimuth:
		return "an azimuth"
	case parSkew:
		return "a rotation of the grid"
	}
	return "a value"
}

func (def *Definition) readConic(f figuresOf) error {
	first, ok := f[parLat1]
	if !ok {
		return Bad("the Lambert conic has no standard parallel")
	}
	def.Family, def.Lat1, def.Lat2 = FamilyConic, first, f.get(parLat2, first)
	def.Lat0 = f.get(parLat0, first)
	return nil
}

// readSwiss takes the oblique Mercator that is the Swiss one. azimuth stands
// where the text gives none.
func (def *Definition) readSwiss(f figuresOf, azimuth float64) error {
	azimuth = f.get(parAzimuth, azimuth)
	if math.Abs(azimuth-90) > 1e-9 || math.Abs(f.get(parSkew, azimuth)-90) > 1e-9 {
		return refuseOblique()
	}
	def.Family = FamilySwiss
	return nil
}

// readAuxiliary takes the Mercator on a sphere of the equatorial radius, which
// is Web Mercator.
func (def *Definition) readAuxiliary(f figuresOf) error {
	if f.get(parSphere, 0) != 0 || f.get(parLat1, 0) != 0 {
		return refuseSphere()
	}
	def.Family = FamilyWeb
	return nil
}

// readPolarWKT sorts out the ways of writing a polar stereographic projection:
// the latitude of origin is that of the pole, or of true scale.
func (def *Definition) readPolarWKT(name string, code int, f figuresOf) error {
	def.Family = FamilyPolar
	ts, hasTS := f[parLat1]
	switch {
	case strings.Contains(name, "southpole"):
		def.Lat0 = -90
	case strings.Contains(name, "northpole"):
		def.Lat0 = 90
	case hasTS:
		def.Lat0 = math.Copysign(90, ts)
	case math.Abs(def.Lat0) < 90 && strings.HasPrefix(name, "polarstereographic") && code != 9810 && def.Lat0 != 0:
		ts, hasTS = def.Lat0, true
		def.Lat0 = math.Copysign(90, def.Lat0)
	}
	if strings.HasSuffix(name, "variantc") {
		return Bad("the polar stereographic projection of variant C is not supported; give it as variant A or B")
	}
	if def.LatTS = def.Lat0; hasTS && math.Abs(ts) != 90 {
		def.LatTS = ts
	}
	return nil
}
