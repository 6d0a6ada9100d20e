package session

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/plan"
)

// Escapes are judged once a plan, and again only for an act that may change what there is to
// say of them. What moves is judged when it rests.
func TestEscapesAreJudgedOnceAPlan(t *testing.T) {
	t.Parallel()
	a := ready(t)
	first := a.Escapes()
	if len(first.Escapes) != 2 || len(first.Stages) != 3 {
		t.Fatalf("%d escapes and %d stages are judged, want 2 and 3", len(first.Escapes), len(first.Stages))
	}
	same := func() bool { return &a.Escapes().Escapes[0] == &first.Escapes[0] }
	a.Select(a.mark)
	must(t, a.SetTitle("Round"))
	must(t, a.SetLegField(a.leg, FieldNote, "boggy"))
	if !same() {
		t.Error("a choice, a title or what is noted at a leg judges them again")
	}
	a.BeginDrag()
	must(t, a.MovePoint(a.mark, 0, a.end(640, 640)))
	if e := a.Escapes().Escapes[0]; !e.Waits || !caution.Has(e.Cautions, caution.EscapeNotJudged) || !e.Stopped() || len(e.Legs[0].Way) != 2 {
		t.Errorf("while its mark moves it is %+v", e)
	}
	a.EndDrag()
	now := a.Escapes()
	if was, is := first.Escapes[0].Legs[0].LengthM, now.Escapes[0].Legs[0].LengthM; now.Waits || was == is {
		t.Errorf("once the mark rests the first leg is still %v m", is)
	}
}

// From the first move of a control point on, and until it rests, no escape counts as judged.
func TestEscapesWaitWhileAPointMoves(t *testing.T) {
	t.Parallel()
	a := ready(t)
	var shown []bool
	a.OnChange(func(c Change) {
		if !c.Passing() {
			shown = append(shown, a.Escapes().Waits)
		}
	})
	must(t, a.NudgeControlPoint(0, at(200.1, 200)))
	must(t, a.NudgeControlPoint(0, at(200.2, 200)))
	a.EndNudge()
	if want := []bool{true, false}; !slices.Equal(shown, want) {
		t.Errorf("waits %v, want %v", shown, want)
	}
}

// long gives an escape more legs than are judged at once.
func (a acted) long() {
	e, _ := a.Plan().EscapeByID(a.off)
	e = e.Clone()
	for i := range legsAtOnce {
		e.Legs = append(e.Legs, plan.EscapeLeg{To: a.end(1800-20*float64(i), 1700)})
	}
	must(a.t, a.do("make", "", a.Plan().SetEscape(e)))
}

// offSaid is all there is to say of escapes, as text.
func offSaid(j escape.Judged) string {
	var b strings.Builder
	for _, e := range j.Escapes {
		fmt.Fprintln(&b, e.ID, e.Name, e.Title, e.From, e.To, e.Haven, e.Chosen, e.Draft, e.Minutes, e.DarkMinutes, e.Leave, e.OffLineM, e.LongestM, e.EndsOn, e.Cautions)
		for _, l := range e.Legs {
			fmt.Fprintln(&b, l.From, l.To, l.Way, l.LengthM, l.Reading.Grid, l.Near, l.Of, l.Cautions)
		}
	}
	for _, s := range j.Stages {
		fmt.Fprintln(&b, s.Mark, s.Name, s.Reach, s.TurnBack, s.On, s.Back, s.Escapes, s.Cautions)
	}
	return b.String()
}

// Whatever is done, what is shown of escapes that are judged beside the window waits or is what
// there is to say of the plan as it is, and as soon as nothing is judged any more it is judged.
// A move in between, and a judging that ends late, change nothing in that.
func TestNoVerdictOnAnEscapeIsOlderThanThePlan(t *testing.T) {
	t.Parallel()
	for name, c := range intentions() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			a := ready(t)
			a.long()
			a.OnChange(func(Change) {}) // whom quiet tells
			must(t, a.SaveAs("/plans/isle.legplan"))
			var all []*Judging
			a.JudgeBeside(func(w *Judging) { all = append(all, w) })
			var shown escape.Judged
			show := func(c Change) {
				if !c.Passing() && c.What.Has(AnyEscape) {
					shown = a.Escapes()
				}
			}
			truth := func() string {
				r, err := leg.NewReader(a.Plan())
				must(t, err)
				m, _ := a.Ground()
				return offSaid(escape.Of(r.Over(m)))
			}
			right := func(when string) {
				t.Helper()
				if !shown.Waits && offSaid(shown) != truth() {
					t.Errorf("%s it says\n%s\nwant\n%s", when, offSaid(shown), truth())
				}
			}
			a.OnChange(show)
			show(Change{What: AnyEscape})
			if !shown.Waits || len(all) != 1 {
				t.Fatalf("waits %v, %d begun: the test tries nothing", shown.Waits, len(all))
			}
			must(t, c.act(a))
			right("after the act")
			a.EndNudge()
			right("at rest")
			for i := 0; i < len(all); i++ {
				all[i].Do()
				a.EndJudging(all[i])
				right("while it is judged")
			}
			if right("once it is judged"); shown.Waits || a.Escapes().Waits {
				t.Errorf("after %d judgings it still waits", len(all))
			}
		})
	}
}

