package plan

import (
	"fmt"
	"slices"
	"strings"
)

// Escape is a way off the route that a leader drew: from a mark to a haven, by compass legs
// and along drawn lines. It is no part of the route.
type Escape struct {
	ID     ID
	Name   string // may be empty
	Start  End
	Legs   []EscapeLeg // one after the other, the first from Start
	Chosen bool        // the one of its mark that the leader would take: it gives the turn-back time
	Note   string
}

// EscapeLeg is one stretch of an escape: straight on a compass, or along a drawn line.
type EscapeLeg struct {
	To      End
	Along   ID      // the line that is followed, "" for a compass leg; one that is gone counts as none
	Climb   Counted // by the person's own count of contours; it stands before what terrain says
	Descent Counted
	Ticks   Ticks
}

// Ticks are what a leader looked at on the map along an escape leg.
type Ticks struct {
	Contours, Crags, Water, End bool
	// Of is the fingerprint of what they were given for: the leg, the hazards near it, the
	// terrain and the calibration. They count only while it is the same.
	Of string
}

// All reports whether nothing is left to tick.
func (t Ticks) All() bool { return t.Contours && t.Crags && t.Water && t.End }

// Bounds of escapes.
const (
	MaxEscapes    = 1_000
	MaxEscapeLegs = 10_000 // of all of them together
	maxOf         = 64     // bytes of a fingerprint
)

func (e *Escape) parts() parts {
	x := parts{id: &e.ID, name: &e.Name, notes: []*string{&e.Note}, ends: []*End{&e.Start}}
	for i := range e.Legs {
		x.ends = append(x.ends, &e.Legs[i].To)
	}
	return x
}

func (e *Escape) unshare() { e.Legs = slices.Clone(e.Legs) }

func (e *Escape) bad() string {
	if len(e.Legs) == 0 {
		return "it has no leg"
	}
	for _, l := range e.Legs {
		if r := l.Climb.bad("climb"); r != "" {
			return r
		}
		if r := l.Descent.bad("descent"); r != "" {
			return r
		}
		if len(l.Along) > 64 || len(l.Ticks.Of) > maxOf || strings.Trim(l.Ticks.Of, "0123456789abcdef") != "" {
			return fmt.Sprintf("its line %q or its fingerprint %q is not valid", l.Along, l.Ticks.Of)
		}
	}
	return ""
}

// Clone is the escape with legs of its own.
func (e Escape) Clone() Escape {
	e.unshare()
	return e
}

// Same reports whether two escapes are equal.
func (e Escape) Same(o Escape) bool {
	return slices.Equal(e.Legs, o.Legs) && e.ID == o.ID && e.Name == o.Name && e.Start == o.Start && e.Chosen == o.Chosen && e.Note == o.Note
}

// From is where leg i begins.
func (e Escape) From(i int) End {
	if i == 0 {
		return e.Start
	}
	return e.Legs[i-1].To
}

// Ends are its start and the end of each leg.
func (e Escape) Ends() []End {
	out := []End{e.Start}
	for _, l := range e.Legs {
		out = append(out, l.To)
	}
	return out
}

// End is where the escape ends.
func (e Escape) End() End { return e.Legs[len(e.Legs)-1].To }

// Reversed is the escape walked the other way. Climb and descent are swapped.
func (e Escape) Reversed() Escape {
	out := e
	out.Start, out.Legs = e.End(), make([]EscapeLeg, len(e.Legs))
	for i := range e.Legs {
		l := e.Legs[len(e.Legs)-1-i]
		l.To = e.From(len(e.Legs) - 1 - i)
		l.Climb, l.Descent = l.Descent, l.Climb
		out.Legs[i] = l
	}
	return out
}

// AddEscape returns the plan with one more escape.
func (p *Plan) AddEscape(e Escape) *Plan {
	return p.with(func(q *Plan) { q.Escapes = add(p.Escapes, e) }).FillEnds()
}

// SetEscape returns the plan with the escape of the same ID replaced.
func (p *Plan) SetEscape(e Escape) *Plan {
	return p.with(func(q *Plan) {
		q.Escapes = replace(p.Escapes, e, func(x Escape) bool { return x.ID == e.ID })
	}).FillEnds()
}

// EscapeByID returns the escape with that ID.
func (p *Plan) EscapeByID(id ID) (Escape, bool) {
	return find(p.Escapes, func(e Escape) bool { return e.ID == id })
}

// EscapesFrom returns the escapes that begin at a mark, in their order.
func (p *Plan) EscapesFrom(mark ID) []Escape {
	var out []Escape
	for _, e := range p.Escapes {
		if mark != "" && e.Start.Mark == mark {
			out = append(out, e)
		}
	}
	return out
}

// MoveEscape returns the plan with the escape moved by that many places among those of its
// mark, as far as they reach.
func (p *Plan) MoveEscape(id ID, by int) *Plan {
	e, ok := p.EscapeByID(id)
	if !ok {
		return p
	}
	var at []int // places in the plan's list
	for i, x := range p.Escapes {
		if x.Start.Mark == e.Start.Mark {
			at = append(at, i)
		}
	}
	from := slices.IndexFunc(at, func(i int) bool { return p.Escapes[i].ID == id })
	to := min(max(from+by, 0), len(at)-1)
	if to == from {
		return p
	}
	return p.with(func(q *Plan) { q.Escapes = insert(without(p.Escapes, at[from]), at[to], e) })
}

// ChooseEscape returns the plan with the escape as the one that the leader would take from
// its mark, or with none of its mark where on is false.
func (p *Plan) ChooseEscape(id ID, on bool) *Plan {
	e, ok := p.EscapeByID(id)
	if !ok {
		return p
	}
	list := slices.Clone(p.Escapes)
	for i, x := range list {
		if x.ID == id || x.Start.Mark == e.Start.Mark {
			list[i].Chosen = on && x.ID == id
		}
	}
	return p.with(func(q *Plan) { q.Escapes = list })
}

// Snow is the answer to "Is snow lying?", asked once an outing.
type Snow string

// The answers.
const (
	SnowNotAsked Snow = ""
	SnowLying    Snow = "yes"
	NoSnow       Snow = "no"
)

// SetSnow returns the plan with the answer. Another date takes it back: see SetDate.
func (p *Plan) SetSnow(s Snow) *Plan { return p.with(func(q *Plan) { q.Snow = s }) }

func (s Snow) bad() string {
	if s != SnowNotAsked && s != SnowLying && s != NoSnow {
		return fmt.Sprintf("snow_lying is %q, but must be yes or no", s)
	}
	return ""
}

// followed are the IDs of the lines that escapes follow, also of those that are gone.
func (p *Plan) followed() (out []ID) {
	for _, e := range p.Escapes {
		for _, l := range e.Legs {
			out = append(out, l.Along)
		}
	}
	return out
}
