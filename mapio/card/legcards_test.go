package card

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/mapio/paper"
)

// printed is a document in a folder of the test.
func printed(t testing.TB, pdf []byte, err error) string {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "card.pdf")
	if err := os.WriteFile(path, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// readAgain runs a reader of PDFs and returns what it writes.
func readAgain(t testing.TB, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("%s is not installed: the PDF is not read again", name)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v: %s", name, err, out)
	}
	return string(out)
}

// plain writes a text in one line with plain spaces.
func plain(text string) string {
	return strings.NewReplacer("\u00a0", " ", "\n", " ").Replace(text)
}

// squeezed is a text without spaces and the hyphens of broken words: how it breaks is not looked at.
func squeezed(text string) string {
	return strings.NewReplacer(" ", "", "\u00a0", "", "‐", "").Replace(text)
}

// longNames are names in five scripts, the longest longer than a card is wide.
func longNames(i int) string {
	names := []string{
		"Bealach na Sgàirne", "Tŷ’r Ŵyddfa Llanfair-y-bryniau-hir-dros-y-mynydd-uchel", "Zażółć Gęślą Jaźń",
		"Ἅγιος Ὄρος", "Їжакова Ґрунь", "Llanfairbrynmawruwchlawyrafonddu",
	}
	return fmt.Sprintf("%s %d", names[i%len(names)], i)
}

// cardsOf are the texts of the cards as they are read, each from its stops on.
func cardsOf(t *testing.T, path string, c *Content) []string {
	t.Helper()
	text := plain(readAgain(t, "pdftotext", "-raw", path, "-"))
	cards := strings.Split(text, strings.Join(c.Stops, " · "))[1:]
	if n := strings.Count(text, " · "+c.Date+" · plan "+c.Number); n != len(cards) {
		t.Errorf("%d cards carry the stops and %d the date", len(cards), n)
	}
	return cards
}

// TestLegCardsCarryEverything: on each card of the demo and of a long route stand date, DRAFT,
// "sheet unchecked" and every stop, and the leg's figures in the order in which they are used.
func TestLegCardsCarryEverything(t *testing.T) {
	t.Parallel()
	demo, long := contentOf(t, demoSource(t)), contentOf(t, sourceOf(t, route(12, longNames)))
	long.Stops = append(long.Stops, "STOP legs 2, 7: crosses a crag", "DRAFT: E03-1")
	long.Legs[1].Stopped, long.Legs[1].Stops = true, []string{"crosses a crag"}
	long.Legs[2].Escapes = []Escape{{Name: "E03-1", To: "Hut", Draft: true, LeaveBy: "14:27"}}
	for _, c := range []*Content{demo, long} {
		for _, up := range []int{4, 8} {
			pdf, err := c.LegCards(Print{Size: paper.A4, Up: up})
			path := printed(t, pdf, err)
			readAgain(t, "qpdf", "--check", path)
			cards := cardsOf(t, path, c)
			if n := strings.Count(plain(readAgain(t, "pdftotext", "-raw", path, "-")), " · card "); n != len(cards) || n < len(c.Legs) {
				t.Errorf("%s, %d up: %d of %d cards carry the stops %q", c.Title, up, len(cards), n, c.Stops)
			}
			for _, l := range c.Legs {
				onItsCard(t, cards, l)
			}
		}
	}
}

// onItsCard looks for the figures of a leg on one card.
func onItsCard(t *testing.T, cards []string, l Leg) {
	t.Helper()
	number, _ := l.number()
	i := slices.IndexFunc(cards, func(c string) bool { return strings.Contains(c, fmt.Sprintf(" %d. %.10s", l.N, l.From)) })
	if i < 0 {
		t.Fatalf("leg %d has no card", l.N)
	}
	card, at := squeezed(cards[i]), 0
	word := map[bool]string{false: "SET", true: "STOP"}[l.Stopped]
	for _, want := range []string{number, word + l.SetNorth, l.Distance, l.Minutes, l.Paces} {
		n := strings.Index(card[at:], squeezed(want))
		if n < 0 {
			t.Errorf("leg %d: %q does not follow on %q", l.N, want, card)
			return
		}
		at += n
	}
	rest := card + squeezed(strings.Join(cards[i+1:min(i+3, len(cards))], " "))
	for _, want := range besides(l) {
		if !strings.Contains(rest, squeezed(want)) {
			t.Errorf("leg %d: %q stands neither on its card nor on the next: %q", l.N, want, rest)
		}
	}
}

// besides is what a leg's card says below the figure.
func besides(l Leg) []string {
	out := append([]string{l.To, l.Ref, l.Grid, l.Back, l.Catching, l.TickOff}, append(l.Notes[:len(l.Notes):len(l.Notes)], l.Stops...)...)
	if l.Mag != l.Set+" "+l.SetNorth { // else the figure to set says it
		out = append(out, l.Mag)
	}
	for _, e := range l.Escapes {
		draft := ""
		if e.Draft {
			draft = ", DRAFT,"
		}
		out = append(out, "Escape "+e.Name+draft)
	}
	return out
}

