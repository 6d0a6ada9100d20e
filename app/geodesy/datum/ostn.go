package datum

import (
	"sync"

	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
	datums "legwright/assets/datum"
)

// ostn is the Ordnance Survey's definitive transformation between ETRS89 and
// the National Grid: a position is projected with the National Grid's parameters
// on GRS 1980 and the OSTN15 shifts, interpolated there, are added (Ordnance
// Survey, Transformations and OSGM15 user guide). Where the shifts end, the
// seven-parameter shift is used. The two differ by up to about 5 m there, so that
// within 5 m of the edge, far out at sea, the way back may use the other one.
type ostn struct {
	etrs   *proj.TransverseMercator
	coarse *Helmert
}

// NewOSTN returns the shift of the National Grid of Great Britain.
func NewOSTN() *ostn {
	return &ostn{etrs: proj.NewTransverseMercator(earth.GRS80(), BritishTM()), coarse: OSHelmert()}
}

// ostnShifts opens the embedded shifts once; its bands decode on demand.
var ostnShifts = sync.OnceValue(func() *shiftGrid { return openShiftGrid(datums.OSTN15()) })

// shift has a σ of 0.1 m for OSTN15 itself, and more for ETRS89 in place of WGS 84. Far
// off shore the shifts are extrapolated and good to about 5 m.
func (o *ostn) shift() Shift { return Shift{Name: "OSTN15", SigmaM: 0.5} }

func (o *ostn) FromWGS84(on proj.Plane, ll earth.LatLon) (earth.Grid, proj.Factors, Shift, error) {
	shifts := ostnShifts()
	p, err := o.etrs.Forward(float64(ll.Lat), float64(ll.Lon))
	if err != nil || !shifts.contains(p.E, p.N) {
		return o.coarse.FromWGS84(on, ll)
	}
	dE, dN := shifts.at(p.E, p.N)
	g := earth.Grid{E: p.E + dE, N: p.N + dN}
	_, f, err := on.Unproject(g)
	return g, f, o.shift(), err
}

// ToWGS84 searches the ETRS89 coordinates that the shifts take to g. The shifts
// change by a few parts in 10⁵, so four rounds end far below a micrometre.
func (o *ostn) ToWGS84(on proj.Plane, g earth.Grid) (earth.LatLon, Shift, error) {
	shifts := ostnShifts()
	e, n := g.E, g.N
	for range 5 {
		dE, dN := shifts.at(e, n)
		e, n = g.E-dE, g.N-dN
	}
	if !shifts.contains(e, n) {
		return o.coarse.ToWGS84(on, g)
	}
	p, err := o.etrs.Inverse(e, n)
	if err != nil {
		return earth.LatLon{}, Shift{}, err
	}
	return earth.RadLatLon(p.LatRad, p.LonRad), o.shift(), nil
}

// BritishTM returns the projection of the National Grid (OS guide, Annexe A).
// The shift model uses the same projection on GRS 1980.
func BritishTM() proj.TMParams {
	return proj.TMParams{Lat0: 49, Lon0: -2, K0: 0.9996012717, FalseE: 400000, FalseN: -100000}
}
