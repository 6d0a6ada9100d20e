package plan

import (
	"math"
	"strings"

	"legwright/app/geodesy"
	"legwright/app/units"
)

// HoldHanging returns the plan with every end that was typed as a bearing or a
// distance resting on what the place rests on that it was typed from: a sheet, or
// letters that were supplied. It is for a plan that comes from a file: files of
// before do not say it. Where the end does not lie at that distance or bearing any
// more, the leg was moved since, and it is left alone.
func (p *Plan) HoldHanging() *Plan {
	const most = 8 // rounds: a second one finds something only where legs run in a ring
	q := p
	for range most {
		next := q.hung()
		if next == q {
			break
		}
		q = next
	}
	return q
}

// hung is one round of HoldHanging.
func (p *Plan) hung() *Plan {
	starts := map[Position][]Position{} // of each end, what it may have been typed from
	add := func(from, to End) {
		if to.Mark == "" {
			starts[to.Position] = append(starts[to.Position], from.Position)
		}
	}
	for _, l := range p.Legs {
		add(l.From, l.To)
	}
	for _, s := range p.Sights {
		add(s.From, s.To)
	}
	known, changed := map[Position]Position{}, false
	var rests func(Position) Position
	rests = func(end Position) Position {
		if q, ok := known[end]; ok {
			return q
		}
		known[end] = end // while it is looked at
		for _, from := range starts[end] {
			if start := rests(from); start.restsOn() && p.typedFrom(start, end) {
				q := end
				q.LettersOf = start.LettersOf
				if start.Origin == Picked || start.Hangs() {
					q.Sheet = start.Sheet
				}
				known[end], changed = q, true
				break
			}
		}
		return known[end]
	}
	q := p.mapEnds(func(e End) End {
		if e.Mark == "" {
			e.Position = rests(e.Position)
		}
		return e
	})
	if !changed {
		return p
	}
	return q
}

// restsOn reports whether a place rests on a sheet, or on letters that one
// supplied.
func (p Position) restsOn() bool { return p.Origin == Picked || p.Hangs() || p.LettersOf != "" }

// How far an end may lie from where its text has it, since that was rounded and
// measured on the ground.
const (
	typedOffDeg  = 1.0
	typedOffPart = 0.005
)

// typedFrom reports whether an end that rests on nothing was typed as a bearing or
// a distance from a start, as far as its text still says so.
func (p *Plan) typedFrom(start, end Position) bool {
	if end.Origin != Typed || end.Sheet != "" || end.LettersOf != "" || end.SquareM > 0 || end.Code != start.Code {
		return false
	}
	sys, err := geodesy.Lookup(end.Code)
	if err != nil {
		return false
	}
	if _, err := geodesy.ParseRef(end.Text, geodesy.RefContext{System: sys, Near: &end.Grid}); err == nil {
		return false // a reference
	}
	bearing, distance, both := strings.Cut(end.Text, ", ")
	if !both {
		distance = bearing
	}
	de, dn := end.Grid.E-start.Grid.E, end.Grid.N-start.Grid.N
	if m, err := units.ParseMetres(distance); err == nil {
		ground, err := geodesy.GroundDistance(sys, start.Grid, end.Grid)
		return err == nil && math.Abs(ground-m) <= 1+typedOffPart*m
	}
	words := strings.Fields(bearing)
	if both || len(words) != 2 {
		return false
	}
	typed, err := units.ParseBearing(words[0], p.Party.Compass.Circle)
	if err != nil || words[1] != "grid" {
		return err == nil && (words[1] == "magnetic" || words[1] == "true")
	}
	is, ok := units.GridBearingOf(de, dn)
	return ok && math.Abs((is.Angle()-typed).Signed().Deg()) <= typedOffDeg
}