// word is a word on paper with its box, in points.
type word struct {
	XMin float64 `xml:"xMin,attr"`
	YMin float64 `xml:"yMin,attr"`
	XMax float64 `xml:"xMax,attr"`
	YMax float64 `xml:"yMax,attr"`
	Text string  `xml:",chardata"`
}

// wordsOf are the words of all pages.
func wordsOf(t *testing.T, path string) []word {
	t.Helper()
	var doc struct {
		Words []word `xml:"body>doc>page>word"`
	}
	dec := xml.NewDecoder(strings.NewReader(readAgain(t, "pdftotext", "-bbox", path, "-")))
	dec.Strict, dec.Entity = false, xml.HTMLEntity
	if err := dec.Decode(&doc); err != nil {
		t.Fatal(err)
	}
	return doc.Words
}

// TestSetIsLarge measures the figure to set: 36 points or more on the smallest cards too, in degrees
// and in mils; and no word stands across a cut.
func TestSetIsLarge(t *testing.T) {
	t.Parallel()
	c := contentOf(t, demoSource(t))
	c.Legs[1].Set, c.Legs[1].SetHalf = "0994 mil", "± 36 mil"
	c.Legs[1].Paces = "99 × 100 m + 99"
	for _, k := range []struct {
		size             paper.Size
		up, across, down int
	}{{paper.A4, 8, 2, 4}, {paper.A4.Landscape(), 8, 4, 2}, {paper.Letter, 8, 2, 4}, {paper.A5, 4, 2, 2}, {paper.A6, 1, 1, 1}, {paper.Pocket, 1, 1, 1}} {
		pdf, err := c.LegCards(Print{Size: k.size, Up: k.up})
		words := wordsOf(t, printed(t, pdf, err))
		foot := words[slices.IndexFunc(words, func(w word) bool { return w.Text == "plan" })]
		for _, want := range []string{c.Legs[0].Set, "0994"} {
			pt := 0.0
			for _, w := range words {
				if w.Text == want {
					pt = max(pt, paper.MinPt*(w.YMax-w.YMin)/(foot.YMax-foot.YMin))
				}
			}
			if pt < setPt-0.01 {
				t.Errorf("%v, %d up: %q stands in %.2f pt, want %g", k.size, k.up, want, pt, setPt)
			}
		}
		wide, high := k.size.Width*72/25.4/float64(k.across), k.size.Height*72/25.4/float64(k.down)
		for _, w := range words {
			if int(w.XMin/wide) != int(w.XMax/wide) || int(w.YMin/high) != int(w.YMax/high) {
				t.Errorf("%v, %d up: %q stands across a cut", k.size, k.up, w.Text)
			}
		}
	}
}

// TestALegOverTwoCardsSaysSo: where a leg goes on on another card, the card with its figure ends in
// a sign, however little room the stops leave; or else the cards are refused.
func TestALegOverTwoCardsSaysSo(t *testing.T) {
	t.Parallel()
	c := contentOf(t, sourceOf(t, route(6, longNames)))
	c.Legs[0].Set, c.Legs[1].Stops = "", []string{"crosses a crag", "outside the checked part of the sheet"}
	split, refused := 0, 0
	for n := range 12 {
		c.Stops = []string{"DRAFT: E03-1" + strings.Repeat(", E05-2, E07-1", 3*n)}
		pdf, err := c.LegCards(Print{Size: paper.A4, Up: 8})
		if err != nil {
			refused++
			continue
		}
		cards := cardsOf(t, printed(t, pdf, nil), c)
		for i, card := range cards[1:] {
			if strings.Contains(card, ", continued") {
				split++
				before, _, _ := strings.Cut(cards[i], " "+c.Title+" · ") // the feet stand behind the last card of a sheet
				if before = strings.TrimSpace(before); !strings.HasSuffix(before, "…") {
					t.Errorf("%d stops: a card without a sign goes on: %q", n, before)
				}
			}
		}
	}
	if split == 0 || refused == 0 {
		t.Errorf("%d legs went on on another card, %d plans were refused: the test tries one side only", split, refused)
	}
}

