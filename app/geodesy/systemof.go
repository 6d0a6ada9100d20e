package geodesy

// SystemOf returns the grid of the catalogue with this definition, or a new grid
// whose Code is the definition. The error is a *BadDefinition.
func SystemOf(def Definition) (*System, error) {
	ready, err := def.Prepared()
	if err != nil {
		return nil, err
	}
	return systemOf(ready)
}

// systemOf returns the grid of the catalogue with this definition, or a new one.
func systemOf(def *Definition) (*System, error) {
	if err := def.Check(); err != nil {
		return nil, err
	}
	proj := def.Projection()
	if s, err := inCatalogue(def, proj); s != nil || err != nil {
		return s, err
	}
	s := &System{
		code: Code(def.Canonical()), name: def.DisplayName(), country: "own definition", words: []string{"defined"},
		ellipsoid: def.Ellipsoid, proj: proj, datum: def.DatumShift(), unit: def.Unit,
		refs: plainOnly{}, rank: rankWide, bends: bendsOf(def.Family),
	}
	if def.Known != nil {
		s.own = def.Known.Geographic
	}
	s.area, s.areaWords = def.Area()
	return s, nil
}

// bendsOf says what a grid of a family does to bearings, or returns "".
func bendsOf(f Family) string {
	switch f {
	case FamilyEqual:
		return equalBends
	case FamilyWeb:
		return webMercatorGrid().bends
	case FamilyLatLon:
		return latLonGrid().bends
	}
	return ""
}
