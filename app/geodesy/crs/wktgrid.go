package crs

import (
	"math"
	"strings"
)

// readWKT reads well-known text. Of a grid with heights only the grid is read; of a bound
// one its shift too.
func readWKT(text string) (*Definition, error) {
	root, err := parseWKT(text)
	if err != nil {
		return nil, err
	}
	return readCRS(root)
}

func readCRS(n *wktNode) (*Definition, error) {
	switch n.keyword {
	case "PROJCS", "PROJCRS", "PROJECTEDCRS":
		return readProjected(n)
	case "GEOGCS", "GEOGCRS", "GEOGRAPHICCRS", "GEODCRS", "GEODETICCRS":
		return readGeographic(n)
	case "COMPD_CS", "COMPOUNDCRS":
		if len(n.nodes) > 0 {
			return readCRS(n.nodes[0])
		}
	case "BOUNDCRS":
		return readBound(n)
	case "GEOCCS":
		return nil, Bad("the well-known text defines geocentric coordinates, not a grid")
	case "LOCAL_CS", "ENGCRS", "ENGINEERINGCRS":
		return nil, Bad("the well-known text defines a local grid without a position on the earth: its north is unknown")
	}
	return nil, Bad("the well-known text begins with %s, which is not a grid: it must begin with PROJCS, PROJCRS, GEOGCS or GEOGCRS", shorten(n.keyword))
}

func readProjected(n *wktNode) (*Definition, error) {
	if e := projExtension(n); e != "" {
		return readExtension(n, e)
	}
	def := &Definition{Title: cleanTitle(n.name()), EPSG: n.epsg(), K0: 1, Unit: Unit{"metre", 1}}
	base := n.child("GEOGCS", "BASEGEOGCRS", "BASEGEODCRS")
	if base == nil {
		return nil, Bad("the well-known text has no base: a grid needs GEOGCS or BASEGEOGCRS with its datum")
	}
	pm, degreeOf, err := def.readBase(base)
	if err != nil {
		return nil, err
	}
	if err := def.readLengthUnit(n); err != nil {
		return nil, err
	}
	method, from := methodOf(n)
	if method == nil {
		return nil, Bad("the well-known text names no projection")
	}
	p, err := readParameters(from, degreeOf, def.Unit.Metres)
	if err != nil {
		return nil, err
	}
	if err := def.readMethod(method, p); err != nil {
		return nil, err
	}
	if err := def.refuseUnused(p); err != nil {
		return nil, err
	}
	def.Lon0 += pm
	return def, def.checkAxes(n)
}

func methodOf(n *wktNode) (method, parameters *wktNode) {
	if c := n.child("CONVERSION"); c != nil {
		return c.child("METHOD", "PROJECTION"), c
	}
	return n.child("PROJECTION"), n
}

// projExtension returns the PROJ string that some writers add where the
// projection's name is wrong, as for Web Mercator.
func projExtension(n *wktNode) string {
	for _, e := range n.children("EXTENSION") {
		if len(e.texts) > 1 && strings.EqualFold(e.texts[0], "PROJ4") {
			return e.texts[1]
		}
	}
	return ""
}

func readExtension(n *wktNode, text string) (*Definition, error) {
	def, err := ReadProj(text)
	if err != nil {
		return nil, err
	}
	if def.OnlyCode {
		return def, nil
	}
	def.Title, def.EPSG = cleanTitle(n.name()), n.epsg()
	return def, nil
}

func readGeographic(n *wktNode) (*Definition, error) {
	def := &Definition{Title: cleanTitle(n.name()), EPSG: n.epsg(), K0: 1, Family: FamilyLatLon}
	pm, degreeOf, err := def.readBase(n)
	if err != nil {
		return nil, err
	}
	if cs := n.child("CS"); cs != nil && !strings.EqualFold(cs.name(), "ellipsoidal") {
		return nil, Bad("the well-known text defines geocentric coordinates, not a grid")
	}
	if math.Abs(degreeOf-1) > 1e-9 {
		return nil, Bad("latitude and longitude are in units of %.6g°: only degrees are supported", degreeOf)
	}
	def.Unit, def.Lon0 = DegreeUnit(def.Ellipsoid), pm
	return def, def.checkAxes(n)
}

// checkAxes refuses grids whose easting and northing do not grow east and north. Around a
// pole both axes run north or south by the standard.
func (def *Definition) checkAxes(n *wktNode) error {
	for _, axis := range n.children("AXIS") {
		if len(axis.texts) < 2 {
			continue
		}
		switch strings.ToLower(axis.texts[1]) {
		case "east", "north", "up", "other":
			continue
		case "south":
			if math.Abs(def.Lat0) == 90 {
				continue
			}
		}
		return Bad("the axis %q runs %s: only grids with eastings to the east and northings to the north are supported",
			shorten(axis.texts[0]), shorten(strings.ToLower(axis.texts[1])))
	}
	return nil
}

// readLengthUnit reads the unit of the grid's coordinates: UNIT, LENGTHUNIT, or
// that of the first axis.
func (def *Definition) readLengthUnit(n *wktNode) error {
	u := n.child("UNIT", "LENGTHUNIT")
	if u == nil {
		u = n.child("AXIS").child("LENGTHUNIT", "UNIT")
	}
	if u == nil {
		return nil
	}
	v, ok := u.number(0)
	if !ok || !(v > 0) {
		return Bad("the unit %q has no length in metres", shorten(u.name()))
	}
	def.Unit = lengthUnit(v, u.name())
	return nil
}
