package leg

import (
	"math"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/ground"
	"legwright/app/pace"
	"legwright/app/plan"
)

// OnGround is a part of a way on one kind of ground, in metres on the ground from the way's start.
type OnGround struct {
	Ground     pace.Ground
	FromM, ToM float64
}

// area is an area of ground of the plan on the grid of Common.
type area struct {
	plan.Area
	title string
	shape ground.Shape
	vague string // why nobody knows exactly where it lies; "" for no reason
}

// addArea prepares an area. One that may be anywhere speaks against every leg, one that was picked
// beyond the control points against those near it.
func (d *hazards) addArea(r *Reader, a plan.Area) {
	points, lost, vague := d.place(r, a.Points, a.Tangled())
	if lost != "" {
		d.lost = append(d.lost, caution.Of(caution.AreaUncertain, a.Title(), lost))
	}
	if points != nil {
		d.areas = append(d.areas, area{a, a.Title(), ground.Area(points), vague})
	}
}

// onAreas says which areas of ground are near a way, and what of it lies in them. On a path the
// way has its own ground.
func (w way) onAreas(d *hazards) {
	met, before := map[int][]ground.Span{}, 0.0
	for a, b := range w.segments {
		for _, n := range d.areaIndex.Near(a, b, NearM/w.scale) {
			spans := met[n.Shape]
			for _, s := range n.Spans {
				spans = append(spans, ground.Span{FromM: before + s.FromM, ToM: before + s.ToM})
			}
			met[n.Shape] = spans
		}
		before += ground.Line([]geodesy.Grid{a, b}).LengthM()
	}
	for i, a := range d.areas {
		spans, near := met[i]
		if !near {
			continue
		}
		w.met.Areas = append(w.met.Areas, a.ID)
		if a.vague != "" {
			w.add(caution.Of(caution.AreaUncertain, a.title, a.vague))
		}
		for _, s := range merged(spans) {
			w.onArea(a, s)
		}
	}
	w.met.Ground = slowest(w.met.Ground)
}

// onArea adds a part of a way that lies in an area.
func (w way) onArea(a area, s ground.Span) {
	at := whole(s.FromM * w.scale)
	switch {
	case s.LengthM() <= touchM || a.Ground == pace.Plantation && !w.enters(a.shape, s):
	case a.Ground == pace.Plantation && w.path:
		w.add(caution.Of(caution.LineInPlantation, a.title, at))
	case !w.path:
		w.on(a.Ground, s)
		if a.Ground == pace.Plantation {
			w.add(caution.Of(caution.EntersPlantation, a.title, at))
		}
	}
}

// on adds a part of a way on a ground.
func (w way) on(g pace.Ground, s ground.Span) {
	w.met.Ground = append(w.met.Ground, OnGround{Ground: g, FromM: s.FromM * w.scale, ToM: s.ToM * w.scale})
}

// edgeM is how deep in plantation a way lies at most that follows its edge, metres (common
// practice, no source).
const edgeM = 2

// enters reports whether a way goes into plantation where it meets it: not where it begins or ends
// at its edge, nor where it follows that.
func (w way) enters(s ground.Shape, span ground.Span) bool {
	if !w.beyondEnds(span) {
		return false
	}
	const apartM = 5 // of the positions that are tried
	n := math.Ceil(max(span.LengthM()*w.scale/apartM, 2))
	for i := range int(n) + 1 {
		if s.Foot(w.at(span.FromM+float64(i)/n*span.LengthM())).OffM*w.scale > edgeM {
			return true
		}
	}
	return false
}

// slowest are the parts of a way with one ground at each position, in order: of several the
// slowest.
func slowest(parts []OnGround) (out []OnGround) {
	var cuts []float64
	for _, p := range parts {
		cuts = append(cuts, p.FromM, p.ToM)
	}
	slices.Sort(cuts)
	for i := 1; i < len(cuts); i++ {
		from, to := cuts[i-1], cuts[i]
		worst := -1
		for _, p := range parts {
			if p.FromM <= from && p.ToM >= to {
				worst = max(worst, slices.Index(pace.Grounds(), p.Ground))
			}
		}
		if worst < 0 || to-from <= touchM {
			continue
		}
		g := pace.Grounds()[worst]
		if n := len(out); n > 0 && out[n-1].Ground == g && from-out[n-1].ToM <= touchM {
			out[n-1].ToM = to
			continue
		}
		out = append(out, OnGround{Ground: g, FromM: from, ToM: to})
	}
	return out
}

// Share is how much of a way lies on one kind of ground, from 0 to 1.
type Share struct {
	Ground pace.Ground
	Of     float64
}

// Shares are how much of a way of that length, metres on the ground, lies on each ground; own is
// that of what lies in no area and no bog.
func (m Met) Shares(lengthM float64, own pace.Ground) []Share {
	rest := 1.0
	out := []Share{{own, 0}}
	for _, p := range m.Ground {
		of := min((p.ToM-p.FromM)/max(lengthM, 1e-9), rest)
		out = append(out, Share{p.Ground, of})
		rest -= of
	}
	out[0].Of = rest
	return slices.DeleteFunc(out, func(s Share) bool { return s.Of <= 0 })
}

// GroundWords say what a way is walked on: how much of it lies on the ground of areas and in bog, and
// own, that of all else, where somebody said it: "rough 434 m, the rest path"; "" where nobody did.
func (m Met) GroundWords(own pace.Ground) string {
	var out []string
	for _, g := range pace.Grounds() {
		inM := 0.0
		for _, p := range m.Ground {
			if p.Ground == g {
				inM += p.ToM - p.FromM
			}
		}
		if inM > 0 {
			out = append(out, g.String()+" "+whole(inM))
		}
	}
	switch {
	case own == pace.Unsaid:
	case len(out) == 0:
		return own.String()
	default:
		out = append(out, "the rest "+own.String())
	}
	return strings.Join(out, ", ")
}
