package card

import (
	"fmt"
	"math"
	"time"

	"legwright/app/escape"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/units"
)

// Escape is what a card says of one escape. What is not known is "".
type Escape struct {
	Name, Title string // "E03-1", and the leader's own name for it
	From, To    string
	FromRef     string // of its start, where that is no mark of the route
	Kind        string // of the haven at its end, and how long it is from there to where the party can be collected
	Chosen      bool
	Draft       bool
	Stops       []string // in few words
	LeaveBy     string   // "14:27, counted back from sunset at 16:03"
	Time, Dark  string   // "36 min", "54 min"
	EndsOn      string
	Note        string
	Legs        []EscapeLeg
}

// EscapeLeg is one leg of an escape. One along a line has no bearings.
type EscapeLeg struct {
	N         int
	From, To  string
	Ref       string // of the end
	Along     string // "along Glen road, at first south-east", "" on the compass
	Set       string // "056°"
	SetNorth  string
	Grid, Mag string
	GMA       string // its own, as Leg.GMA
	Back      string
	Distance  string
	Paces     string
	Time      string
	Stops     []string
	Notes     []string // as Leg.Notes
}

// escapesAt are the escapes that begin where leg n does.
func (w writer) escapesAt(n int) (out []Escape) {
	for _, e := range w.judged.Escapes {
		if e.Leg == n {
			out = append(out, w.escape(e))
		}
	}
	return out
}

// chosenAt is the chosen escape of a stage.
func (w writer) chosenAt(s escape.Stage) (escape.Escape, bool) {
	for _, e := range w.judged.Escapes {
		if e.Chosen && e.Mark == s.Mark && s.Mark != "" {
			return e, true
		}
	}
	return escape.Escape{}, false
}

func (w writer) escape(e escape.Escape) Escape {
	own, _ := w.p.EscapeByID(e.ID)
	out := Escape{
		Name: e.Name, Title: e.Title, From: e.From, To: e.To, Chosen: e.Chosen, Draft: e.Draft, Stops: shorts(e.Cautions),
		Time: minutesOf(e.Minutes), Dark: minutesOf(e.DarkMinutes), EndsOn: e.EndsOn, Note: own.Note,
	}
	if at, from := w.judged.LeaveBy(e); !at.IsZero() {
		out.LeaveBy = clock(at) + ", counted back from " + from.Words()
	}
	out.Kind = w.havenWords(e.Haven, "you")
	ends := own.Ends()
	if e.Leg == 0 {
		out.FromRef = w.refOf(ends[0])
	}
	for i, l := range e.Legs {
		x := w.escapeLeg(l)
		x.Ref = w.refOf(ends[i+1])
		out.Legs = append(out.Legs, x)
	}
	return out
}

// refOf is the reference of an end, "" where it has none.
func (w writer) refOf(end plan.End) string {
	ref, err := w.r.Reference(w.p.Resolve(end))
	if err != nil {
		return ""
	}
	return ref
}

// havenWords say what a haven is, and how long it is from there to where somebody can be
// collected; "" for none.
func (w writer) havenWords(id plan.ID, who string) string {
	h, ok := w.p.HavenByID(id)
	switch {
	case !ok:
		return ""
	case h.Out.Known:
		return fmt.Sprintf("%s, %s from there to where %s can be collected", h.Kind, minutesOf(h.Out.Min), who)
	}
	return h.Kind.String()
}

func (w writer) escapeLeg(l escape.Leg) EscapeLeg {
	out := EscapeLeg{N: l.N, From: l.From, To: l.To, Along: l.AlongWords(), Time: minutesOf(l.Minutes), Stops: shorts(l.Cautions), Notes: notesOf(l.Cautions, l.Met), Distance: units.Metres(l.LengthM, 0)}
	if l.Along != "" {
		return out
	}
	r, circle := l.Reading, w.compass.Circle
	out.Set, out.SetNorth, out.Back = r.SetFigure(circle), unbroken(r.SetKind.North(w.compass)), r.BackSetFigure(w.compass)
	out.Grid, out.Mag = r.Figures(circle)
	out.GMA = w.ownGMA(r)
	out.Distance = units.Metres(r.GroundM, r.DistanceSigmaM)
	out.Paces = pace.InHundreds(r.GroundM, w.p.Party.Counts().Of(pace.Even(r.GroundM, l.Climb.M, l.Descent.M)))
	return out
}

// minutesOf writes minutes rounded up, so that no escape reads shorter than it is.
func minutesOf(min float64) string {
	if math.IsNaN(min) {
		return "time not known"
	}
	return units.Minutes(time.Duration(math.Ceil(min-1e-9)) * time.Minute)
}
