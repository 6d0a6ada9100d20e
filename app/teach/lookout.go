package teach

import (
	"errors"
	"math"
	"slices"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

// Feature is something on the ground that is not a mark.
type Feature struct {
	Name     string
	Position plan.Position
}

// Lookout is a position with all that can be meant from there: the plan's marks and other
// features, each with its reading. Reading them takes milliseconds; judging them for a
// bearing is quick enough for every turn of a dial. It is immutable.
type Lookout struct {
	r        *leg.Reader
	from     plan.Position
	grid     geodesy.Grid // the position on the plan's grid
	circle   units.Circle
	norths   leg.Reading // to a point beside the position, for γ and D alone
	cautions []caution.Caution
	seen     []seen
	here     func(units.Angle) (leg.Reading, error)
}

// seen is one mark or feature as it lies from the position.
type seen struct {
	id      plan.ID // "" for a feature that is not a mark
	name    string
	at      plan.Position
	grid    geodesy.Grid
	reading leg.Reading
	cover   *cover
	wide    wide
	err     error // why there is no reading
}

// NewLookout reads every mark of the reader's plan, and the features, from a position.
// The error is that of a position that cannot be computed.
func NewLookout(r *leg.Reader, from plan.Position, extra ...Feature) (*Lookout, error) {
	sys, err := r.SystemFor(from)
	if err != nil {
		return nil, err
	}
	at, _, err := r.Convert(from, sys)
	if err != nil {
		return nil, err
	}
	l := &Lookout{r: r, from: from, grid: at, circle: r.Plan().Party.Compass.Circle, here: beside(r, from, sys, at)}
	if l.norths, err = l.here(0); err != nil {
		return nil, err
	}
	l.cautions = slices.Concat(r.CautionsOf(from), ofModel(l.norths.Cautions))
	for _, m := range r.Plan().Marks {
		l.seen = append(l.seen, see(r, sys, from, m.ID, Feature{m.Name, m.Position}))
	}
	for _, f := range extra {
		l.seen = append(l.seen, see(r, sys, from, "", f))
	}
	return l, nil
}

// besideM is how far from the position its γ and D are read. No caution depends on it.
const besideM = 1

// beside returns what reads from the position along a grid bearing.
func beside(r *leg.Reader, from plan.Position, sys *geodesy.System, at geodesy.Grid) func(units.Angle) (leg.Reading, error) {
	return func(along units.Angle) (leg.Reading, error) {
		sin, cos := math.Sincos(along.Rad())
		to := plan.ImportedAt(sys.Code(), geodesy.Grid{E: at.E + besideM*sin, N: at.N + besideM*cos}, 0)
		return r.Read(from, to)
	}
}

// ofModel are the cautions of the magnetic model and the grid itself among a reading's.
func ofModel(list []caution.Caution) []caution.Caution {
	var out []caution.Caution
	for _, c := range list {
		switch c.Code {
		case caution.NoDate, caution.OutsideModel, caution.BlackoutZone, caution.WeakField, caution.BentGrid:
			out = append(out, c)
		}
	}
	return out
}

func see(r *leg.Reader, sys *geodesy.System, from plan.Position, id plan.ID, f Feature) seen {
	out := seen{id: id, name: f.Name, at: f.Position, cover: &cover{}}
	if out.grid, _, out.err = r.Convert(f.Position, sys); out.err != nil {
		return out
	}
	if out.reading, out.err = r.Read(from, f.Position); out.err != nil {
		return out
	}
	cov, err := r.Joint(from, f.Position)
	at, _, here := r.Convert(from, sys)
	if out.err = errors.Join(err, here); out.err == nil {
		out.wide = newWide(out.grid.E-at.E, out.grid.N-at.N, stepError(&cov))
	}
	return out
}

// stepError is the covariance of the step between two positions.
func stepError(c *calib.Cov4) calib.Cov2 {
	return calib.Cov2{
		EE: c[0][0] + c[2][2] - 2*c[0][2],
		EN: c[0][1] + c[2][3] - c[0][3] - c[1][2],
		NN: c[1][1] + c[3][3] - 2*c[1][3],
	}
}

// ray is a bearing on the grid, with the σ that its north adds.
type ray struct {
	grid  units.GridBearing
	sigma units.Angle
}

// rayOf turns a bearing into one on the grid. Errors: *NorthNotSaid, *NoSuchNorth, and
// those of the grid.
func (l *Lookout) rayOf(b Bearing, training *units.GMA) (ray, error) {
	out := ray{grid: units.NewGridBearing(b.Angle)}
	switch {
	case b.North == units.GridNorth:
		return out, nil
	case b.North == units.MagneticNorth && training != nil:
		out.grid = units.NewMagneticBearing(b.Angle).Grid(*training)
		return out, nil
	case b.North == units.MagneticNorth && !l.norths.HasMagnetic:
		return out, &NoSuchNorth{l.noMagnetic()}
	case b.North != units.MagneticNorth && b.North != units.TrueNorth:
		return out, l.notSaid(b, training)
	}
	if b.North == units.MagneticNorth {
		out.sigma = l.norths.DeclinationSigma
	}
	// On a grid that bends bearings γ depends on the bearing itself, a little.
	for range 4 {
		at, err := l.here(out.grid.Angle())
		if err != nil {
			return out, err
		}
		if b.North == units.TrueNorth {
			out.grid = units.NewTrueBearing(b.Angle).Grid(at.Convergence)
		} else {
			out.grid = units.NewMagneticBearing(b.Angle).Grid(at.GMA)
		}
		if !l.norths.Has(caution.BentGrid) {
			break
		}
	}
	return out, nil
}

func (l *Lookout) notSaid(b Bearing, training *units.GMA) error {
	e := &NorthNotSaid{Figure: l.circle.Figure(b.Angle)}
	if g, ok := l.gma(training); ok {
		e.Apart = l.circle.GMAFigure(g)
	}
	return e
}

// gma is the grid-magnetic angle at the position, or the one declared for training.
func (l *Lookout) gma(training *units.GMA) (units.GMA, bool) {
	if training != nil {
		return *training, true
	}
	return l.norths.GMA, l.norths.HasMagnetic
}

// noMagnetic says why there is no magnetic north.
func (l *Lookout) noMagnetic() caution.Caution {
	for _, c := range l.norths.Cautions {
		switch c.Code {
		case caution.NoDate, caution.OutsideModel, caution.BlackoutZone:
			return c
		}
	}
	return caution.Of(caution.NoDate)
}

// Look is every mark and feature as it lies from here, in the order of the plan, with
// its bearing from a north and no ray to compare with: no angle off, no chance and no
// verdict. Half is the ± (95 %) of the bearing. Errors: *NoSuchNorth.
func (l *Lookout) Look(north units.North, training *units.GMA) ([]Candidate, error) {
	if north == units.MagneticNorth && training == nil && !l.norths.HasMagnetic {
		return nil, &NoSuchNorth{l.noMagnetic()}
	}
	var out []Candidate
	for i := range l.seen {
		out = append(out, l.look(&l.seen[i], north, training))
	}
	return out, nil
}

func (l *Lookout) look(s *seen, north units.North, training *units.GMA) Candidate {
	out := Candidate{ID: s.id, Name: s.name}
	if s.err != nil {
		out.Here = errors.Is(s.err, leg.ErrNoBearing)
		out.Text = noReadingWords(s.err)
		return out
	}
	r := s.reading
	out.DistanceM, out.DistanceSigmaM, out.Together = r.GroundM, r.DistanceSigmaM, l.together(s)
	out.Bearing, out.Half = bearingFrom(r, north, training), 2*r.BearingSigma
	if north == units.MagneticNorth && training == nil {
		out.Half = 2 * r.MagneticSigma
	}
	out.Cautions = ofBearing(r.Cautions, training)
	out.Cover, out.CoverM = l.coverOf(s)
	out.Text = l.bearsWords(s, &out, north)
	return out
}
