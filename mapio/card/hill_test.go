package card

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/plan"
	"legwright/mapio/paper"
)

// longNames are invented: Gaelic, Welsh, Polish, Greek, Cyrillic, Latin without a blank.
var longNames = []string{
	"Bealach a’ Choire Ghrùmaich Bhig os cionn Loch na h-Òrdaige", "Bwlch y Fedwen Fawr-uwch-Pontrhydyglesyn", "Przełęcz nad Żródłem Świętej Łąki przy Gęślej Skale",
	"Διάσελο της Ασημένιας Βρύσης πάνω από το Ξερόρεμα", "Перевал над Зелёным источником у Щучьего ключа", "Oberhinterkieselsteinschluchtbrückenwegweiser",
}

// pages writes a card and returns the words of its pages in the order in which they stand there.
// LEGWRIGHT_CARDS names a folder that keeps the files.
func pages(t *testing.T, name string, pdf []byte) []string {
	t.Helper()
	dir := os.Getenv("LEGWRIGHT_CARDS")
	if dir == "" {
		dir = t.TempDir()
	}
	file := filepath.Join(dir, strings.ReplaceAll(name, " ", "-")+".pdf")
	if err := os.WriteFile(file, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed: what stands on the card is not checked")
	}
	raw, err := exec.Command("pdftotext", "-raw", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Split(strings.TrimSuffix(string(raw), "\f"), "\f")
	for i, page := range all {
		all[i] = strings.Join(strings.Fields(page), " ")
	}
	return all
}

// The shortest route on every paper, and the longest, with long names in every script, on four of
// them: nothing is cut, each page carries the stops, the date and the plan number, and every leg
// stands whole on one page, below a head that says what SET is.
func TestEveryPaper(t *testing.T) {
	t.Parallel()
	long := func(i int) string { return fmt.Sprintf("%s %d", longNames[i%len(longNames)], i) }
	short, sixty := contentOf(t, sourceOf(t, route(1, plan.Letters))), contentOf(t, sourceOf(t, route(60, long)))
	on := func(name string, c *Content, s paper.Size) {
		t.Run(fmt.Sprintf("%s %s %g", name, s.Name, s.Width), func(t *testing.T) {
			t.Parallel()
			pdf, err := c.Hill(context.Background(), Print{Size: s})
			if err != nil {
				t.Fatal(err)
			}
			holds(t, c, pages(t, filepath.Base(t.Name()), pdf))
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
			for _, want := range []string{l.Set, l.Distance, strings.TrimSuffix(l.Minutes, ", flat"), "the ground falls away"} {
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