// A judging beside the session that an act makes useless is given up, and the latest wins.
func TestTheLatestJudgingOfEscapesWins(t *testing.T) {
	t.Parallel()
	a := ready(t)
	a.long()
	done := make(chan *Judging, 8)
	a.JudgeBeside(func(w *Judging) {
		go func() {
			w.Do()
			done <- w
		}()
	})
	told := 0
	a.OnChange(func(c Change) {
		if a.Escapes(); c.What.Has(EscapesJudged) {
			told++
		}
	})
	const acts = 4
	for i := range acts {
		must(t, a.SetHazardKeep(a.crag, fmt.Sprintf("%d m", 60+i)))
		if !a.Escapes().Waits {
			t.Error("judged at once")
		}
	}
	must(t, a.SetTitle("Round")) // has nothing judged again
	for range acts {
		a.EndJudging(<-done)
	}
	r, err := leg.NewReader(a.Plan())
	must(t, err)
	if j := a.Escapes(); told != 1 || j.Waits || offSaid(j) != offSaid(escape.Of(r)) {
		t.Errorf("told %d times, waits %v", told, j.Waits)
	}
	a.crowd()
	must(t, a.NudgeControlPoint(0, at(200.2, 200))) // sheets are judged with their escapes
	a.EndNudge()
	for a.Escapes().Waits {
		a.EndJudging(<-done)
	}
	r, err = leg.NewReader(a.Plan())
	must(t, err)
	if offSaid(a.Escapes()) != offSaid(escape.Of(r)) {
		t.Error("judged with their sheet they are not as judged again")
	}
}

// What is exported beside the window right after a change is judged there, on the plan as it
// is, and never taken from the window.
func TestExportedEscapesAreThoseOfThePlan(t *testing.T) {
	t.Parallel()
	a := ready(t)
	a.long()
	a.JudgeBeside(func(*Judging) {})                                                             // which never comes to an end
	_, err := a.AddHazard(plan.Crag, false, []plan.Position{a.at(1150, 1300), a.at(1300, 1150)}) // across both
	must(t, err)
	if !a.Escapes().Waits {
		t.Fatal("judged at once: the test tries nothing")
	}
	a.Settle()
	out, err := escape.Export(a.Plan(), nil)
	must(t, err)
	for _, x := range out {
		if caution.Has(x.Cautions, caution.EscapeNotJudged) || !caution.Has(x.Cautions, caution.NearHazard) {
			t.Errorf("%s goes out with %v", x.Name, x.Cautions)
		}
	}
}

// A leg that begins at a mark recognisable in cloud begins an escape, one that begins where
// an escape ends goes on with it, and of two that end there the selected one.
func TestKeepEscape(t *testing.T) {
	t.Parallel()
	a := ready(t)
	cairn, _ := a.Plan().MarkByID(a.mark)
	start := plan.AtMark(cairn)
	if a.GoesOff(start) {
		t.Error("an escape goes off a mark that nobody called recognisable in cloud")
	}
	must(t, a.SetInCloud(a.mark, true))
	if !a.GoesOff(start) || a.GoesOff(a.end(1234, 567)) {
		t.Error("an escape goes off that mark and not off any position")
	}
	id, err := a.KeepEscape(start, a.end(1000, 1000), "")
	must(t, err)
	if own := a.Plan().EscapesFrom(a.mark); len(own) != 3 || a.Selection().ID != id {
		t.Fatalf("%d escapes begin at the mark, %q is selected", len(own), a.Selection().ID)
	}
	must(t, a.ExtendEscape(a.other, a.end(1000, 1000), ""))
	for _, want := range []plan.ID{a.other, id} {
		a.Select(want)
		e, _ := a.Plan().EscapeByID(want)
		got, err := a.KeepEscape(e.End(), a.end(1100, 1000), "")
		must(t, err)
		now, _ := a.Plan().EscapeByID(want)
		if got != want || len(now.Legs) != len(e.Legs)+1 || a.Selection().ID != want {
			t.Errorf("%q went on in place of %q", got, want)
		}
		must(t, a.ShortenEscape(want))
	}
	if _, err := a.KeepEscape(a.end(1234, 567), a.end(1000, 1000), ""); err == nil {
		t.Error("an escape begins on no mark")
	}
}
