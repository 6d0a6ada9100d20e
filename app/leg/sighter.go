package leg

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/geomag"
	"legwright/app/plan"
	"legwright/app/units"
)

// Sighter reads bearings and distances between positions on one grid for one
// date and compass, without a plan. It is immutable and safe for concurrent
// use.
type Sighter struct {
	sys     *geodesy.System
	field   *geomag.Evaluator // nil outside the model
	noField caution.Caution   // why there is none
	compass plan.Compass
}

// NewSighter prepares readings. A date outside the magnetic model is not an
// error: readings then have no magnetic figures and say so.
func NewSighter(sys *geodesy.System, date plan.Date, compass plan.Compass) *Sighter {
	s := &Sighter{sys: sys, compass: compass}
	field, err := fieldOn(date)
	if err != nil {
		s.noField = noField(date, err)
		return s
	}
	s.field = field
	return s
}

func fieldOn(date plan.Date) (*geomag.Evaluator, error) {
	year := geomag.DecimalYear(date.Time())
	m, err := geomag.ForYear(year)
	if err != nil {
		return nil, err
	}
	return m.At(year)
}

// Sight reads from one position to another of the Sighter's grid; the sigmas
// are per axis in metres. Errors: ErrNoBearing, geodesy.ErrNotFinite and those
// of the grid.
func (s *Sighter) Sight(from, to geodesy.Grid, fromSigmaM, toSigmaM float64) (Reading, error) {
	cov := blocks(round(fromSigmaM), round(toSigmaM))
	return s.read(from, to, &cov, nil)
}

// site is what the models say of one end.
type site struct {
	own     geodesy.LatLon // on the grid's own datum
	wgs     geodesy.LatLon
	shift   geodesy.Shift
	factors geodesy.Factors
	field   geomag.Field
	inside  bool
}

func (s *Sighter) siteAt(g geodesy.Grid) (site, error) {
	own, factors, err := s.sys.Unproject(g)
	if err != nil {
		return site{}, err
	}
	at := site{own: own, factors: factors, inside: s.sys.Contains(own)}
	if at.wgs, at.shift, err = s.sys.ToWGS84(g); err != nil {
		return site{}, err
	}
	if s.field != nil {
		if at.field, err = s.field.Field(at.wgs, 0); err != nil {
			return site{}, err
		}
	}
	return at, nil
}

// read makes the reading from a to b. known are the cautions known beforehand; the
// slice is never written into.
func (s *Sighter) read(a, b geodesy.Grid, cov *calib.Cov4, known []caution.Caution) (Reading, error) {
	r := Reading{Cautions: slices.Clip(known)}
	if !a.IsFinite() || !b.IsFinite() {
		return Reading{}, fmt.Errorf("end of a leg: %w", geodesy.ErrNotFinite)
	}
	if err := r.onGrid(s.sys, a, b); err != nil {
		return Reading{}, err
	}
	from, err := s.siteAt(a)
	if err != nil {
		return Reading{}, fmt.Errorf("the leg's start: %w", err)
	}
	to, err := s.siteAt(b)
	if err != nil {
		return Reading{}, fmt.Errorf("the leg's end: %w", err)
	}
	r.uncertain(a, b, cov, from.factors)
	r.trueNorth(from, to)
	if err := r.factorSigmas(s.sys, a, cov); err != nil {
		return Reading{}, fmt.Errorf("the leg's start: %w", err)
	}
	for _, end := range []site{from, to} {
		if !end.inside {
			r.caution(OutsideArea(anEnd, s.sys, end.own), true)
		}
	}
	text := s.sys.Bends()
	r.caution(caution.Of(caution.BentGrid, text), text != "")
	s.magnetic(&r, from, to)
	r.caution(vague(max(r.BearingSigma, r.MagneticSigma)))
	r.toSet(s.compass)
	return r, nil
}

