package escape

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/ground"
	"legwright/app/plan"
)

// NearM is how far from a leg hazards are looked for, metres on the ground; one with a larger
// distance to keep counts as near within that.
const NearM = 500

// hazard is a drawn hazard on the common grid.
type hazard struct {
	plan.Hazard
	title string
	shape ground.Shape
}

// Near is how near a leg comes to a hazard, and where.
type Near struct {
	Hazard plan.ID
	Title  string
	Kind   plan.HazardKind
	DistM  float64 // on the ground, 0 where they meet
	AlongM float64 // from the leg's start, on the ground
	Ref    string  // grid reference of the position on the leg
}

// Crossing is where a leg meets water.
type Crossing struct {
	Hazard plan.ID
	Title  string
	Kind   plan.Crossing
	AlongM float64 // from the leg's start, on the ground
}

// addHazard prepares a hazard. One whose position is not known speaks against every
// escape.
func (j *judge) addHazard(h plan.Hazard) {
	title := j.p.TitleOf(h.ID)
	points, err := j.grids(h.Points)
	why := ""
	if err != nil {
		why = err.Error()
	}
	for _, pos := range h.Points {
		if list := caution.OfGrade(j.r.CautionsOf(pos), caution.Stop); caution.Stops(list, caution.Position) && why == "" {
			why = strings.Join(caution.Shorts(list), ", ")
		}
	}
	if h.Tangled() && why == "" {
		why = "its outline crosses itself"
	}
	if why != "" {
		j.lost = append(j.lost, caution.Of(caution.HazardUncertain, title, why))
	}
	if err != nil {
		return
	}
	shape := ground.Line(points)
	if h.Closed {
		shape = ground.Area(points)
	}
	j.hazards, j.mostKeepM = append(j.hazards, hazard{h, title, shape}), max(j.mostKeepM, h.KeepM)
}

// meet judges a leg against every hazard near it.
func (j *judge) meet(l *Leg) {
	danger := false
	for _, i := range j.near(l) {
		h := &j.hazards[i]
		n := j.nearest(l, h)
		l.Near = append(l.Near, n)
		danger = danger || h.Kind.Danger()
		switch spans := l.meets(h.shape); {
		case h.Kind == plan.Bog:
			l.bog(h, spans)
		case h.Kind == plan.Private:
			l.private(h, spans, n)
		default:
			l.danger(h, spans, n)
		}
	}
	slices.SortStableFunc(l.Near, func(a, b Near) int { return cmp.Compare(a.DistM, b.DistM) })
	if !danger {
		l.add(caution.Of(caution.NothingDrawn))
	}
}

// near are the numbers of the hazards near a leg.
func (j *judge) near(l *Leg) []int {
	var out []int
	for a, b := range l.segments {
		for _, i := range j.index.Near(a, b, max(NearM, j.mostKeepM)/l.scale) {
			if h := j.hazards[i]; h.shape.Nearest(a, b).DistM*l.scale <= max(NearM, h.KeepM) {
				out = append(out, i)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// nearest is where a leg comes nearest to a hazard.
func (j *judge) nearest(l *Leg, h *hazard) Near {
	out, before := Near{Hazard: h.ID, Title: h.title, Kind: h.Kind, DistM: math.Inf(1)}, 0.0
	for a, b := range l.segments {
		if n := h.shape.Nearest(a, b); n.DistM*l.scale < out.DistM {
			out.DistM, out.AlongM = n.DistM*l.scale, (before+n.AlongM)*l.scale
			out.Ref, _ = j.sys.FormatRef(n.At, refFigures)
		}
		before += ground.Line([]geodesy.Grid{a, b}).LengthM()
	}
	return out
}

// refFigures is how many figures the reference of a position on a leg has: 10 m.
const refFigures = 8

// meets are the parts of a leg within a shape or on it, in metres of the grid.
func (l *Leg) meets(s ground.Shape) (out []ground.Span) {
	before := 0.0
	for a, b := range l.segments {
		for _, span := range s.Meets(a, b) {
			out = append(out, ground.Span{FromM: before + span.FromM, ToM: before + span.ToM})
		}
		before += ground.Line([]geodesy.Grid{a, b}).LengthM()
	}
	return out
}

func (l *Leg) bog(h *hazard, spans []ground.Span) {
	inside := 0.0
	for _, s := range spans {
		inside += s.LengthM() * l.scale
	}
	if len(spans) > 0 {
		l.BogM += inside
		l.add(caution.Of(caution.ThroughBog, h.title, metres(inside)))
	}
}

func (l *Leg) private(h *hazard, spans []ground.Span, n Near) {
	if len(spans) > 0 || n.DistM < h.KeepM {
		l.add(caution.Of(caution.EntersPrivate, h.title, metres(n.AlongM)))
	}
}

// danger judges a leg near a crag, steep ground or water. Water that can be crossed may be
// met where the leg crosses it, and nowhere else.
func (l *Leg) danger(h *hazard, spans []ground.Span, n Near) {
	crossable := h.Kind == plan.Water && h.Crosses != plan.NoCrossing
	if h.Kind == plan.Water {
		for _, s := range spans {
			l.Crossings = append(l.Crossings, Crossing{h.ID, h.title, h.Crosses, s.FromM * l.scale})
			if h.Crosses == plan.Ford {
				l.add(caution.Of(caution.CrossesFord, h.title, metres(s.FromM*l.scale)))
			}
		}
	}
	if crossable && len(spans) > 0 {
		n.DistM, n.AlongM = l.beside(h, spans)
	}
	if n.DistM < h.KeepM || n.DistM == 0 {
		l.add(caution.Of(caution.NearHazard, metres(math.Floor(n.DistM)), h.title, metres(n.AlongM)+" from its start"))
	}
}

// beside is how near a leg comes to water that it crosses, and where, without the parts
// where it does: those reach twice the distance to keep to both sides of the water.
func (l *Leg) beside(h *hazard, spans []ground.Span) (distM, alongM float64) {
	free := 2 * h.KeepM / l.scale
	distM, before := math.Inf(1), 0.0
	for a, b := range l.segments {
		length := ground.Line([]geodesy.Grid{a, b}).LengthM()
		for _, part := range outside(before, before+length, spans, free) {
			from, to := between(a, b, (part.FromM-before)/length), between(a, b, (part.ToM-before)/length)
			if n := h.shape.Nearest(from, to); n.DistM*l.scale < distM {
				distM, alongM = n.DistM*l.scale, (part.FromM+n.AlongM)*l.scale
			}
		}
		before += length
	}
	return distM, alongM
}

// outside are the parts of a stretch that lie farther than free from all spans.
func outside(from, to float64, spans []ground.Span, free float64) []ground.Span {
	var out []ground.Span
	for _, s := range spans {
		if s.FromM-free > from {
			out = append(out, ground.Span{FromM: from, ToM: min(s.FromM-free, to)})
		}
		if from = max(from, s.ToM+free); from >= to {
			return out
		}
	}
	return append(out, ground.Span{FromM: from, ToM: to})
}
