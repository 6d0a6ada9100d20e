package escape

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/app/units"
)

// Exported is an escape as plain named points, for exchange formats.
type Exported struct {
	Name     string // begins with DRAFT where it is one
	Points   []leg.ExportPoint
	Cautions []caution.Caution
}

// Export turns the plan's escapes into plain points, over the heights of its terrain, nil
// for none. Each point describes the leg that starts there; the first one carries what
// there is to say of the whole, and every one that it is a draft. The error is that of the
// first leg that cannot be computed.
func Export(p *plan.Plan, m *terrain.Model) ([]Exported, error) {
	if len(p.Escapes) == 0 {
		return nil, nil
	}
	r, err := leg.NewReader(p)
	if err != nil {
		return nil, err
	}
	r = r.Over(m)
	var out []Exported
	j := Of(r)
	for _, e := range j.Escapes {
		e.Cautions = caution.GravestFirst(append(slices.Clone(e.Cautions), j.leaving(e)...))
		by, from := j.LeaveBy(e)
		x := exporter{r, e, by, from}
		points, err := x.points()
		if err != nil {
			return nil, err
		}
		out = append(out, Exported{x.name(), points, e.Cautions})
	}
	return out, nil
}

// leaving is what speaks against being at the mark of a chosen escape when the plan is.
func (j Judged) leaving(e Escape) (list []caution.Caution) {
	for _, s := range j.Stages {
		if e.Chosen && e.Mark != "" && s.Mark == e.Mark {
			list = append(list, caution.OfGrade(s.Cautions, caution.Stop)...)
		}
	}
	return list
}

// exporter writes one escape.
type exporter struct {
	r *leg.Reader
	Escape
	leaveBy time.Time
	from    OffBy // what leaveBy is counted from
}

func (x exporter) name() string {
	words := x.Name + " " + x.From + " to " + x.To
	if x.Draft {
		return draftWord + " " + words
	}
	return words
}

// draftWord begins the name of an escape that is not ticked.
const draftWord = "DRAFT"

func (x exporter) points() (out []leg.ExportPoint, err error) {
	e, _ := x.r.Plan().EscapeByID(x.ID)
	for i, l := range x.Legs {
		if l.Err != nil {
			return nil, fmt.Errorf("escape %s, leg %d: %w", x.Name, l.N, l.Err)
		}
		from := x.r.Plan().Resolve(e.From(i))
		list := x.with(l.Cautions)
		words := x.words(l)
		if i == 0 {
			list = x.Cautions
			if !x.leaveBy.IsZero() {
				words += "; latest time to leave " + clock(x.leaveBy) + ", counted back from " + x.from.Words()
			}
		}
		out = append(out, leg.ExportPoint{
			Name: l.From, Desc: x.r.Described(words, list), At: l.Reading.FromLatLon, Cautions: list, Lasting: x.r.Lasting(from),
		})
		bends, err := x.bends(l, from)
		if err != nil {
			return nil, err
		}
		out = append(out, bends...)
	}
	last, end := x.Legs[len(x.Legs)-1], x.r.Plan().Resolve(e.End())
	list := x.with(x.r.CautionsOf(end))
	return append(out, leg.ExportPoint{
		Name: last.To, Desc: x.r.Described(x.endWords(), list), At: last.Reading.ToLatLon, Cautions: list, Lasting: x.r.Lasting(end),
	}), nil
}

// with puts the draft before other cautions.
func (x exporter) with(list []caution.Caution) []caution.Caution {
	draft := slices.DeleteFunc(slices.Clone(x.Cautions), func(c caution.Caution) bool { return c.Code != caution.EscapeDraft })
	return append(draft, list...)
}

// bends are the points of a line between the ends of a leg that follows it.
func (x exporter) bends(l Leg, from plan.Position) ([]leg.ExportPoint, error) {
	if len(l.Way) <= 2 {
		return nil, nil
	}
	sys, err := x.r.SystemFor(from)
	if err != nil {
		return nil, err
	}
	var out []leg.ExportPoint
	for i, g := range l.Way[1 : len(l.Way)-1] {
		at, _, err := sys.ToWGS84(g)
		if err != nil {
			return nil, err
		}
		list := x.with(nil)
		out = append(out, leg.ExportPoint{
			Name: fmt.Sprintf("%s.%d.%d", x.Name, l.N, i+1), Desc: x.r.Described("along "+l.AlongTitle, list), At: at, Cautions: list,
		})
	}
	return out, nil
}

// words say of a leg how it is walked, how long it is and how long it takes by day.
func (x exporter) words(l Leg) string {
	way := x.r.InWords(l.Reading)
	if l.Along != "" {
		way = l.AlongWords() + ", " + metres(l.LengthM)
	}
	words := fmt.Sprintf("%s leg %d, %s to %s: %s, %s", x.Name, l.N, l.From, l.To, way, minutesWords(l.Minutes))
	return strings.Join(append([]string{words}, l.CrossingWords()...), "; ")
}

// endWords say where it ends, and how long it is from there to where a party is collected.
func (x exporter) endWords() string {
	words := []string{fmt.Sprintf("end of %s, %s in all", x.Name, minutesWords(x.Minutes))}
	if h, ok := x.r.Plan().HavenByID(x.Haven); ok {
		words = append(words, x.To+", "+h.Kind.String())
		if h.Out.Known {
			words = append(words, minutesWords(h.Out.Min)+" from there to where you can be collected")
		}
	}
	return strings.Join(words, "; ")
}

// minutesWords write a time, or that it is not known.
func minutesWords(min float64) string {
	if math.IsNaN(min) {
		return "time not known"
	}
	return units.Minutes(ceilMinutes(min))
}
