package paper

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"

	"legwright/app/geodesy"
	"legwright/app/ground"
	"legwright/app/pace"
	"legwright/app/plan"
)

// Things are what of a plan is drawn over a cut, on the grid of its sheet.
type Things struct {
	Legs    []CutLeg
	Escapes []CutWay
	Marks   []CutMark
	Ends    []CutMark // ends of legs that no mark names, with their letters
	Hazards []CutHazard
	Havens  []CutHaven
	Lines   []CutLine
	Areas   []CutArea
}

// CutLeg is a leg of the route.
type CutLeg struct {
	Number   int // from 1
	From, To geodesy.Grid
	GroundM  float64 // its length on the ground, for a tick each 100 m; 0 for none
	Stopped  bool    // nobody may walk on it: drawn broken, its number behind an exclamation mark
}

// CutWay is the way of an escape, from its mark to its end.
type CutWay struct {
	Name    string // "E03-1", a draft with its DRAFT
	Points  []geodesy.Grid
	Stopped bool // a draft, or nobody may walk on it: drawn with short dashes
}

// CutMark is a mark with its name.
type CutMark struct {
	Name string
	At   geodesy.Grid
}

// CutHazard is a hazard: an area, or a line.
type CutHazard struct {
	Kind   plan.HazardKind
	Name   string
	Points []geodesy.Grid
	Closed bool // an area
}

// rings are the lines of a hazard: its own, or the border of an area and its holes, without the
// slits that join them.
func (h CutHazard) rings() [][]geodesy.Grid {
	if !h.Closed {
		return [][]geodesy.Grid{h.Points}
	}
	return ground.RingsOf(h.Points, func(g geodesy.Grid) orb.Point { return orb.Point{g.E, g.N} })
}

// CutArea is an area of one ground.
type CutArea struct {
	Ground  pace.Ground
	Name    string
	Outline []geodesy.Grid
}

// CutHaven is a haven: one point, or a line of several.
type CutHaven struct {
	Name   string
	Points []geodesy.Grid
}

// CutLine is a line to follow, or a catching feature.
type CutLine struct {
	Name     string
	Points   []geodesy.Grid
	Catching bool
}

// Ground is the rectangle around legs, escapes, marks and havens of a plan with a margin in
// metres, for the Ground of a Cut; ok is false where there are none. Of the havens
// only single points count: a road may go on for ever.
func (t *Things) Ground(marginM float64) (g Ground, ok bool) {
	var all []geodesy.Grid
	for _, w := range t.ways() {
		all = append(all, w...)
	}
	return Around(all, marginM), len(all) > 0
}

// ways are what a cut is made for.
func (t *Things) ways() (out [][]geodesy.Grid) {
	for _, l := range t.Legs {
		out = append(out, []geodesy.Grid{l.From, l.To})
	}
	for _, e := range t.Escapes {
		out = append(out, e.Points)
	}
	for _, m := range t.Marks {
		out = append(out, []geodesy.Grid{m.At})
	}
	for _, h := range t.Havens {
		if len(h.Points) == 1 {
			out = append(out, h.Points)
		}
	}
	return out
}

// LieOn reports whether a part of what the cut is made for may lie on ground.
func (t *Things) LieOn(g Ground) bool {
	for _, w := range t.ways() {
		for i, p := range w {
			if g.Holds(p) || i > 0 && g.cuts(w[i-1], p) {
				return true
			}
		}
	}
	return false
}

// Holds reports whether a position lies in the rectangle.
func (g Ground) Holds(p geodesy.Grid) bool {
	return p.E >= g.West && p.E <= g.East && p.N >= g.South && p.N <= g.North
}

// cuts reports whether a straight line comes into the rectangle.
func (g Ground) cuts(a, b geodesy.Grid) bool {
	bound := orb.Bound{Min: orb.Point{g.West, g.South}, Max: orb.Point{g.East, g.North}}
	return len(clip.LineString(bound, orb.LineString{{a.E, a.N}, {b.E, b.N}})) > 0
}
