package plan

import (
	"fmt"
	"math"
	"slices"
)

// HazardKind says what a hazard is.
type HazardKind string

// The kinds of hazards. Crag, steep ground and water are danger: no leg may come near.
// Bog costs time, and private ground bars the way.
const (
	Crag    HazardKind = "crag"
	Steep   HazardKind = "steep"
	Water   HazardKind = "water"
	Bog     HazardKind = "bog"
	Private HazardKind = "private"
)

// HazardKinds returns the kinds of hazards in the order in which people choose.
func HazardKinds() []HazardKind { return []HazardKind{Crag, Steep, Water, Bog, Private} }

// Danger reports whether the kind is danger, which bog and private ground are not.
func (k HazardKind) Danger() bool { return k == Crag || k == Steep || k == Water }

// String names the kind for people.
func (k HazardKind) String() string {
	switch k {
	case Steep:
		return "steep ground"
	case Private:
		return "private ground"
	}
	return string(k)
}

// DefaultKeepM returns how far, in metres, a leg keeps from a hazard of the kind unless
// somebody says otherwise. postM is the spacing of the terrain's posts, 0 without terrain
// (common practice, no source).
func (k HazardKind) DefaultKeepM(postM float64) float64 {
	const steepM = 30 // without terrain
	switch {
	case k == Crag:
		return 50
	case k == Water:
		return 20
	case k == Steep && postM > 0:
		return min(math.Ceil(postM-1e-6), mostKeepM) // whole metres, rounded up
	case k == Steep:
		return steepM
	}
	return 0
}

// Crossing says how water can be crossed.
type Crossing string

// The ways to cross water.
const (
	NoCrossing Crossing = ""
	StepOver   Crossing = "step-over"
	Ford       Crossing = "ford"
	Bridge     Crossing = "bridge"
)

// Crossings returns the ways to cross water, the harmless one first.
func Crossings() []Crossing { return []Crossing{NoCrossing, StepOver, Ford, Bridge} }

// String names the crossing for people.
func (c Crossing) String() string {
	switch c {
	case NoCrossing:
		return "not to be crossed"
	case StepOver:
		return "stepped over"
	}
	return string(c)
}

// Hazard is an area or line that no leg may come near, that bars the way, or that costs
// time.
type Hazard struct {
	ID      ID
	Name    string // may be empty: see TitleOf
	Kind    HazardKind
	Closed  bool // an area within its outline, and else a line
	Points  []Position
	KeepM   float64  // distance that a leg keeps from it, metres
	Crosses Crossing // of water alone
	Note    string
	Import  string // name of the import that it came with; "" for none
}

// mostKeepM bounds the distance to keep, metres.
const mostKeepM = 2000

func (h *Hazard) parts() parts {
	return parts{id: &h.ID, name: &h.Name, from: &h.Import, notes: []*string{&h.Note}, positions: pointers(h.Points), vertices: &h.Points, least: h.least()}
}

func (h *Hazard) unshare() { h.Points = slices.Clone(h.Points) }

// least is how many vertices it has at least.
func (h *Hazard) least() int {
	if h.Closed {
		return leastOutline
	}
	return 2
}

func (h *Hazard) bad() string {
	switch {
	case !slices.Contains(HazardKinds(), h.Kind):
		return fmt.Sprintf("the kind of hazard %q is not known", h.Kind)
	case !slices.Contains(Crossings(), h.Crosses):
		return fmt.Sprintf("the crossing %q is not known", h.Crosses)
	case h.Crosses != NoCrossing && h.Kind != Water:
		return "only water can be crossed"
	case !(h.KeepM >= 0 && h.KeepM <= mostKeepM): // NaN fails too
		return fmt.Sprintf("the distance to keep from it is %g m, but must be between 0 and %d", h.KeepM, mostKeepM)
	}
	return badVertices(len(h.Points), h.least())
}

// Tangled reports whether the outline of an area crosses or touches itself, so that nobody
// could say what lies inside. It takes longer than Validate may: whoever changes an
// outline or reads one from a file asks.
func (h Hazard) Tangled() bool { return h.Closed && tangled(h.Points) }

// AddHazard returns the plan with one more hazard.
func (p *Plan) AddHazard(h Hazard) *Plan {
	return p.with(func(q *Plan) { q.Hazards = add(p.Hazards, h) })
}

// SetHazard returns the plan with the hazard of the same ID replaced.
func (p *Plan) SetHazard(h Hazard) *Plan {
	return p.with(func(q *Plan) {
		q.Hazards = replace(p.Hazards, h, func(x Hazard) bool { return x.ID == h.ID })
	})
}

// HazardByID returns the hazard with that ID.
func (p *Plan) HazardByID(id ID) (Hazard, bool) {
	return find(p.Hazards, func(h Hazard) bool { return h.ID == id })
}
