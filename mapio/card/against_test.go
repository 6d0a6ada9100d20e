package card

import (
	"context"
	"slices"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/mapio/paper"
)

// Every stop, what speaks against the whole plan and the planning aid stand on the first page of a
// hill card, before the legs; what speaks against single legs stands in their rows or behind them,
// and nothing that speaks against the plan is missing.
func TestWhereCautionsStand(t *testing.T) {
	t.Parallel()
	s := demoSource(t)
	c := contentOf(t, s)
	pdf, err := c.Hill(context.Background(), Print{Size: paper.A4})
	all := pages(t, pdf, err)
	before, _, found := strings.Cut(squeezed(plain(all[0])), squeezed("from – to"))
	if len(c.Cautions) < 4 || !found {
		t.Fatalf("cautions %q, page %s", c.Cautions, all[0])
	}
	for _, line := range c.Cautions {
		if !strings.Contains(before, squeezed(line)) {
			t.Errorf("%q does not stand before the legs: %s", line, all[0])
		}
	}
	rest := squeezed(plain(strings.Join(all, " ")))
	for _, line := range c.More {
		if !strings.Contains(rest, squeezed(line)) {
			t.Errorf("%q stands nowhere", line)
		}
	}
	listed := strings.Join(slices.Concat(c.Cautions, c.More), "\n")
	var against []caution.Caution
	for _, row := range s.Reader.Legs() {
		against = append(against, row.Cautions()...)
	}
	for _, e := range escape.Of(s.Reader).Escapes {
		against = append(against, e.Cautions...)
	}
	short := 0
	for _, x := range against {
		if _, inRow := groundNotes[x.Code]; inRow {
			short++
		} else if !strings.Contains(listed, x.Text()) {
			t.Errorf("%q is not on the card", x.Text())
		}
	}
	if short == 0 || len(c.More) == 0 {
		t.Errorf("%d cautions stand in rows, %d behind the legs: the test has no case for it", short, len(c.More))
	}
}

// A head stands on the page of what it heads.
func TestHeadStaysWithItsText(t *testing.T) {
	t.Parallel()
	c := contentOf(t, sourceOf(t, demoPlan(t)))
	for mm := 12.0; mm < 24; mm++ {
		d, err := paper.New(paper.A6, paper.Info{Cautions: []string{"DRAFT"}})
		if err != nil {
			t.Fatal(err)
		}
		f := newFlow(d)
		_, f.rest = f.rest.Top(f.rest.H - mm)
		c.section(f, "Cautions", "one", "two", "three", "four", "five", "six")
		pdf, err := d.Bytes()
		all := pages(t, pdf, err)
		for _, page := range all {
			if strings.Contains(page, "Cautions\n") && !strings.Contains(page, "Cautions\none") {
				t.Errorf("with %g mm left the head stands alone: %q", mm, all)
			}
		}
	}
}

// Without a word leg cards are cut four from a page, and small paper is one.
func TestCardsOnAPage(t *testing.T) {
	t.Parallel()
	for size, want := range map[paper.Size]int{paper.A4: 4, paper.A5.Landscape(): 4, paper.A6: 1, paper.Pocket.Landscape(): 1} {
		if got := (Order{Size: size}).up(); got != want {
			t.Errorf("%s: %d cards, want %d", size, got, want)
		}
		if got := (Order{Size: size, Up: 8}).up(); got != 8 {
			t.Errorf("%s: %d cards, want 8", size, got)
		}
	}
}
