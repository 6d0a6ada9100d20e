package card

import (
	"strings"
	"testing"

	"legwright/app/plan"
)

// The words are those of the ITU Radio Regulations, appendix 14 (from memory).
func TestSpell(t *testing.T) {
	t.Parallel()
	for ref, want := range map[string]string{
		"NL 2672 4459":     "November Lima, two six seven two, four four five nine",
		"30V VH 88 07":     "three zero Victor, Victor Hotel, eight eight, zero seven",
		"56.5°N 7.01°W":    "five six decimal five degrees north, seven decimal zero one degrees west",
		"328083 182001 ft": "three two eight zero eight three, one eight two zero zero one, feet",
		"2688888 1188888":  "two six eight eight eight eight eight, one one eight eight eight eight eight",
	} {
		if got := Spell(ref); got != want {
			t.Errorf("%s: %q, want %q", ref, got, want)
		}
	}
}

// Marks with an escape, havens and the ends of escapes are said with grid and datum, and from
// what is near. The hut of the demo stands 1,127 m along leg 5, bearing 323° on the grid.
func TestWhatIsSaid(t *testing.T) {
	t.Parallel()
	c := contentOf(t, sourceOf(t, demoPlan(t)))
	said := map[string]string{}
	for _, s := range c.Say {
		said[s.Name] = s.Line
	}
	cairn := said["Cairn"]
	if !strings.HasPrefix(cairn, "British National Grid, datum OSGB36: November Lima, two seven four two, four five zero nine; ") || !strings.Contains(cairn, " m ") {
		t.Errorf("the cairn: %q of %q", cairn, said)
	}
	if len(said) < 2 {
		t.Errorf("said %q, want havens or ends of escapes too", said)
	}
}

// A position that may be anywhere is said with its stop first, and nothing is described by one.
func TestWhatIsSaidOfALostPosition(t *testing.T) {
	t.Parallel()
	p := demoPlan(t)
	sheet := p.Sheets[0]
	sheet.Points = nil
	p = p.SetSheet(sheet).AddHaven(plan.Haven{ID: "haven-9", Name: "The ledge", Kind: plan.SignalHaven, Points: []plan.Position{p.Marks[0].Position}})
	c := contentOf(t, sourceOf(t, p))
	for _, s := range c.Say {
		if !strings.HasPrefix(s.Line, "STOP: sheet not calibrated; ") || strings.Contains(s.Line, " m ") && !strings.Contains(s.Line, "pillar") {
			t.Errorf("%s: %q", s.Name, s.Line)
		}
	}
	if len(c.Say) == 0 || !strings.Contains(c.Emergency[0], "Phone signal: The ledge") || !strings.HasSuffix(c.Emergency[0], "STOP: sheet not calibrated") {
		t.Errorf("said %v, emergency %q", c.Say, c.Emergency)
	}
}

// Length divided by speed: 100 m at 4 km/h are 1.5 minutes, 1,000 m at 5 km/h 12 (15 and 12
// minutes to the kilometre are published with these speeds).
func TestTables(t *testing.T) {
	t.Parallel()
	timing := TimingTable()
	if got := strings.Join(timing.Rows[0], " "); got != "100 3 2 1.5 1.2" {
		t.Errorf("100 m: %s", got)
	}
	if got := strings.Join(timing.Rows[9], " "); got != "1000 30 20 15 12" || len(timing.Rows) != 10 {
		t.Errorf("1,000 m: %s of %d rows", got, len(timing.Rows))
	}
	party := demoPlan(t).Party
	party.PacesUp, party.PacesDown = 80, 60
	if got := strings.Join(PaceTable(party).Rows[1], " "); got != "100 64 80 60" {
		t.Errorf("paces to 100 m: %s", got)
	}
}
