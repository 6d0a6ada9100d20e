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
	rests := map[Position]Position{}
	now := func(e End) Position {
		pos := p.Resolve(e)
		if q, ok := rests[pos]; ok {
			return q
		}
		return pos
	}
	hang := func(from, to End) {
		start, end := now(from), p.Resolve(to)
		if start.Origin != Picked && !start.Hangs() && start.LettersOf == "" || !p.typedFrom(start, end) {
			return
		}
		next := end
		next.LettersOf = start.LettersOf
		if start.Origin == Picked || start.Hangs() {
			next.Sheet = start.Sheet
		}
		rests[end] = next
	}
	for _, l := range p.Legs {
		hang(l.From, l.To)
	}
	for _, s := range p.Sights {
		hang(s.From, s.To)
	}
	if len(rests) == 0 {
		return p
	}
	return p.mapPositions(func(pos Position) Position {
		if q, ok := rests[pos]; ok {
			return q
		}
		return pos
	})
}

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
