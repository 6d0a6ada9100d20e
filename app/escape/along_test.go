package escape_test

import (
	"testing"

	"legwright/app/escape"
	"legwright/app/plan"
)

// A leg along a line says which way to turn on it, from whichever end it comes: by the first 100 m, past
// a short way from the start to the line and the first bends.
func TestALegAlongALineSaysWhichWay(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		from, to plan.Position
		line     []plan.Position
		want     string
	}{
		"there":        {at(0, -400), at(300, -800), path(0, -400, 300, -400, 300, -800), "east"},
		"and back":     {at(300, -800), at(0, -400), path(0, -400, 300, -400, 300, -800), "north"},
		"a zigzag":     {at(0, 0), at(0, -600), path(0, 0, 40, -20, 0, -40, 40, -60, 0, -80, 0, -600), "south"},
		"a few metres": {at(0, 0), at(-5, 5), path(0, 0, -5, 5, -900, 5), "north-west"},
	} {
		p := edit(walk(), func(e *plan.Escape) {
			e.Start = plan.AtPosition(c.from)
			e.Legs = []plan.EscapeLeg{{To: plan.AtPosition(c.to), Along: "path"}}
		})
		l, _ := p.LineByID("path")
		l.Points = c.line
		got := only(t, p.SetLine(l)).Legs[0]
		if want := "along Peat road, at first " + c.want; got.AlongWords() != want || got.Outset() != c.want {
			t.Errorf("%s: %q, want %q", name, got.AlongWords(), want)
		}
	}
	for _, l := range []escape.Leg{only(t, walk()).Legs[0], {}} {
		if got := l.AlongWords() + l.Outset(); got != "" {
			t.Errorf("a compass leg goes %q", got)
		}
	}
}
