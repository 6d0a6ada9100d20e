package escape

import (
	"iter"
	"time"

	"legwright/app/geodesy"
	"legwright/app/ground"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// Judged are the escapes of a plan with what there is to say of each.
type Judged struct {
	Escapes []Escape // in the order of the route
	Stages  []Stage  // the marks and ends of the route: one before each leg, and its end
	Snow    bool     // the leader has said whether snow is lying
	Waits   bool     // they are not judged yet, see Waiting
}

// ByID returns the escape with that ID.
func (j Judged) ByID(id plan.ID) (Escape, bool) {
	for _, e := range j.Escapes {
		if e.ID == id {
			return e, true
		}
	}
	return Escape{}, false
}

// Verdict says in a word whether a party may follow an escape.
type Verdict string

// The verdicts. A draft is a stop too, and so is one that waits.
const (
	Draft  Verdict = "DRAFT" // the leader has not ticked all of its legs
	Stop   Verdict = "STOP"  // a stop speaks against it, or its mark is reached too late to leave by it
	Ticked Verdict = "ticked"
	Wait   Verdict = "wait" // it is not judged yet, see Waiting
)

// Verdict is that of one of the escapes.
func (j Judged) Verdict(e Escape) Verdict {
	switch {
	case e.Waits:
		return Wait
	case e.Draft:
		return Draft
	case e.Stopped() || len(j.leaving(e)) > 0:
		return Stop
	}
	return Ticked
}

// LeaveBy is the latest time to leave by a chosen escape, zero for another or where it is not
// known, with the hour that it is counted from.
func (j Judged) LeaveBy(e Escape) (at time.Time, from OffBy) {
	for _, s := range j.Stages {
		if e.Chosen && s.Leg == e.Leg {
			at, from = s.TurnBack, s.OffBy
		}
	}
	return at, from
}

// judge is what the escapes of a plan are judged with.
type judge struct {
	r       *leg.Reader
	p       *plan.Plan
	at      plan.Positions
	labels  plan.Labels
	sys     *geodesy.System // all work is done on it; nil while no grid is known
	terrain terrain.Ground
	texts   map[plan.ID][]byte // of hazards: see written
	under   []byte             // see beneath; nil until made
	lines   []line
	havens  []haven
}

// Of judges all escapes of a reader's plan.
func Of(r *leg.Reader) Judged {
	out, _ := OfUntil(func() bool { return false }, r)
	return out
}

// OfUntil is Of that gives up once stop reports true, and then returns false. stop is called
// on the same goroutine.
func OfUntil(stop func() bool, r *leg.Reader) (out Judged, ok bool) {
	j := newJudge(r)
	out = Judged{Stages: j.stages(), Snow: j.p.Snow != plan.SnowNotAsked}
	for e, head := range j.inOrder(out.Stages) {
		if stop() {
			return Judged{}, false
		}
		out.Escapes = append(out.Escapes, j.escape(e, head, lastReach(out.Stages, e.Start.Mark)))
	}
	j.turnBacks(&out)
	return out, true
}

// Waiting returns the escapes of a reader's plan before they are judged: where they go and
// what they are called, with a stop that says so and no figure. It takes a small part of the
// time of Of.
func Waiting(r *leg.Reader) Judged {
	j := newJudge(r)
	out := Judged{Stages: j.passed(), Snow: j.p.Snow != plan.SnowNotAsked, Waits: true}
	for e, head := range j.inOrder(out.Stages) {
		out.Escapes = append(out.Escapes, j.waiting(e, head))
	}
	return out
}

func newJudge(r *leg.Reader) *judge {
	p := r.Plan()
	j := &judge{r: r, p: p, at: p.Positions(), labels: r.Labels(), texts: map[plan.ID][]byte{}}
	j.prepare()
	return j
}

// inOrder yields the plan's escapes in the order of the route, with what they are called, and
// enters them at their stages. Those off the route come last.
func (j *judge) inOrder(stages []Stage) iter.Seq2[plan.Escape, Escape] {
	return func(yield func(plan.Escape, Escape) bool) {
		on := map[plan.ID]bool{}
		for i := range stages {
			s := &stages[i]
			for n, e := range j.beginningAt(stages, i) {
				on[e.ID], s.Escapes = true, append(s.Escapes, e.ID)
				if !yield(e, j.head(e, s.Leg, n+1)) {
					return
				}
			}
		}
		n := 0
		for _, e := range j.p.Escapes {
			if on[e.ID] {
				continue
			}
			if n++; !yield(e, j.head(e, 0, n)) {
				return
			}
		}
	}
}

// prepare converts what is drawn to one grid.
func (j *judge) prepare() {
	if j.sys = j.r.Common(); j.sys == nil {
		return
	}
	j.terrain = j.r.Model().On(j.sys)
	for _, l := range j.p.Lines {
		if pts, err := j.r.OnCommon(l.Points...); err == nil {
			j.lines = append(j.lines, line{l.ID, j.p.TitleOf(l.ID), l.Kind.Trodden(), l.Points, ground.Line(pts)})
		}
	}
	for _, h := range j.p.Havens {
		pts, err := j.r.OnCommon(h.Points...)
		if err != nil {
			continue
		}
		j.havens = append(j.havens, haven{h.ID, j.p.TitleOf(h.ID), h.Kind, ground.Line(pts)})
		if len(pts) > 1 { // a road is a line as well
			j.lines = append(j.lines, line{h.ID, j.p.TitleOf(h.ID), true, h.Points, ground.Line(pts)})
		}
	}
}

// line is a drawn line on the common grid, haven a haven.
type (
	line struct {
		id      plan.ID
		title   string
		trodden bool // a path, a track or a road
		drawn   []plan.Position
		shape   ground.Shape
	}
	haven struct {
		id    plan.ID
		title string
		kind  plan.HavenKind
		shape ground.Shape
	}
)

// corners are the points of a line that lead its part between two distances along it, in metres of
// the grid: those within and the next one on either side.
func (x line) corners(fromM, toM float64) []plan.Position {
	at, first, last := 0.0, 0, len(x.drawn)-1
	for i, span := range x.shape.Parts() {
		if at += span; at <= min(fromM, toM) {
			first = i + 1
		}
		if at >= max(fromM, toM) {
			last = i + 1
			break
		}
	}
	return x.drawn[first : last+1]
}
