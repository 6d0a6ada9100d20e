package check

import (
	"math"
	"slices"

	"legwright/app/calib"
	"legwright/app/calib/slips"
	"legwright/app/caution"
)

// Judge returns a verdict for each sheet, in their order. A sheet that rests on
// another counts only once that one is checked; circles stay unchecked.
func Judge(in Input) []Verdict {
	out := make([]Verdict, len(in.Sheets))
	t := &table{Input: in, checked: map[string]*Verdict{}}
	for first, again := true, true; again; first = false {
		again = false
		for i := range in.Sheets {
			s := &in.Sheets[i]
			if t.checked[s.ID] != nil || !first && !s.rests() {
				continue
			}
			if out[i] = t.judge(s); out[i].Checked {
				t.checked[s.ID], again = &out[i], true
			}
		}
	}
	return out
}

// NotJudged is the verdict on a sheet whose control points move, until it is judged
// again, and on one that was given up: a stop, so that it is never better than what comes of it.
func NotJudged() Verdict {
	return Verdict{Waits: true, Cautions: []caution.Caution{caution.Of(caution.NotJudged), caution.Of(caution.Unchecked)}}
}

// table is the state of Judge.
type table struct {
	Input
	checked map[string]*Verdict
}

// stopped reports whether the rest is given up.
func (t *table) stopped() bool { return t.Stop != nil && t.Stop() }

// rests reports whether evidence of the sheet is on another sheet.
func (s *Sheet) rests() bool {
	return slices.ContainsFunc(s.Evidence, func(e Evidence) bool { return e.Source == calib.FromSheet })
}

func (t *table) byID(id string) *Sheet {
	for i := range t.Sheets {
		if t.Sheets[i].ID == id {
			return &t.Sheets[i]
		}
	}
	return nil
}

// judge judges one sheet by what is checked so far.
func (t *table) judge(s *Sheet) Verdict {
	if s.Known != nil && !s.rests() {
		return *s.Known
	}
	if s.Fit == nil {
		return Verdict{Cautions: []caution.Caution{caution.Of(caution.Unchecked)}}
	}
	c := t.weigh(s)
	if t.stopped() {
		return NotJudged()
	}
	v := Verdict{Open: c.open(), Named: c.explained(), Guesses: c.guesses(), Evidence: c.results()}
	if t.stopped() {
		return NotJudged()
	}
	v.Cautions = append(v.Cautions, c.stops(v.Named)...)
	v.Advice = s.unread()
	by, withinM := c.bound()
	if hBy, hM := c.heights.bound(); hM < withinM {
		by, withinM = hBy, math.Max(hM, c.ownM())
	}
	if v.Advice == "" && len(v.Cautions) == 0 && len(v.Open) == 0 && (c.tells() || c.heights.count()) && !c.vague(withinM) && !s.FileStop && !caution.Stops(s.Fit.Cautions(), caution.All) {
		v.Checked, v.Scope, v.By, v.WithinM = true, c.scope(), by, withinM
		if v.Scope == OnGrid {
			v.Cautions = append(v.Cautions, caution.Of(caution.ScopeGrid))
		}
		return v
	}
	next := c.next(v.Open)
	v.Cautions = append(v.Cautions, c.notes(next)...)
	if v.Advice == "" {
		v.Advice = c.advice(v.Open)
	}
	v.At = next.at
	return v
}

// explained are the slips that explain why points and evidence do not agree; none while a
// tilted camera explains it as well.
func (c *held) explained() []slips.Slip {
	if c.s.Fit.Tilted() {
		return nil
	}
	return c.weighs.Name()
}

// unread says which evidence cannot be read on the grid, "" where all can.
func (s *Sheet) unread() string {
	for _, e := range s.Evidence {
		if e.Why != "" {
			return "The check with “" + e.Text + "” cannot be used on this grid: " + e.Why + "."
		}
	}
	return ""
}

// tells reports whether any evidence says where the sheet lies: unnamed lines and
// figures of the map's own grid do not, but for what a file gave.
func (c *held) tells() bool {
	return slices.ContainsFunc(c.rows, c.bounds)
}

// vaguePart is the part of the picture's longer side from which on a bound says nothing
// of where the sheet lies (our own).
const vaguePart = 0.25

// vague reports whether a check to so many metres says nothing.
func (c *held) vague(withinM float64) bool {
	return c.list.ExtentM > 0 && !(withinM <= vaguePart*c.list.ExtentM)
}

func (c *held) bounds(r row) bool { return r.SquareM == 0 && (!r.ownGrid || c.s.ByFile) }
