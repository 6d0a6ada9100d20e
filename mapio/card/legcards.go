package card

import (
	"fmt"
	"math"
	"strings"

	"legwright/mapio/paper"
)

const (
	// setPt is the smallest type of the figure to set on a leg card, in points: it is read at
	// arm's length while walking (common practice, no source). mostSetPt is the largest.
	setPt, mostSetPt = 36.0, 64.0

	figureHeight = 15.0 // what the figure needs at its smallest, mm
	sideGap      = 1.0  // between the figure and what stands at its right, mm
)

// lineMM is the height of a line of the smallest type.
var lineMM = paper.Style{}.Height()

// LegCards is one leg a card, o.Up of them on a sheet of paper, 4 or 8, with marks to cut along,
// or 1 on paper that is a card. Each card carries the date, DRAFT, "sheet unchecked" and every stop. A
// leg with more to say than its card holds goes on on another. Errors: cards too small for the stops
// or for the figures.
func (c *Content) LegCards(o Print) ([]byte, error) {
	info := c.info(LegsForm.Title())
	info.Up = o.Up
	d, err := paper.New(o.Size, info)
	if err != nil {
		return nil, err
	}
	compass, _, _ := strings.Cut(c.Housing, ";")
	gma, _, _ := strings.Cut(c.GMA, ":")
	for _, l := range c.Legs {
		if err := l.onCard(d, compass, gma); err != nil {
			return nil, err
		}
	}
	return d.Bytes()
}

// onCard draws the card of a leg: which it is, the figure to set with what is walked by, and
// below them all else, as large as it fits.
func (l Leg) onCard(d *paper.Doc, compass, gma string) error {
	p := d.AddPage()
	name := fmt.Sprintf("%d. %s – %s", l.N, l.From, l.To)
	rest, whole, err := l.top(d, p, name)
	if err != nil {
		return err
	}
	urgent, text := l.urgent(), l.cardText(compass, gma)
	if !whole {
		text = name + "\n" + text
	}
	s := paper.Style{Pt: paper.MinPt}
	for _, pt := range []float64{11, 10} {
		if larger := (paper.Style{Pt: pt}); d.Tall(text, larger, rest.W)+d.Tall(urgent, paper.Style{Pt: pt, Bold: true}, rest.W) <= rest.H {
			s = larger
			break
		}
	}
	again := fmt.Sprintf("Leg %d, continued", l.N)
	if urgent != "" { // a line is kept for the sign that more follows
		first := p
		rest.H -= lineMM
		if p, rest = p.Flow(rest, paper.Style{Pt: s.Pt, Bold: true}, again, urgent); p == first {
			rest.H += lineMM
		}
	}
	p.Flow(rest, s, again, text)
	return nil
}

// top draws the name of the leg, in two lines where there is room, and the figure. It returns
// what is left of the card, at least two lines, and whether all of the name is there.
func (l Leg) top(d *paper.Doc, p *paper.Page, name string) (rest paper.Rect, whole bool, err error) {
	bold := paper.Style{Pt: 11, Bold: true}
	side, err := l.side(d, p.Body.W)
	if err != nil {
		return rest, false, err
	}
	need := max(figureHeight, float64(len(side))*lineMM)
	title := min(d.Tall(name, bold, p.Body.W), 2*bold.Height())
	if p.Body.H < title+need+2*lineMM {
		title = bold.Height()
	}
	box, rest := p.Body.Top(title)
	_, whole = p.Paragraph(box, bold, name)
	figure, rest := rest.Top(max(need, rest.H/3))
	if rest.H < 2*lineMM {
		return rest, false, fmt.Errorf("the card of leg %d is too low for its figures: print fewer cards on a page, or on larger paper", l.N)
	}
	l.figure(d, p, figure, side)
	return rest, whole, nil
}

// number is the figure to set without its unit, which stands beside it.
func (l Leg) number() (number, unit string) {
	if l.Set == "" {
		return "–", ""
	}
	number, unit, _ = strings.Cut(l.Set, " ")
	return number, unit
}