// TestLegCardsOfManyLegs: sixty legs with long names are the same bytes twice, and stops that
// leave no room are an error that says what to do.
func TestLegCardsOfManyLegs(t *testing.T) {
	t.Parallel()
	c := contentOf(t, sourceOf(t, route(60, longNames)))
	one, err := c.LegCards(Print{Size: paper.Letter, Up: 8})
	cards := cardsOf(t, printed(t, one, err), c)
	for _, l := range c.Legs {
		if !slices.ContainsFunc(cards, func(s string) bool { return strings.Contains(s, fmt.Sprintf(" %d. %.10s", l.N, l.From)) }) {
			t.Errorf("leg %d has no card", l.N)
		}
	}
	if two, err := c.LegCards(Print{Size: paper.Letter, Up: 8}); err != nil || !bytes.Equal(one, two) {
		t.Errorf("the same plan gave other cards, %v", err)
	}
	c.Stops = append(c.Stops, strings.Repeat("STOP leg 2: crosses a crag ", 20))
	if _, err := c.LegCards(Print{Size: paper.Letter, Up: 8}); err == nil || !strings.Contains(err.Error(), "print fewer cards on a page") {
		t.Errorf("cards without room for the stops gave %v", err)
	}
	c.Legs[0].Set = ""
	c.Stops = c.Stops[:1]
	if _, err := c.LegCards(Print{Size: paper.A6, Up: 4}); err == nil || !strings.Contains(err.Error(), "larger paper") {
		t.Errorf("cards of 52 mm gave %v", err)
	}
}

// A card of 74 × 105 mm holds all the words of a leg of the demo, that at which an escape begins too:
// a smaller figure and fewer words make room for it. No line of a leg card begins between two figures.
func TestALegFitsOnASmallCard(t *testing.T) {
	t.Parallel()
	c := contentOf(t, demoSource(t))
	pdf, err := c.LegCards(Print{Size: paper.Pocket, Up: 1})
	cards := cardsOf(t, printed(t, pdf, err), c)
	for _, l := range c.Legs {
		onItsCard(t, cards, l)
	}
	if len(cards) != len(c.Legs) || len(c.Legs[3].Escapes) != 1 {
		t.Errorf("%d cards of %d legs, %d escapes from leg 4", len(cards), len(c.Legs), len(c.Legs[3].Escapes))
	}
	pdf, err = c.LegCards(Print{Size: paper.Pocket.Landscape(), Up: 1})
	cards = cardsOf(t, printed(t, pdf, err), c)
	onItsCard(t, cards, c.Legs[4])
	if !slices.ContainsFunc(cards, func(s string) bool { return strings.Contains(plain(s), "1127 m ± 4, fix position") }) {
		t.Errorf("no card of a long leg says beside its distance to fix the position: %q", cards)
	}
	for _, o := range []Print{{Size: paper.Pocket.Landscape(), Up: 1}, {Size: paper.A4, Up: 4}} {
		pdf, err := c.LegCards(o)
		if text := readAgain(t, "pdftotext", "-layout", printed(t, pdf, err), "-"); strings.Contains(text, "\n·") || strings.Contains(text, "\n ·") {
			t.Errorf("%v: a line begins with a dot: %s", o, text)
		}
	}
	if _, tight := c.Legs[2].words("SET is for an unset housing", "GMA 3° east", true); strings.Contains(tight, "hill card") || !strings.Contains(plain(tight), "GMA 2° east here · SET is for an unset housing · end") {
		t.Errorf("tight words of leg 3: %q", tight)
	}
}

// A leg card names the housing that SET is for; what speaks of the heading stands on the hill card.
func TestLegCardNamesTheHousing(t *testing.T) {
	t.Parallel()
	c := contentOf(t, sourceOf(t, demoPlan(t)))
	pdf, err := c.LegCards(Print{Size: paper.A4, Up: 4})
	text := plain(strings.Join(pages(t, pdf, err), " "))
	if n := strings.Count(text, "SET is for an unset housing "); n != len(c.Legs) || strings.Contains(text, "above") {
		t.Errorf("%d of %d cards name the housing: %s", n, len(c.Legs), text)
	}
}

// A leg card says by which GMA its bearings close, and where the legs of its escapes stand.
func TestLegCardStandsAlone(t *testing.T) {
	t.Parallel()
	const heading, hill = "GMA 2° east", "The legs of each escape are on the hill card, on A5 or larger."
	for name, c := range map[string]struct {
		leg       Leg
		want, not string
	}{
		"as the heading":   {Leg{Mag: "056° mag"}, heading, "hill card"},
		"its own":          {Leg{Mag: "055° mag", GMA: "GMA 3° east here"}, "GMA 3° east here, 2° east on the hill card", hill},
		"no magnetic":      {Leg{}, "", "GMA"},
		"with two escapes": {Leg{Escapes: []Escape{{Name: "E01-1"}, {Name: "E01-2"}}}, hill, hill + " " + hill},
	} {
		_, text := c.leg.words("", heading, false)
		if got := plain(text); !strings.Contains(got, c.want) || strings.Contains(got, c.not) {
			t.Errorf("%s: %q, want %q and not %q", name, got, c.want, c.not)
		}
	}
}
