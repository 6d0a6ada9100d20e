package plan

import "testing"

// Escapes belong to the mark that they begin at: they are reordered among its own, one of
// them is chosen, and the other way round one has its climb as descent.
func TestEscapesOfAMark(t *testing.T) {
	t.Parallel()
	p := testPlan(t)
	m := p.Marks[0]
	at := func(e float64) End { return AtPosition(typed(e, 799_000)) }
	other := Mark{ID: "mark-9", Name: "Other", Position: typed(52_000, 798_000)}
	p = p.AddMark(other)
	for _, e := range []Escape{
		{ID: "a", Start: AtMark(m), Legs: []EscapeLeg{{To: at(51_500), Climb: Count(10), Descent: Count(30)}, {To: at(51_900), Along: "line-1", Descent: Count(5)}}},
		{ID: "x", Start: AtMark(other), Legs: []EscapeLeg{{To: at(52_500)}}},
		{ID: "b", Start: AtMark(m), Legs: []EscapeLeg{{To: at(53_000)}}},
		{ID: "c", Start: AtMark(m), Legs: []EscapeLeg{{To: at(53_100)}}},
	} {
		p = p.AddEscape(e)
	}
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	order := func(p *Plan) (out string) {
		for _, e := range p.Escapes {
			out += string(e.ID)
		}
		return out
	}
	for _, c := range []struct {
		id   ID
		by   int
		want string
	}{{"a", 1, "xbac"}, {"a", 2, "xbca"}, {"a", 9, "xbca"}, {"c", -1, "axcb"}, {"x", 1, "axbc"}, {"a", -1, "axbc"}, {"none", 1, "axbc"}} {
		if got := order(p.MoveEscape(c.id, c.by)); got != c.want {
			t.Errorf("%s moved by %d: %s, want %s", c.id, c.by, got, c.want)
		}
	}
	q := p.ChooseEscape("a", true).ChooseEscape("x", true).ChooseEscape("b", true)
	for _, e := range q.Escapes {
		if want := e.ID == "b" || e.ID == "x"; e.Chosen != want {
			t.Errorf("%s is chosen %v, want %v", e.ID, e.Chosen, want)
		}
	}
	a, _ := p.EscapeByID("a")
	r := a.Reversed()
	if !r.Start.Same(a.End()) || !r.End().Same(a.Start) || r.Legs[0].Along != "line-1" || r.Legs[0].Climb != Count(5) || r.Legs[1].Descent != Count(10) || !r.Reversed().Same(a) {
		t.Errorf("reversed: %+v", r)
	}
	gone := p.Remove(m.ID)
	if e, _ := gone.EscapeByID("a"); e.Start.Mark != "" || !e.Start.Position.Same(m.Position) || gone.Validate() != nil {
		t.Errorf("without its mark it begins at %+v", e.Start)
	}
	if s := p.SetSnow(NoSnow); s.SetDate(s.Date).Snow != NoSnow || s.SetDate(Date{2027, 1, 2}).Snow != SnowNotAsked || p.SetSnow("deep").Validate() == nil {
		t.Error("snow is asked once an outing: another day takes the answer back")
	}
	for what, e := range map[string]Escape{
		"no leg":          {ID: "e", Start: AtMark(m)},
		"a negative rise": {ID: "e", Start: AtMark(m), Legs: []EscapeLeg{{To: at(51_500), Climb: Count(-1)}}},
		"no fingerprint":  {ID: "e", Start: AtMark(m), Legs: []EscapeLeg{{To: at(51_500), Ticks: Ticks{Of: "../etc"}}}},
	} {
		if p.AddEscape(e).Validate() == nil {
			t.Errorf("%s is valid", what)
		}
	}
}
