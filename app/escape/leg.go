package escape

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/ground"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// Leg is one leg of an escape with its figures. What is not known is NaN or a zero Rise.
type Leg struct {
	N          int // from 1
	From, To   string
	Along      plan.ID // the line it follows, "" for a compass leg
	AlongTitle string

	Way     []geodesy.Grid // of the plan's sheets, from its start to its end
	Reading leg.Reading    // straight from start to end; zero where Err is not nil
	Err     error
	LengthM float64 // along the way, on the ground

	Profile     terrain.Profile
	Climb       leg.Rise
	Descent     leg.Rise
	Minutes     float64 // by day
	DarkMinutes float64

	leg.Met

	Ticks plan.Ticks // none where they were given for something else
	Of    string     // the fingerprint that new ticks are given for

	Cautions []caution.Caution // their subject is the leg, or what they name themselves

	drawn []plan.Position // that the way was made from
	on    []plan.Position // the corners of its line that lead it
	path  bool            // its line is a path, a track or a road
	scale float64         // metres on the ground in a metre of the grid
}

// onLineM is how far from a line an end may lie that stands on it, metres (common
// practice, no source).
const onLineM = 30

// legHead is leg i of an escape without figures.
func (j *judge) legHead(e plan.Escape, i int) Leg {
	return Leg{
		N: i + 1, From: j.labels.Of(e.From(i)), To: j.labels.Of(e.Legs[i].To),
		Minutes: math.NaN(), DarkMinutes: math.NaN(), scale: 1,
	}
}

// leg judges leg i of an escape.
func (j *judge) leg(e plan.Escape, i int) Leg {
	own, l := e.Legs[i], j.legHead(e, i)
	from, to := j.at.Of(e.From(i)), j.at.Of(own.To)
	if l.Reading, l.Err = j.r.Read(from, to); l.Err != nil {
		l.add(caution.Of(caution.EscapeUnread, l.Err.Error()))
		return l
	}
	ends, err := j.r.OnCommon(from, to)
	if err != nil {
		l.Err = err
		l.add(caution.Of(caution.EscapeUnread, err.Error()))
		return l
	}
	l.drawn = []plan.Position{from, to}
	j.lay(&l, own, ends[0], ends[1])
	j.measure(&l)
	if l.Along == "" {
		for _, c := range caution.OfLeg(l.Reading.Cautions) {
			if c.Code == caution.RoughBearing || c.Code == caution.VagueBearing {
				l.add(c) // the others speak of sheets and positions, and name them
				continue
			}
			l.Cautions = append(l.Cautions, c)
		}
	} else {
		j.followed(&l, from, to)
	}
	j.heights(&l, own)
	j.meet(&l)
	j.time(&l)
	j.slips(&l)
	l.Of = j.fingerprint(l)
	if own.Ticks.Of == l.Of {
		l.Ticks = own.Ticks
	}
	return l
}

// lay finds the way of a leg: straight, or along its line between the positions on it that
// are nearest to both ends.
func (j *judge) lay(l *Leg, own plan.EscapeLeg, from, to geodesy.Grid) {
	l.Way = []geodesy.Grid{from, to}
	if i := slices.IndexFunc(j.lines, func(x line) bool { return x.id == own.Along }); own.Along != "" && i >= 0 {
		x := j.lines[i]
		a, b := x.shape.Foot(from), x.shape.Foot(to)
		l.Along, l.AlongTitle, l.path = x.id, x.title, x.trodden
		l.drawn = append(l.drawn, x.drawn...)
		l.Way = slices.Compact(slices.Concat([]geodesy.Grid{from}, x.shape.Between(a.AlongM, b.AlongM), []geodesy.Grid{to}))
		l.on = x.corners(a.AlongM, b.AlongM)
		if off := max(a.OffM, b.OffM); off > onLineM {
			l.add(caution.Of(caution.LineAstray, metres(off)))
		}
	}
}

// measure measures the way of a leg.
func (j *judge) measure(l *Leg) {
	gridM := 0.0
	for a, b := range l.segments {
		gridM += ground.Line([]geodesy.Grid{a, b}).LengthM()
		if m, err := geodesy.GroundDistance(j.sys, a, b); err == nil {
			l.LengthM += m
		}
	}
	if gridM > 0 && l.LengthM > 0 {
		l.scale = l.LengthM / gridM
	}
}

// followed adds what speaks against the ends of a leg along a line and against the line itself,
// each once.
func (j *judge) followed(l *Leg, from, to plan.Position) {
	for _, pos := range append([]plan.Position{from, to}, l.on...) {
		for _, c := range j.r.CautionsOf(pos) {
			if !slices.Contains(l.Cautions, c) {
				l.Cautions = append(l.Cautions, c)
			}
		}
	}
}

// segments yields the straight parts of the way.
func (l *Leg) segments(yield func(a, b geodesy.Grid) bool) {
	for i := 1; i < len(l.Way); i++ {
		if !yield(l.Way[i-1], l.Way[i]) {
			return
		}
	}
}

// heights fills in what terrain says of the ground under a leg, and what a person counted.
func (j *judge) heights(l *Leg, own plan.EscapeLeg) {
	var parts []terrain.Profile
	along, convex := 0.0, -1.0
	for a, b := range l.segments {
		p := j.terrain.Underfoot(a, b)
		if m := j.terrain.ConvexBelow(a, b); m >= 0 && convex < 0 {
			convex = along + m*l.scale
		}
		along += p.LengthM()
		parts = append(parts, p)
	}
	l.Profile = terrain.Joined(parts...)
	code := caution.SteepAhead
	if l.Along != "" {
		code = caution.SteepBeside
	}
	steep, known := j.r.OverSteep(code, l.Profile)
	for _, c := range steep {
		l.add(c)
	}
	if convex >= 0 {
		l.add(caution.Of(caution.ConvexGround, leg.FirstWords(convex)))
	}
	if !known {
		l.add(caution.Of(caution.SteepnessUnknown))
	}
	l.rises(own)
}

// rises takes climb and descent from the terrain, or rather from a person's count.
func (l *Leg) rises(own plan.EscapeLeg) {
	if up, down, ok := l.Profile.Climb(); ok {
		l.Climb, l.Descent = leg.Rise{M: up, From: leg.RiseTerrain}, leg.Rise{M: down, From: leg.RiseTerrain}
	}
	if own.Climb.Known {
		l.Climb = leg.Rise{M: own.Climb.M, From: leg.RiseCounted}
	}
	if own.Descent.Known {
		l.Descent = leg.Rise{M: own.Descent.M, From: leg.RiseCounted}
	}
	if !l.Climb.Known() || !l.Descent.Known() {
		l.add(caution.Of(caution.NoTerrain))
	}
}

// add adds a caution about the leg.
func (l *Leg) add(c caution.Caution) {
	l.Cautions = append(l.Cautions, c.About(fmt.Sprintf("leg %d", l.N)))
}
