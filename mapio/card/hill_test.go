package card

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"legwright/app/plan"
	"legwright/app/units"
	"legwright/mapio/paper"
)

// pages are the words of the pages of a card in the order in which they stand there.
func pages(t *testing.T, pdf []byte, err error) []string {
	t.Helper()
	return strings.Split(strings.TrimSuffix(readAgain(t, "pdftotext", "-raw", printed(t, pdf, err), "-"), "\f"), "\f")
}

// The shortest route on every paper, and the longest, with long names in every script, on four of
// them: nothing is cut, each page carries the stops, the date and the plan number, and every leg
// stands whole on one page, below a head that says what SET is.
func TestEveryPaper(t *testing.T) {
	t.Parallel()
	short, sixty := contentOf(t, sourceOf(t, route(1, plan.Letters))), contentOf(t, sourceOf(t, route(60, longNames)))
	on := func(name string, c *Content, s paper.Size) {
		t.Run(fmt.Sprintf("%s %s %g", name, s.Name, s.Width), func(t *testing.T) {
			t.Parallel()
			pdf, err := c.Hill(context.Background(), Print{Size: s})
			holds(t, c, pages(t, pdf, err))
		})
	}
	for _, size := range paper.Sizes() {
		on("one leg", short, size)
		on("one leg", short, size.Landscape())
	}
	for _, size := range []paper.Size{paper.A4, paper.A5, paper.A6.Landscape(), paper.Pocket} {
		on("60 legs", sixty, size)
	}
}

// Every graduation and a housing that is set fit on A5, with the head that says what it is set
// to.
func TestEveryCircle(t *testing.T) {
	t.Parallel()
	p := route(3, plan.Letters)
	for circle, head := range map[units.Circle]string{units.WholeDegrees: "13° W", units.HalfDegrees: "12.5° W", units.Mils6400: "220 mil W", units.Gon400: "14 gon W"} {
		party := p.Party
		party.Compass.Circle, party.Compass.Set, party.Compass.SetTo = circle, true, units.Degrees(-12.5)
		c := contentOf(t, sourceOf(t, p.SetParty(party)))
		pdf, err := c.Hill(context.Background(), Print{Size: paper.A5})
		text := squeezed(plain(strings.Join(pages(t, pdf, err), " ")))
		if !strings.Contains(text, squeezed("SET ("+head+")")) {
			t.Errorf("%v: no head with %q in %s", circle, head, text)
		}
		for _, l := range c.Legs {
			if plain(l.SetNorth) != "("+head+")" || !strings.Contains(text, squeezed(l.Set)) || !strings.Contains(text, squeezed(l.Back)) {
				t.Errorf("%v: leg %d SET %s %s, back %s in %s", circle, l.N, l.Set, l.SetNorth, l.Back, text)
			}
		}
	}
}

// holds checks the pages of a card. Blanks and hyphens do not count: long words are broken.
func holds(t *testing.T, c *Content, all []string) {
	t.Helper()
	bare := func(text string) string { return strings.Join(strings.Fields(strings.ReplaceAll(text, "‐", "")), "") }
	at := 0
	for i, page := range all {
		page = bare(page)
		foot := bare(fmt.Sprintf("plan %s · not saved · page %d of %d", c.Number, i+1, len(all)))
		if strings.Contains(page, "…") || !strings.HasPrefix(page, bare(c.Stops[0])) || !strings.HasSuffix(page, foot) || !strings.Contains(page, bare(c.Date)) {
			t.Errorf("page %d: %.300s", i+1, page)
		}
		for rest, first := page, true; at < len(c.Legs); at, first = at+1, false {
			l := c.Legs[at]
			to := strings.Index(rest, bare(l.To))
			if to < 0 {
				break
			}
			if first && !strings.Contains(rest[:to], "SETmag") {
				t.Errorf("page %d: no head above leg %d", i+1, l.N)
			}
			rest = rest[to:]
			for _, want := range []string{l.Set, l.Distance, strings.TrimSuffix(l.Minutes, " if flat"), "the ground falls away"} {
				n := strings.Index(rest, bare(want))
				if n < 0 {
					t.Fatalf("page %d: leg %d goes without %q", i+1, l.N, want)
				}
				rest = rest[n:]
			}
		}
	}
	if at != len(c.Legs) {
		t.Errorf("%d legs stand on paper, want %d", at, len(c.Legs))
	}
}

// A card whose last lines would begin a page has a lower profile instead, and nothing on it is
// left out.
func TestALowerProfileSavesAPage(t *testing.T) {
	t.Parallel()
	c, o := contentOf(t, demoSource(t)), Print{Size: paper.A4}
	saved := 0
	for range 40 {
		usual, err := c.laidOut(o, profileMM)
		if err != nil {
			t.Fatal(err)
		}
		pdf, err := c.Hill(context.Background(), o)
		got := pages(t, pdf, err)
		if len(got) > usual.Pages() {
			t.Fatalf("%d lines: %d pages, %d with the usual profile", len(c.More), len(got), usual.Pages())
		}
		if len(got) < usual.Pages() {
			saved++
			if text := squeezed(plain(strings.Join(got, " "))); !strings.Contains(text, squeezed(plain(lines(c.More...)))) {
				t.Errorf("%d lines: not all of them stand on the card: %s", len(c.More), text)
			}
		}
		c.More = append(c.More, fmt.Sprintf("Caution %d is here.", len(c.More)))
	}
	if saved < 3 {
		t.Errorf("a page was saved at %d of 40 lengths, want 3 or more", saved)
	}
}

