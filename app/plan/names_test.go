package plan

import (
	"strings"
	"testing"
)

// lettersOf writes what the ends of the legs and sights are called, such as "AB BC".
func lettersOf(p *Plan) string {
	labels := p.Labels()
	var out []string
	for _, l := range p.Legs {
		out = append(out, labels.Of(l.From)+labels.Of(l.To))
	}
	for _, s := range p.Sights {
		out = append(out, labels.Of(s.From)+labels.Of(s.To))
	}
	return strings.Join(out, " ")
}

// An end without a mark keeps its letter, whatever is done to other ends.
func TestAnEndKeepsItsLetter(t *testing.T) {
	t.Parallel()
	at := func(n float64) End { return AtPosition(typed(n*100, 5)) }
	p := New(Date{2026, 11, 25})
	for i, l := range [][2]End{{at(1), at(2)}, {at(2), at(3)}, {at(3), at(4)}} {
		p = p.AddLeg(Leg{ID: ID("leg-" + string(rune('1'+i))), From: l[0], To: l[1]})
	}
	named := p.MarkEnds(p.Legs[1].To, Mark{ID: "mark-1", Name: "Col", Position: typed(300, 5)})
	for _, c := range []struct {
		name string
		p    *Plan
		want string
	}{
		{"as kept", p, "AB BC CD"},
		{"the first leg removed", p.Remove("leg-1"), "BC CD"},
		{"a leg in the middle removed", p.Remove("leg-2"), "AB CD"},
		{"the last leg moved to the front", p.MoveLeg("leg-3", -2), "CD AB BC"},
		{"a leg reversed", p.ReverseLeg("leg-2"), "AB CB CD"},
		{"an end moved", p.MovePoint("leg-1", 0, at(9)), "AB BC CD"},
		{"a joint moved", p.MovePoint("leg-1", 1, at(9)), "AB BC CD"},
		{"an end moved onto another", p.MovePoint("leg-3", 1, p.Legs[0].From), "AB BC CA"},
		{"an end moved to where another is", p.MovePoint("leg-1", 0, at(4)), "DB BC CD"},
		{"a joint moved to where another is", p.MovePoint("leg-1", 1, at(4)), "AD DC CD"},
		{"the last end moved to where the first is", p.MovePoint("leg-3", 1, at(1)), "AB BC CA"},
		{"a sight moved to where an end is", p.AddSight(Sight{ID: "sight-1", From: at(8), To: at(9)}).MovePoint("sight-1", 1, at(2)), "AB BC CD EB"},
		{"an end moved to where it is", p.MovePoint("leg-1", 0, at(1)), "AB BC CD"},
		{"a new leg", p.AddLeg(Leg{ID: "leg-4", From: p.Legs[2].To, To: at(7)}), "AB BC CD DE"},
		{"a new leg after one was removed", p.Remove("leg-1").AddLeg(Leg{ID: "leg-4", From: at(6), To: at(7)}), "BC CD AE"},
		{"an end named", named, "AB BCol ColD"},
		{"its mark removed again", named.Remove("mark-1"), "AB BC CD"},
		{"a sight away from the joint", p.AddSight(Sight{ID: "sight-1", From: p.Legs[1].From, To: at(8)}).MovePoint("leg-1", 1, at(9)), "AB BC CD FE"},
		{"a mark that is called so", p.AddMark(Mark{ID: "mark-1", Name: "b", Position: typed(1, 1)}), "AE EC CD"},
	} {
		if got := lettersOf(c.p); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	if got := p.NextMarkName(); got != "E" {
		t.Errorf("the next mark is %q, want E, for the ends have A to D", got)
	}
}

// Plans that name the same letter at two positions, or letters of no series, come from
// files.
func TestLettersOfAFile(t *testing.T) {
	t.Parallel()
	end := func(n float64, letter string) End {
		e := AtPosition(typed(n, 5))
		e.Letter = letter
		return e
	}
	p := New(Date{2026, 11, 25})
	p.Legs = []Leg{{ID: "leg-1", From: end(100, "C"), To: end(200, "C")}, {ID: "leg-2", From: end(200, ""), To: end(300, "A")}}
	if got := lettersOf(p.FillEnds()); got != "CB BA" {
		t.Errorf("%s, want CB BA", got)
	}
	p.Legs[0].From.Letter = "c3"
	if err := p.Validate(); err == nil {
		t.Error("the letter c3 is accepted")
	}
}

func TestChains(t *testing.T) {
	t.Parallel()
	at := func(n float64) End { return AtPosition(typed(n*100, 5)) }
	p := New(Date{2026, 11, 25})
	if got := p.Chains(); got != nil {
		t.Errorf("chains of no route: %v", got)
	}
	for i, l := range [][2]float64{{1, 2}, {2, 3}, {4, 5}, {5, 1}} {
		p = p.AddLeg(Leg{ID: ID("leg-" + string(rune('1'+i))), From: at(l[0]), To: at(l[1])})
	}
	if got := p.Chains(); len(got) != 2 || got[0] != (Chain{0, 1}) || got[1] != (Chain{2, 3}) {
		t.Errorf("chains %v, want legs 0–1 and 2–3", got)
	}
}

// A mark is meant by its name without accents too, unless two marks would be.
func TestAMarkIsTypedWithoutItsAccents(t *testing.T) {
	t.Parallel()
	p := New(Date{2026, 11, 25})
	for i, name := range []string{"Bealach nan Ròp", "Càrn", "Carn", "Ób", "Òb"} {
		p = p.AddMark(Mark{ID: ID("mark-" + string(rune('1'+i))), Name: name, Position: typed(float64(100*i), 5)})
	}
	for typed, want := range map[string]string{
		"bealach nan rop": "Bealach nan Ròp", "Bealach nan Ro\u0300p": "Bealach nan Ròp", "Bealach nan Róp": "Bealach nan Ròp",
		"Carn": "Carn", "càrn": "Càrn", "ob": "", "Rop": "",
	} {
		if m, ok := p.MarkTyped(typed); ok != (want != "") || m.Name != want {
			t.Errorf("%q means %q, want %q", typed, m.Name, want)
		}
	}
}
