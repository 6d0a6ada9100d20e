package card

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/units"
)

// Passed is a position of the route, in words for somebody who does not navigate. What is not
// known is "".
type Passed struct {
	Clock string // about when the party is there
	Name  string
	Where string // "1.3 km north-west of Wood corner"
	Ref   string // behind the stops against it
	Notes string // what speaks against the way there, and that it is dark
}

// ComingOut is where and when a party that leaves the route by an escape comes out. Times that
// are not known are zero.
type ComingOut struct {
	Escape
	Ref     string
	Planned time.Time // left as the plan has it
	Latest  time.Time // left at the latest time, in the dark
	TooLate bool      // the plan leaves it after the latest time
}

// passed are the positions of the route in its order.
func (w writer) passed() (out []Passed) {
	for i, row := range w.rows {
		if w.begins(i) {
			start := Passed{Name: row.From, Ref: w.marked(row.FromEnd, row.Reading.FromRef)}
			if start.Where = "start"; i > 0 {
				start.Where = "gap in the route: the route begins again here"
			}
			if !row.Leave.IsZero() {
				start.Clock = (leg.Timed{Arrive: row.Leave}).ClockWords(w.p.Date)
			}
			out = append(out, start)
		}
		notes := []string{labelled("STOP: ", strings.Join(shorts(row.Cautions()), ", ")), lightWords(row.Light)}
		if row.Time > 0 && !row.ClimbKnown() {
			notes = append(notes, "climb not counted")
		}
		out = append(out, Passed{
			Clock: row.ClockWords(w.p.Date), Name: row.To, Where: awayWords(row.Reading) + " of " + row.From,
			Ref: w.marked(row.ToEnd, row.Reading.ToRef), Notes: joined("; ", notes...),
		})
	}
	return out
}

// begins reports whether the route begins with row i, or begins again there after a gap.
func (w writer) begins(i int) bool {
	return i == 0 || !w.rows[i-1].ToEnd.Same(w.rows[i].FromEnd)
}

// marked is a reference behind the stops against its position.
func (w writer) marked(end plan.End, ref string) string {
	return joined("; ", caution.Lead(w.r.CautionsOf(w.p.Resolve(end)), caution.Position), unbroken(ref))
}

// awayWords say how far and in which direction a reading leads: "360 m north-east".
func awayWords(r leg.Reading) string {
	far := fmt.Sprintf("%.0f m", 10*math.Round(r.GroundM/10))
	if r.GroundM >= 995 {
		far = fmt.Sprintf("%.1f km", r.GroundM/1000)
	}
	return far + " " + units.EightPoint(r.Grid.Angle())
}

// comingOut are the escapes in the order of the route.
func (w writer) comingOut() (out []ComingOut) {
	for _, e := range w.judged.Escapes {
		x := ComingOut{Escape: w.escape(e)}
		x.Kind = w.havenWords(e.Haven, "they")
		if own, ok := w.p.EscapeByID(e.ID); ok {
			if ref, err := w.r.Reference(w.p.Resolve(own.End())); err == nil {
				x.Ref = w.marked(own.End(), ref)
			}
		}
		after := 0.0
		if h, ok := w.p.HavenByID(e.Haven); ok && h.Out.Known {
			after = h.Out.Min
		}
		walk := e.Minutes
		if e.Dark {
			walk = e.DarkMinutes
		}
		x.Planned = outAt(e.Leave, walk+after)
		by, _ := w.judged.LeaveBy(e)
		x.TooLate = !by.IsZero() && e.Leave.After(by)
		x.Latest = outAt(by, math.Max(e.Minutes, e.DarkMinutes)+after)
		out = append(out, x)
	}
	return out
}

// outAt is minutes after a time, rounded up; zero where one of them is not known.
func outAt(leave time.Time, minutes float64) time.Time {
	if leave.IsZero() || math.IsNaN(minutes) {
		return time.Time{}
	}
	return upToMinute(leave.Add(pace.Duration(minutes)))
}

// planClock is the clock of the plan and when its route ends by it.
func (w writer) planClock() planClock {
	k := planClock{date: w.p.Date, in: w.p.Timing.Location()}
	if n := len(w.rows); n > 0 {
		k.end, k.orLater = w.rows[n-1].Arrive, w.rows[n-1].OrLater
	}
	return k
}

// grids name the grids of the references: "British National Grid, datum OSGB36".
func (w writer) grids() string {
	var out []string
	for _, row := range w.rows {
		if sys, err := w.r.SystemFor(w.p.Resolve(row.ToEnd)); err == nil {
			if words := gridWords(sys); !slices.Contains(out, words) {
				out = append(out, words)
			}
		}
	}
	return strings.Join(out, "; ")
}

// words say where the party comes out, and how much later than it is due back.
func (x ComingOut) words(k planClock, due, act time.Time) string {
	lines := []string{joined(" ", x.head(), labelled("STOP, do not rely on it: ", sentence(strings.Join(x.Stops, ", "))))}
	if !x.Planned.IsZero() {
		lines = append(lines, fmt.Sprintf("If they leave as planned, they come out at about %s, %s.", k.short(x.Planned), against(x.Planned, due, "the DUE BACK time")))
	} else {
		lines = append(lines, "It is not known when they come out (escape: "+x.Time+", in the dark: "+x.Dark+").")
	}
	switch {
	case x.Latest.IsZero():
	case x.TooLate:
		lines = append(lines, "By the plan they are at "+x.From+" after the latest time to leave it this way.")
	default:
		lines = append(lines, fmt.Sprintf("If they leave at the latest time and walk in the dark, they come out by about %s, %s.", k.short(x.Latest), against(x.Latest, due, "the DUE BACK time")))
	}
	if late := latest(x.Planned, x.Latest); late.After(act) {
		lines = append(lines, "If they go this way, they may still be walking at the ACT AT time. Act all the same.")
	}
	return strings.Join(lines, "\n")
}

// head says where the escape leads.
func (x ComingOut) head() string {
	name := x.Name
	if x.Draft {
		name = "DRAFT " + name
	}
	return fmt.Sprintf("%s: from %s they come out at %s.", name, x.From, joined(", ", x.To, x.Ref, x.Kind))
}

func latest(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}
