package paper

import (
	"encoding/xml"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// word is a word with its box as pdftotext -bbox finds it, in points.
type word struct {
	XMin float64 `xml:"xMin,attr"`
	YMin float64 `xml:"yMin,attr"`
	XMax float64 `xml:"xMax,attr"`
	YMax float64 `xml:"yMax,attr"`
	Text string  `xml:",chardata"`
}

// wordsOf are the words of each page, without those of the bands of testInfo.
func wordsOf(t *testing.T, path string) [][]word {
	t.Helper()
	var doc struct {
		Pages []struct {
			Words []word `xml:"word"`
		} `xml:"body>doc>page"`
	}
	dec := xml.NewDecoder(strings.NewReader(run(t, "pdftotext", "-bbox", path, "-")))
	dec.Strict = false
	dec.Entity = xml.HTMLEntity
	if err := dec.Decode(&doc); err != nil {
		t.Fatal(err)
	}
	var out [][]word
	for _, p := range doc.Pages {
		if len(p.Words) < 5 || !strings.HasPrefix(p.Words[0].Text, "DRAFT") {
			t.Fatalf("a page of %d words does not begin with its cautions", len(p.Words))
		}
		foot := slices.IndexFunc(p.Words, func(w word) bool { return w.Text == "Plan" })
		out = append(out, p.Words[3:foot])
	}
	return out
}

// outside is how far a word stands out of a box, in millimetres.
func (w word) outside(r Rect) float64 {
	return max(r.X-w.XMin*mmPerPt, w.XMax*mmPerPt-r.Right(), r.Y-w.YMin*mmPerPt, w.YMax*mmPerPt-r.Bottom())
}

// names are random long names in the scripts that the face has.
func names() *rapid.Generator[string] {
	syllables := []string{
		"Bea", "lach", "Sgàir", "ne", "Ŵy", "ddfa", "Llan", "fair", "Zażół", "gęś", "Ἀθῆ", "ναι", "Слю", "дян", "Їж", "ак",
		"O", "W", "i", "057°", "-", " ", " ", " ", "/", "אב", "日本", "\U0001f3d4", "e\u0301", "\n", "(", "½",
	}
	return rapid.Map(rapid.SliceOfN(rapid.SampledFrom(syllables), 1, 60), func(s []string) string { return strings.Join(s, "") })
}

// randomBoxes sets a random name in a random box on each of 80 pages, and says of each
// whether all of it is there.
func randomBoxes(d *Doc) (boxes []Rect, wholes []bool) {
	for i := range 80 {
		name := names().Example(i)
		p := d.AddPage()
		r := Rect{10 + rapid.Float64Range(0, 40).Example(i), 30, rapid.Float64Range(45, 80).Example(i), rapid.Float64Range(6, 60).Example(i)}
		s := Style{Pt: rapid.Float64Range(9, 13).Example(i), Bold: i%3 == 0}
		var whole bool
		if i%2 == 0 {
			whole = p.Line(r, s, Align(i%3), "x"+name)
		} else {
			_, whole = p.Paragraph(r, s, "x"+name)
		}
		boxes, wholes = append(boxes, r), append(wholes, whole)
	}
	return boxes, wholes
}

// TestNothingStandsOutOfItsBox: random names in random boxes, as printed, and whoever
// asked knows whether all of it is there.
func TestNothingStandsOutOfItsBox(t *testing.T) {
	t.Parallel()
	d := begun(t, A5, testInfo())
	boxes, wholes := randomBoxes(d)
	cut := 0
	for i, words := range wordsOf(t, written(t, d)) {
		var all strings.Builder
		for _, w := range words {
			all.WriteString(w.Text)
			if o := w.outside(boxes[i]); o > 0.05 {
				t.Errorf("page %d: %q stands %.2f mm out of its box", i+1, w.Text, o)
			}
		}
		if strings.HasSuffix(all.String(), "…") == wholes[i] {
			t.Errorf("page %d: whole is %v of %q", i+1, wholes[i], all.String())
		}
		if !wholes[i] {
			cut++
		}
	}
	if cut == 0 || cut == len(boxes) {
		t.Errorf("%d of %d names were cut: the test tries one side only", cut, len(boxes))
	}
}

// TestLettersAreReadAgain: each script comes back as it was written, the rest as code points.
func TestLettersAreReadAgain(t *testing.T) {
	t.Parallel()
	texts := [][2]string{
		{"Bealach na Sgàirne", "Bealach na Sgàirne"},
		{"Ŵyddfa, Tŷ Gwyn", "Ŵyddfa, Tŷ Gwyn"},
		{"Zażółć gęślą jaźń", "Zażółć gęślą jaźń"},
		{"Ἀθῆναι, Ὄλυμπος", "Ἀθῆναι, Ὄλυμπος"},
		{"Слюдянка, Їжак, Ґанок", "Слюдянка, Їжак, Ґанок"},
		{"057° ± 2° – 1 200 m ½ ×", "057° ± 2° – 1 200 m ½ ×"},
		{"e\u0301tang", "étang"},
		{"hut \U0001f3d4 אב 日", "hut [1F3D4] [05D0][05D1] [65E5]"},
	}
	d := begun(t, A6, testInfo())
	for _, x := range texts {
		p := d.AddPage()
		p.Line(p.Body, Style{}, Left, x[0])
	}
	pages := strings.Split(run(t, "pdftotext", "-raw", written(t, d), "-"), "\f")
	if len(pages) != len(texts)+1 {
		t.Fatalf("%d pages are read again of %d", len(pages)-1, len(texts))
	}
	for i, x := range texts {
		if !strings.Contains(pages[i], "\n"+x[1]+"\n") {
			t.Errorf("%q is read again as %q", x[0], pages[i])
		}
	}
}

// TestALineShrinksNoSmallerThanItMust: half too wide, it fills its box at a smaller size.
func TestALineShrinksNoSmallerThanItMust(t *testing.T) {
	t.Parallel()
	d := begun(t, A5, testInfo())
	p := d.AddPage()
	const text = "Bealachnasgairne"
	w := d.Width(text, Style{Pt: 20})
	if whole := p.Line(Rect{20, 40, w / 1.5, 20}, Style{Pt: 20}, Left, text); !whole {
		t.Error("a line that fits at 13 pt was cut")
	}
	words := wordsOf(t, written(t, d))[0]
	if got := (words[0].XMax - words[0].XMin) * mmPerPt; math.Abs(got-w/1.5) > 0.1 {
		t.Errorf("the line is %.2f mm wide in a box of %.2f mm", got, w/1.5)
	}
}

// TestAFigureKeepsItsUnit: no line ends between a figure and its unit, however narrow the box,
// unless it holds too little for both.
func TestAFigureKeepsItsUnit(t *testing.T) {
	t.Parallel()
	d := begun(t, A5, testInfo())
	const text = "Over-steep, first 370 m into the leg, then 12 min and 1.2 km on a mud path; residual 0.4 m, 12 px"
	least := d.Width("Over‐steep", Style{})
	for w := least; w < 5*least; w += 0.5 {
		lines := d.wrap(text, Style{}, w)
		for i, line := range lines[:len(lines)-1] {
			unit, _, _ := strings.Cut(strings.TrimRight(lines[i+1], ",;"), " ")
			if strings.ContainsAny(line[len(line)-1:], "0123456789") && slices.Contains([]string{"m", "m,", "min", "km", "px"}, unit) {
				t.Errorf("in %.1f mm: %q, then %q", w, line, lines[i+1])
			}
		}
		if all := strings.Join(lines, " "); strings.ReplaceAll(all, "Over- steep", "Over-steep") != text {
			t.Errorf("in %.1f mm: %q", w, all)
		}
	}
	if lines := d.wrap("123456789 m", Style{}, d.Width("123456789", Style{})); len(lines) != 2 || d.err != nil {
		t.Errorf("in a box as wide as the figure: %q, %v", lines, d.err)
	}
}

// TestAnyTextIsSet: whatever somebody pastes into a name, the paper is made.
func TestAnyTextIsSet(t *testing.T) {
	t.Parallel()
	d := begun(t, A5, testInfo())
	for i := range 150 {
		p := d.AddPage()
		text := rapid.String().Example(i) + "\xff\x00\uffff\u00ad\u202e"
		p.Line(p.Body, Style{}, Left, text)
		p.Paragraph(p.Body, Style{}, text)
	}
	run(t, "qpdf", "--check", written(t, d))
}

// TestFlowBreaksBetweenParagraphs: a text goes on over pages, none of it lost, with a sign where it
// breaks off, and no paragraph is torn that fits on a page.
func TestFlowBreaksBetweenParagraphs(t *testing.T) {
	t.Parallel()
	d := begun(t, Pocket, testInfo())
	p := d.AddPage()
	var pars []string
	for i := range 30 {
		pars = append(pars, fmt.Sprintf("from%d the burn rises to the north and the path leaves it at the fold to%d", i, i))
	}
	last, room := p.Flow(p.Body, Style{}, "Leg 2, continued", strings.Join(pars, "\n"))
	if last == p || room.Y <= last.Body.Y {
		t.Error("thirty paragraphs stand on one pocket page")
	}
	pages := wordsOf(t, written(t, d))
	var all []string
	for i, words := range pages {
		var texts []string
		for _, w := range words {
			texts = append(texts, w.Text)
		}
		text := strings.TrimPrefix(strings.Join(texts, " "), "Leg 2, continued ")
		text, broken := strings.CutSuffix(text, " …")
		if broken != (i < len(pages)-1) || !strings.HasPrefix(text, "from") || !strings.HasPrefix(text[strings.LastIndex(text, " ")+1:], "to") {
			t.Errorf("page %d of %d says %q", i+1, len(pages), text)
		}
		all = append(all, text)
	}
	if got, want := strings.Join(all, " "), strings.Join(pars, " "); got != want {
		t.Errorf("the pages say %q, want %q", got, want)
	}
}