// onGrid fills in what the two grid positions say alone.
func (r *Reading) onGrid(sys *geodesy.System, a, b geodesy.Grid) error {
	de, dn := b.E-a.E, b.N-a.N
	grid, ok := units.GridBearingOf(de, dn)
	if !ok || de*de+dn*dn < 1e-6 {
		return ErrNoBearing
	}
	r.Grid, r.Back, r.Point = grid, grid.Back(), units.SixteenPoint(grid.Angle())
	ground, err := geodesy.GroundDistance(sys, a, b)
	if err != nil {
		return err
	}
	r.GridM, r.GroundM = math.Hypot(de, dn), ground
	return nil
}

func (r *Reading) uncertain(a, b geodesy.Grid, cov *calib.Cov4, f geodesy.Factors) {
	r.BearingSigma, r.DistanceSigmaM = sigmas(a, b, cov)
	r.TrueSigma = r.BearingSigma
	if !f.Conformal() {
		r.TrueSigma, r.DistanceSigmaM = groundSigmas(a, b, cov, f)
	}
	r.FromSigmaM, r.ToSigmaM = perAxis(cov, 0), perAxis(cov, 2)
}

func (r *Reading) trueNorth(from, to site) {
	r.Convergence, r.PointScale = from.factors.Toward(r.Grid)
	r.True = r.Grid.True(r.Convergence)
	r.FromLatLon, r.ToLatLon = from.wgs, to.wgs
	worse := from.shift
	if to.shift.SigmaM > worse.SigmaM {
		worse = to.shift
	}
	r.Shift = worse.Name
	r.caution(CoarseShift(worse))
}

// factorStepM is the step over which the change of convergence and scale is
// taken; they are so smooth that their slope is good to five digits.
const factorStepM = 100

// factorSigmas propagates FROM's covariance through the slopes of convergence
// and scale there. The formulas of the projection add nothing: they are exact
// to 1e-9°.
func (r *Reading) factorSigmas(sys *geodesy.System, at geodesy.Grid, cov *calib.Cov4) error {
	if cov[0][0] == 0 && cov[1][1] == 0 {
		return nil
	}
	east, err := sys.FactorsAt(geodesy.Grid{E: at.E + factorStepM, N: at.N})
	if err != nil {
		return err
	}
	north, err := sys.FactorsAt(geodesy.Grid{E: at.E, N: at.N + factorStepM})
	if err != nil {
		return err
	}
	turn := func(f geodesy.Factors) float64 {
		convergence, _ := f.Toward(r.Grid)
		return float64((convergence.Angle() - r.Convergence.Angle()).Signed()) / factorStepM
	}
	grow := func(f geodesy.Factors) float64 {
		_, scale := f.Toward(r.Grid)
		return (scale - r.PointScale) / factorStepM
	}
	r.ConvergenceSigma = units.Angle(math.Sqrt(quadratic(&[4]float64{turn(east), turn(north)}, cov)))
	r.PointScaleSigma = math.Sqrt(quadratic(&[4]float64{grow(east), grow(north)}, cov))
	return nil
}

// magnetic fills in the magnetic figures where there may be any.
func (s *Sighter) magnetic(r *Reading, from, to site) {
	if s.field == nil {
		r.caution(s.noField, true)
		return
	}
	zone := max(from.field.Zone, to.field.Zone)
	r.caution(zoneCaution(zone))
	r.Model = from.field.Model
	if zone == geomag.Blackout {
		return
	}
	r.HasMagnetic = true
	r.Declination, r.DeclinationSigma = from.field.Declination, from.field.DeclinationSigma
	r.GMA = units.GridMagneticAngle(r.Declination, r.Convergence)
	r.Magnetic = r.Grid.Magnetic(r.GMA)
	there, _ := to.factors.Toward(r.Back)
	r.BackMagnetic = r.Back.Magnetic(units.GridMagneticAngle(to.field.Declination, there))
	r.MagneticSigma = hypot(r.TrueSigma, from.field.DeclinationSigma)
	r.BackMagneticSigma = hypot(r.TrueSigma, to.field.DeclinationSigma)
}

// caution adds a caution that the reading needs, once.
func (r *Reading) caution(c caution.Caution, needed bool) {
	if needed && !slices.Contains(r.Cautions, c) {
		r.Cautions = append(r.Cautions, c)
	}
}
