package geodesy

import (
	"sync"

	datums "legwright/assets/datum"
)

// ostn is the Ordnance Survey's definitive transformation between ETRS89 and
// the National Grid: the place is projected with the National Grid's figures
// on GRS 1980 and the OSTN15 shifts, interpolated there, are added (Ordnance
// Survey, Transformations and OSGM15 user guide). Where the shifts end, the
// seven-parameter shift serves. The two differ by up to about 5 m there, so that
// within 5 m of the edge, far out at sea, the way back may use the other one.
type ostn struct {
	etrs   *transverseMercator
	coarse *helmert
}

func newOSTN() *ostn {
	return &ostn{etrs: newTransverseMercator(GRS80(), britishTM()), coarse: osHelmert()}
}

// ostnShifts opens the embedded shifts once; its bands decode on demand.
var ostnShifts = sync.OnceValue(func() *shiftGrid { return openShiftGrid(datums.OSTN15()) })

// shift states 0.1 m of OSTN15 itself and that ETRS89 stands for WGS 84. Far
// off shore the shifts are extrapolated and good to about 5 m.
func (o *ostn) shift() Shift { return Shift{Name: "OSTN15", SigmaM: 0.5} }

func (o *ostn) fromWGS84(on plane, ll LatLon) (Grid, Factors, Shift, error) {
	shifts := ostnShifts()
	p, err := o.etrs.forward(float64(ll.Lat), float64(ll.Lon))
	if err != nil || !shifts.contains(p.e, p.n) {
		return o.coarse.fromWGS84(on, ll)
	}
	dE, dN := shifts.at(p.e, p.n)
	g := Grid{E: p.e + dE, N: p.n + dN}
	_, f, err := on.unproject(g)
	return g, f, o.shift(), err
}

// toWGS84 looks for the ETRS89 coordinates whose shift leads to g. The shifts
// change by a few parts in 10⁵, so four rounds end far below a micrometre.
func (o *ostn) toWGS84(on plane, g Grid) (LatLon, Shift, error) {
	shifts := ostnShifts()
	e, n := g.E, g.N
	for range 5 {
		dE, dN := shifts.at(e, n)
		e, n = g.E-dE, g.N-dN
	}
	if !shifts.contains(e, n) {
		return o.coarse.toWGS84(on, g)
	}
	p, err := o.etrs.inverse(e, n)
	if err != nil {
		return LatLon{}, Shift{}, err
	}
	return latLonRad(p.latRad, p.lonRad), o.shift(), nil
}

// britishTM returns the projection of the National Grid (OS guide, Annexe A).
// The shift model uses the same projection on GRS 1980.
func britishTM() tmParams { return tmParams{49, -2, 0.9996012717, 400000, -100000} }
