package session

import (
	"fmt"
	"math"
	"strings"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

// sqrt12 turns the side of a square or step into the σ of a position within it.
const sqrt12 = 3.4641016151377544

// North says from which north a typed bearing is measured.
type North int

// The three norths.
const (
	GridNorth North = iota
	MagneticNorth
	TrueNorth
)

// mark is what is written behind a bearing of that north.
func (n North) mark() string {
	switch n {
	case MagneticNorth:
		return "mag"
	case TrueNorth:
		return "true"
	}
	return "grid"
}

// LegFromTyped adds a leg from an end by a typed bearing, in the units of the
// party's circle unless they are named, and a distance on the ground such as
// "850 m". Magnetic bearings are turned by the angle at the from end on the
// plan's date. Errors: *units.BadText, and a refusal where there is no
// magnetic angle to turn by.
func (s *Session) LegFromTyped(from plan.End, bearingText string, north North, distanceText string) (plan.ID, error) {
	to, err := s.TypedEnd(from, bearingText, north, distanceText)
	if err != nil {
		return "", err
	}
	return s.KeepLeg(from, to)
}

// TypedEnd returns the far end that LegFromTyped would use, for showing it
// before it is kept.
func (s *Session) TypedEnd(from plan.End, bearingText string, north North, distanceText string) (plan.End, error) {
	circle := s.Plan().Party.Compass.Circle
	bearing, err := units.ParseBearing(bearingText, circle)
	if err != nil {
		return plan.End{}, err
	}
	ground, err := units.ParseMetres(distanceText)
	if err != nil {
		return plan.End{}, err
	}
	if ground < 1 {
		return plan.End{}, refuse("a leg of %g m is too short: type at least 1 m", ground)
	}
	o, err := s.originOf(from)
	if err != nil {
		return plan.End{}, err
	}
	grid, err := o.gridBearing(bearing, north)
	if err != nil {
		return plan.End{}, err
	}
	text := fmt.Sprintf("%s %s, %s", strings.TrimSpace(bearingText), north.mark(), strings.TrimSpace(distanceText))
	return o.endAt(grid, ground, resolution(bearingText)*unitOf(circle), text)
}

// origin is the position that a typed leg starts from.
type origin struct {
	sys      *geodesy.System
	grid     geodesy.Grid
	sigmaM   float64
	sheet    plan.ID // that the start was picked on or derived from
	letters  plan.ID // the sheet that the grid letters of the start were inferred from
	cautions string
	probe    leg.Reading // a reading from there, for its convergence and angle
	ownM     float64     // σ per axis in metres of what is kept of an earlier reading
}

func (s *Session) originOf(from plan.End) (origin, error) {
	pos, r := s.Plan().Resolve(from), s.Reader()
	sys, err := r.SystemFor(pos)
	if err != nil {
		return origin{}, err
	}
	o := origin{sys: sys, letters: pos.LettersFrom, cautions: pos.Cautions}
	if pos.Origin == plan.Picked || pos.DerivedFromSheet() {
		o.sheet = pos.Sheet
	}
	if o.grid, _, err = r.Convert(pos, o.sys); err != nil {
		return o, err
	}
	ahead := pos
	ahead.Origin, ahead.Code, ahead.Grid = plan.Typed, o.sys.Code(), geodesy.Grid{E: o.grid.E, N: o.grid.N + 100}
	o.probe, err = r.Read(pos, ahead)
	o.sigmaM = o.probe.FromSigmaM
	return o, err
}

// gridBearing turns a bearing from any north into one from grid north.
func (o origin) gridBearing(a units.Angle, n North) (units.GridBearing, error) {
	switch n {
	case TrueNorth:
		return units.NewTrueBearing(a).Grid(o.probe.Convergence), nil
	case MagneticNorth:
		if !o.probe.HasMagnetic {
			return 0, refuse("%s", o.noMagnetic())
		}
		return units.NewMagneticBearing(a).Grid(o.probe.GMA), nil
	}
	return units.NewGridBearing(a), nil
}

func (o origin) noMagnetic() string {
	for _, c := range o.probe.Cautions {
		switch c.Code {
		case caution.NoDate, caution.OutsideModel, caution.BlackoutZone:
			return c.Text()
		}
	}
	return "there is no magnetic bearing here"
}

// endAt returns the end at a grid bearing and ground distance. It is derived from the
// start: its σ includes that of the start and half a step of the typed bearing, and it
// has the cautions of the start's sheet. A typed distance counts as exact.
func (o origin) endAt(b units.GridBearing, groundM float64, step units.Angle, text string) (plan.End, error) {
	gridM := groundM
	var g geodesy.Grid
	for range 3 { // the scale along the leg changes far too little to need more
		sin, cos := math.Sincos(b.Angle().Rad())
		g = geodesy.Grid{E: o.grid.E + gridM*sin, N: o.grid.N + gridM*cos}
		ground, err := geodesy.GroundDistance(o.sys, o.grid, g)
		if err != nil {
			return plan.End{}, err
		}
		gridM *= groundM / ground
	}
	pos := plan.Position{
		Grid: g, Code: o.sys.Code(), Origin: plan.Typed, Text: text, Sheet: o.sheet, LettersFrom: o.letters, Cautions: o.cautions,
		SigmaM: math.Hypot(math.Hypot(o.sigmaM, o.ownM), groundM*step.Rad()/sqrt12),
	}
	return plan.AtPosition(pos), nil
}

// resolution returns the step of a typed number: 1 for whole ones, 0.1 with
// one decimal, and so on.
func resolution(text string) units.Angle {
	digits := strings.ReplaceAll(text, ",", ".")
	_, frac, _ := strings.Cut(digits, ".")
	n := 0
	for n < len(frac) && frac[n] >= '0' && frac[n] <= '9' {
		n++
	}
	return units.Angle(math.Pow(10, -float64(n)))
}

// typeFarEnd moves the far end of a leg or sight to a typed bearing or
// distance, keeping the other.
func (s *Session) typeFarEnd(id plan.ID, l plan.Leg, field Field, text string) error {
	now, err := s.LiveEnds(l.From, l.To)
	if err != nil {
		return err
	}
	o, err := s.originOf(l.From)
	if err != nil {
		return err
	}
	s.keptFrom(&o, s.Plan().Resolve(l.To), now)
	grid, ground, step := now.Grid, now.GroundM, units.Angle(0)
	words := text + " " + string(field)
	if field == FieldDistance {
		if ground, err = units.ParseMetres(text); err != nil {
			return err
		}
		if ground < 1 {
			return refuse("a leg of %g m is too short: type at least 1 m", ground)
		}
		words = text
		o.ownM *= ground / now.GroundM // the bearing is kept
	} else if grid, step, err = s.typedBearing(o, field, text); err != nil {
		return err
	}
	e, err := o.endAt(grid, ground, step, tidy(words))
	if err != nil {
		return err
	}
	return s.MovePoint(id, int(plan.ToEnd), e)
}

// keptFrom adds to the origin of a new end what the old end depended on, because its
// bearing or its distance is kept: its sheet, if more speaks against that than against
// the start's, the sheet that its letters were inferred from, the cautions of its file,
// and its σ beyond the start's.
func (s *Session) keptFrom(o *origin, to plan.Position, now leg.Reading) {
	r := s.Reader()
	if to.Origin == plan.Picked || to.DerivedFromSheet() {
		if o.sheet == "" || weight(r.CautionsOfSheet(to.Sheet)) > weight(r.CautionsOfSheet(o.sheet)) {
			o.sheet = to.Sheet
		}
	}
	_, grade := r.LettersSource(plan.Position{Origin: plan.Typed, Code: o.sys.Code(), Grid: o.grid, LettersFrom: o.letters})
	if to.LettersFrom != "" && grade == caution.None {
		o.letters = to.LettersFrom
	}
	o.cautions = caution.Format(append(caution.Parse(o.cautions), caution.Parse(to.Cautions)...))
	o.ownM = math.Sqrt(math.Max(now.ToSigmaM*now.ToSigmaM-now.FromSigmaM*now.FromSigmaM, 0))
}

// weight weighs the cautions of a sheet: a stop more than all notes, and that it is
// unchecked more than the other notes.
func weight(list []caution.Caution) int {
	n := len(list)
	for _, c := range list {
		switch {
		case c.Stop():
			n += 10_000
		case c.Code == caution.Unchecked:
			n += 100
		}
	}
	return n
}

func (s *Session) typedBearing(o origin, field Field, text string) (units.GridBearing, units.Angle, error) {
	circle := s.Plan().Party.Compass.Circle
	a, err := units.ParseBearing(text, circle)
	if err != nil {
		return 0, 0, err
	}
	north := map[Field]North{FieldGrid: GridNorth, FieldMagnetic: MagneticNorth, FieldTrue: TrueNorth}[field]
	b, err := o.gridBearing(a, north)
	return b, resolution(text) * unitOf(circle), err
}

// unitOf returns the angle of one unit of the circle.
func unitOf(c units.Circle) units.Angle { return units.Angle(2 * math.Pi / c.PerTurn()) }