// TestHillCardHasTheProfile: over terrain the card draws the ground along the legs, and over
// none it has no empty place for it.
func TestHillCardHasTheProfile(t *testing.T) {
	t.Parallel()
	for want, s := range map[bool]Source{true: demoSource(t), false: sourceOf(t, demoPlan(t))} {
		c := contentOf(t, s)
		if has := c.route != nil; has != want {
			t.Errorf("heights are known: %v, want %v", has, want)
		}
	}
	d, err := paper.New(paper.A5, paper.Info{Cautions: []string{"DRAFT"}})
	if err != nil {
		t.Fatal(err)
	}
	f := newFlow(d)
	before := f.rest.H
	if contentOf(t, sourceOf(t, demoPlan(t))).profile(f, profileMM); f.rest.H != before {
		t.Error("a profile without heights took room")
	}
	if contentOf(t, demoSource(t)).profile(f, profileMM); before-f.rest.H < profileMM {
		t.Errorf("the profile took %.1f mm, want %g and a gap", before-f.rest.H, profileMM)
	}
}

// A rest of paces is never read as metres: it stands under a head or before its unit, on small paper and
// leg cards too.
func TestPacesHaveTheirUnit(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{"12 × 100 m + 32": "12 × 100 m + 32 paces", "34": "34 paces", "15 × 100 m": "15 × 100 m", "": ""} {
		if got := strings.ReplaceAll(paces(text, " paces"), "\u00a0", " "); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
	c := contentOf(t, demoSource(t))
	for _, size := range []paper.Size{paper.A5, paper.A6, paper.Pocket} {
		pdf, err := c.Hill(context.Background(), Print{Size: size})
		if text := squeezed(strings.Join(pages(t, pdf, err), " ")); strings.Count(text, "paces") < len(c.Legs) || !strings.Contains(text, "+36paces") {
			t.Errorf("%s: %s", size, text)
		}
	}
	pdf, err := c.LegCards(Print{Size: paper.A4, Up: 4})
	if text := squeezed(strings.Join(pages(t, pdf, err), " ")); strings.Count(text, "paces") != len(c.Legs) {
		t.Errorf("leg cards: %s", text)
	}
}

// A leg along a path says which way to turn on it. The demo's second escape leg leaves along the path to
// the south-east, and the same path leads on to the north-west.
func TestALegAlongALineSaysWhichWay(t *testing.T) {
	t.Parallel()
	c := contentOf(t, demoSource(t))
	pdf, err := c.Hill(context.Background(), Print{Size: paper.A4})
	if text := squeezed(plain(strings.Join(pages(t, pdf, err), " "))); !strings.Contains(text, squeezed("along Path over Meall Onnal, at first south-east")) {
		t.Error(text)
	}
}

// In the row of a leg that nobody may walk, the word STOP stands between its number and its figure to
// set, and why stands below, on every paper. A leg of more than 500 m says that the position is fixed on
// the way. Small paper, which has no other bearing, says once for which housing SET is.
func TestStopStandsBeforeTheFigure(t *testing.T) {
	t.Parallel()
	c := contentOf(t, sourceOf(t, route(3, plan.Letters)))
	c.Legs[1].Stopped, c.Legs[1].Stops, c.Legs[1].Why = true, []string{"crosses a crag"}, []string{"The leg crosses a crag."}
	c.Legs[2].FixAgain = false
	for _, size := range []paper.Size{paper.A4, paper.A5, paper.A6, paper.A6.Landscape(), paper.Pocket, paper.Pocket.Landscape()} {
		pdf, err := c.Hill(context.Background(), Print{Size: size})
		text := squeezed(plain(strings.Join(pages(t, pdf, err), " ")))
		l, crag, fix := c.Legs[1], "crossesacrag", "fixontheway"
		if !Small(size) {
			crag, fix = "Thelegcrossesacrag.", "fixposition"
		}
		row, rest, found := strings.Cut(text, "2STOP")
		set, why := strings.Index(rest, l.Set), strings.Index(rest, "STOP:"+crag)
		if !found || !strings.Contains(row, c.Legs[0].Set) || set < 0 || why < set || strings.Contains(row, "STOP") || strings.Count(text, fix) != 2 {
			t.Errorf("%s: %s", size, text)
		}
		if n := strings.Count(text, "SETisonlyforanunsethousing."); n != 1 && Small(size) {
			t.Errorf("%s says %d times for which housing SET is: %s", size, n, text)
		}
	}
	c.Housing = "SET is for a housing set to 2° E; if yours is unset, use the magnetic column"
	if got, want := plain(c.shortHousing()), "SET is only for a housing set to 2° E."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