// side is what stands at the right of the figure, in as few lines as the width of the card allows.
func (l Leg) side(d *paper.Doc, width float64) ([]string, error) {
	number, unit := l.number()
	room := width - d.Width(number, paper.Style{Pt: setPt, Bold: true}) - sideGap
	word := "SET"
	switch {
	case l.Stopped:
		word = "STOP"
	case l.Set == "":
		word = "no bearing"
	}
	var lines []string
	for _, text := range []string{joined(" ", word, unit, l.SetNorth, l.SetHalf), l.Distance, joined(", ", l.Minutes, l.Clock), l.Paces} {
		line := ""
		for _, part := range strings.Fields(text) {
			longer := joined(" ", line, part)
			if line != "" && d.Width(longer, paper.Style{Bold: true}) > room {
				lines, longer = append(lines, line), part
			}
			if line = longer; d.Width(line, paper.Style{Bold: true}) > room {
				return nil, fmt.Errorf("leg %d needs a card %.0f mm wider for its figures: print fewer cards on a page, or on larger paper",
					l.N, math.Ceil(d.Width(line, paper.Style{Bold: true})-room))
			}
		}
		lines = append(lines, line)
	}
	return lines, nil
}

// figure draws the figure to set as large as there is room, and lines at its right.
func (l Leg) figure(d *paper.Doc, p *paper.Page, r paper.Rect, side []string) {
	number, _ := l.number()
	big, small, wide := paper.Style{Pt: setPt, Bold: true}, paper.Style{Pt: 12, Bold: true}, 0.0
	for _, text := range side {
		wide = max(wide, d.Width(text, small))
	}
	least := d.Width(number, big)
	left, right := r.Left(r.W - min(wide, r.W-least-sideGap))
	left.W -= sideGap
	big.Pt = max(setPt, min(setPt*left.W/least, setPt*r.H/big.Height(), mostSetPt)*(1-1e-6))
	p.Line(left, big, paper.Centre, number)
	for i, text := range side {
		var line paper.Rect
		line, right = right.Top(right.H / float64(len(side)-i))
		p.Line(line, small, paper.Left, text)
	}
}

// urgent is what must be seen before the leg is walked.
func (l Leg) urgent() string {
	stops := labelled("STOP: ", strings.Join(l.Stops, ", "))
	if !l.FixAgain {
		return stops
	}
	return joined("\n", stops, fmt.Sprintf("Longer than %d m: fix your position on the way", MostBlindM))
}

// cardText is what a leg card says below the figure to set, what is needed first first. gma is
// that of the hill card's heading: "GMA 2° east".
func (l Leg) cardText(compass, gma string) string {
	switch {
	case l.Mag == "":
		gma = ""
	case l.GMA != "":
		gma = l.GMA + ", " + strings.TrimPrefix(gma, "GMA ") + " on the hill card"
	}
	lines := append(l.Notes[:len(l.Notes):len(l.Notes)],
		labelled("Catching feature: ", l.Catching), labelled("Tick off: ", l.TickOff),
		figures(l.Grid, l.Mag, labelled("back ", l.Back), gma), compass,
		figures(labelled("start ", l.StartRef), labelled("end ", l.Ref), l.EndHeight, l.Climb, l.Descent, l.Ground, l.Light),
		labelled("Turn back: ", l.TurnBack),
	)
	for _, e := range l.Escapes {
		lines = append(lines, e.onLegCard())
	}
	if len(l.Escapes) > 0 {
		lines = append(lines, "The legs of each escape are on the hill card, on A5 or larger.")
	}
	return joined("\n", append(lines, labelled("Note: ", l.Note))...)
}

// onLegCard names an escape from the start of the leg; how it runs stands on the hill card.
func (e Escape) onLegCard() string {
	name := "Escape " + e.Name
	if e.Draft {
		name += ", DRAFT,"
	}
	return joined("; ", name+" to "+e.To, labelled("STOP: ", strings.Join(e.Stops, ", ")), labelled("leave by ", e.LeaveBy))
}

// joined joins the texts that are there.
func joined(by string, texts ...string) string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return strings.Join(out, by)
}

// figures joins the figures that are there, each kept in one line.
func figures(texts ...string) string {
	for i := range texts {
		texts[i] = unbroken(texts[i])
	}
	return joined(" · ", texts...)
}

// labelled puts a label before a text that is there.
func labelled(name, text string) string {
	if text == "" {
		return ""
	}
	return name + text
}
