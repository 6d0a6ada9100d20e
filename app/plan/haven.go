package plan

import (
	"fmt"
	"slices"
)

// HavenKind says what a haven is.
type HavenKind string

// The kinds of havens. A signal is where a telephone reaches help.
const (
	OpenShelter   HavenKind = "open-shelter"
	LockedShelter HavenKind = "locked-shelter"
	HouseHaven    HavenKind = "house"
	RoadHaven     HavenKind = "road"
	ValleyPath    HavenKind = "valley-path"
	SignalHaven   HavenKind = "signal"
)

// HavenKinds returns the kinds of havens in the order in which people choose.
func HavenKinds() []HavenKind {
	return []HavenKind{RoadHaven, ValleyPath, HouseHaven, OpenShelter, LockedShelter, SignalHaven}
}

// String names the kind for people.
func (k HavenKind) String() string {
	switch k {
	case OpenShelter:
		return "open shelter"
	case LockedShelter:
		return "locked shelter"
	case ValleyPath:
		return "valley path"
	case SignalHaven:
		return "phone signal"
	}
	return string(k)
}

// Minutes is a time that a person gave; the zero value says that nobody did.
type Minutes struct {
	Known bool
	Min   float64
}

// mostOutMin is the longest way out from a haven, minutes.
const mostOutMin = 48 * 60

func (m Minutes) bad(what string) string {
	if !(m.Min >= 0 && m.Min <= mostOutMin) || !m.Known && m.Min != 0 { // NaN fails too
		return fmt.Sprintf("%s is %g minutes, but must be between 0 and %d", what, m.Min, mostOutMin)
	}
	return ""
}

// Haven is a place where a party is safe: a point such as a hut, or a line such as a road.
type Haven struct {
	ID     ID
	Name   string // may be empty: see TitleOf
	Kind   HavenKind
	Points []Position // one for a point, more for a line
	Out    Minutes    // from there to where the party can be collected
	Note   string
	Import string // name of the import that it came with; "" for none
}

func (h *Haven) parts() parts {
	return parts{id: &h.ID, name: &h.Name, from: &h.Import, notes: []*string{&h.Note}, positions: pointers(h.Points), vertices: &h.Points, least: 1}
}

func (h *Haven) unshare() { h.Points = slices.Clone(h.Points) }

func (h *Haven) bad() string {
	if !slices.Contains(HavenKinds(), h.Kind) {
		return fmt.Sprintf("the kind of haven %q is not known", h.Kind)
	}
	if r := h.Out.bad("the time from there to where the party can be collected"); r != "" {
		return r
	}
	return badVertices(len(h.Points), 1)
}

// AddHaven returns the plan with one more haven.
func (p *Plan) AddHaven(h Haven) *Plan {
	return p.with(func(q *Plan) { q.Havens = add(p.Havens, h) })
}

// SetHaven returns the plan with the haven of the same ID replaced.
func (p *Plan) SetHaven(h Haven) *Plan {
	return p.with(func(q *Plan) {
		q.Havens = replace(p.Havens, h, func(x Haven) bool { return x.ID == h.ID })
	})
}

// HavenByID returns the haven with that ID.
func (p *Plan) HavenByID(id ID) (Haven, bool) {
	return find(p.Havens, func(h Haven) bool { return h.ID == id })
}
