package geodesy

// Shift says which datum shift led from WGS 84 to the grid or back.
type Shift struct {
	Name     string  // for people
	SigmaM   float64 // standard deviation per axis of the whole way to WGS 84, metres
	Identity bool    // no shift was applied
	Unknown  bool    // nothing is known of the datum: places may be off by hundreds of metres
}

// datum leads from WGS 84 to grid coordinates and back. Arguments are finite
// and in range.
type datum interface {
	fromWGS84(p plane, ll LatLon) (Grid, Factors, Shift, error)
	toWGS84(p plane, g Grid) (LatLon, Shift, error)
}

// sameDatum serves grids whose own datum is WGS 84 or is taken as such; name
// is that of the datum, empty for WGS 84 itself.
type sameDatum struct {
	name   string
	sigmaM float64
}

func (d sameDatum) shift() Shift {
	if d.name == "" {
		return Shift{Name: "none needed", Identity: true}
	}
	return Shift{Name: d.name + " taken as WGS 84", SigmaM: d.sigmaM, Identity: true}
}

func (d sameDatum) fromWGS84(p plane, ll LatLon) (Grid, Factors, Shift, error) {
	g, f, err := p.project(ll)
	return g, f, d.shift(), err
}

func (d sameDatum) toWGS84(p plane, g Grid) (LatLon, Shift, error) {
	ll, _, err := p.unproject(g)
	return ll, d.shift(), err
}

// σ per axis of taking ETRS89 or a datum like it for WGS 84; the EPSG dataset
// gives 1 m for each.
const nullShiftSigmaM = 0.5

func etrs89() sameDatum { return sameDatum{"ETRS89", nullShiftSigmaM} }
