package card

import (
	"context"
	"slices"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/mapio/paper"
)

// What the ground of a leg asks for stands in its row: on the demo over-steep and convex ground, and
// the slip that leads to the crags above leg 5.
func TestNotesStandInTheirRow(t *testing.T) {
	t.Parallel()
	s := demoSource(t)
	c := contentOf(t, s)
	want := []string{"A mistake (read off the wrong end) leads to Coire Skarrach crags.", "Convex, from the start of the leg: you will not see the drop.", "Over-steep, from 20 m into the leg: 39°."}
	if got := slices.Sorted(slices.Values(c.Legs[4].Notes)); !slices.Equal(got, want) {
		t.Errorf("leg 5: %q, want %q", got, want)
	}
	if e := c.Legs[3].Escapes[0].Legs[1]; len(e.Notes) != 2 || e.Notes[0] != "Over-steep, from 150 m into the leg: 29°." {
		t.Errorf("the escape along the path: %q", e.Notes)
	}
	for i, row := range s.Reader.Legs() {
		n := 0
		for _, x := range row.Cautions() {
			if _, of := groundNotes[x.Code]; of {
				n++
			}
		}
		if len(c.Legs[i].Notes) != n {
			t.Errorf("leg %d has %d notes, want %d: %q", i+1, len(c.Legs[i].Notes), n, c.Legs[i].Notes)
		}
	}
	pdf, err := c.Hill(context.Background(), Print{Size: paper.A5})
	text := squeezed(plain(strings.Join(pages(t, pdf, err), " ")))
	for i, l := range c.Legs {
		_, row, found := strings.Cut(text, squeezed(l.From+" – "+l.To))
		if i+1 < len(c.Legs) {
			next := c.Legs[i+1]
			row, _, _ = strings.Cut(row, squeezed(next.From+" – "+next.To))
		}
		for _, note := range l.Notes {
			if !found || !strings.Contains(row, squeezed(note)) {
				t.Errorf("leg %d: %q does not stand in its row: %s", l.N, note, row)
			}
		}
	}
}

// A note whose values are not known says what it is about.
func TestNoteWithoutValues(t *testing.T) {
	t.Parallel()
	if got := notesOf([]caution.Caution{{Code: caution.SlipMeets}, {Code: caution.Unchecked}}, leg.Met{}); !slices.Equal(got, []string{"a mistake leads to danger."}) {
		t.Errorf("%q", got)
	}
}

// A bridge stands in the row of the leg that crosses by it.
func TestBridgeStandsInItsRow(t *testing.T) {
	t.Parallel()
	p := demoPlan(t)
	from, to := p.Resolve(p.Legs[0].From), p.Resolve(p.Legs[0].To)
	middle := geodesy.Grid{E: (from.Grid.E + to.Grid.E) / 2, N: (from.Grid.N + to.Grid.N) / 2}
	across := []plan.Position{plan.ImportedAt(from.Code, geodesy.Grid{E: middle.E - 50, N: middle.N + 80}, 0), plan.ImportedAt(from.Code, geodesy.Grid{E: middle.E + 50, N: middle.N - 80}, 0)}
	p = p.AddHazard(plan.Hazard{ID: "burn", Name: "Skelvig burn", Kind: plan.Water, Crosses: plan.Bridge, Points: across, KeepM: 20})
	c := contentOf(t, sourceOf(t, p))
	if want := "Bridge over Skelvig burn, 178 m from the start."; !slices.Contains(c.Legs[0].Notes, want) {
		t.Errorf("leg 1 does not say %q: %q", want, c.Legs[0].Notes)
	}
}
