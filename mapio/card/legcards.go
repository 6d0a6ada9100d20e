package card

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwright/app/caution"
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

// nameType is the type of the name of a leg.
var nameType = paper.Style{Pt: 11, Bold: true}

// onCard draws the card of a leg: its name, in two lines where there is room, the figure to set
// with what is walked by, and below them all else.
func (l Leg) onCard(d *paper.Doc, compass, gma string) error {
	p := d.AddPage()
	s, err := l.shortest(d, p.Body, compass, gma)
	if err != nil {
		return err
	}
	box, rest := p.Body.Top(s.title)
	p.Paragraph(box, nameType, l.name())
	figure, rest := rest.Top(s.figure)
	l.figure(d, p, figure, s.side)
	again := l.again()
	if s.urgent != "" { // a line is kept for the sign that more follows
		first := p
		rest.H -= lineMM
		if p, rest = p.Flow(rest, paper.Style{Pt: s.pt, Bold: true}, again, s.urgent); p == first {
			rest.H += lineMM
		}
	}
	p.Flow(rest, paper.Style{Pt: s.pt}, again, s.text)
	return nil
}

// shortest sets a card. Where that alone spares another one, its paces have no unit, or "fix position"
// stands beside the distance, as on the hill card.
func (l Leg) shortest(d *paper.Doc, box paper.Rect, compass, gma string) (setting, error) {
	beside := l
	if l.FixAgain {
		beside.Distance, beside.FixAgain = joined(", ", l.Distance, fixPosition), false
	}
	s, err := l.setting(d, box, compass, gma, " paces")
	for _, x := range []struct {
		Leg
		pace string
	}{{l, ""}, {beside, " paces"}, {beside, ""}} {
		if err == nil && !s.more {
			break
		}
		if shorter, failed := x.setting(d, box, compass, gma, x.pace); failed == nil && !shorter.more || err != nil {
			s, err = shorter, failed
		}
	}
	return s, err
}

func (l Leg) name() string { return fmt.Sprintf("%d. %s – %s", l.N, l.From, l.To) }

// setting is how a card is set.
type setting struct {
	title        float64  // height of the name of the leg, mm
	side         []string // at the right of the figure
	figure       float64  // height of the figure, mm
	pt           float64  // type of what stands below it
	urgent, text string
	more         bool // than the card holds
}

// setting sets a card into a box; pace is the unit of the paces.
func (l Leg) setting(d *paper.Doc, box paper.Rect, compass, gma, pace string) (setting, error) {
	side, err := l.side(d, box.W, pace)
	if err != nil {
		return setting{}, err
	}
	name, least := l.name(), max(figureHeight, float64(len(side))*lineMM)
	tall := d.Tall(name, nameType, box.W)
	title := min(tall, 2*nameType.Height())
	if box.H < title+least+2*lineMM {
		title = nameType.Height()
	}
	_, rest := box.Top(title)
	if rest.H < least+2*lineMM {
		return setting{}, fmt.Errorf("the card of leg %d is not tall enough for its figures: print fewer cards on a page, or on larger paper", l.N)
	}
	if tall < title+1e-6 {
		name = ""
	}
	s := l.below(d, rest, least, func(tight bool) (string, string) {
		urgent, text := l.words(compass, gma, tight)
		return urgent, joined("\n", name, text)
	})
	s.title, s.side = title, side
	return s, nil
}

// below finds the largest type in which the words fit below a figure of a third of the room. Where
// the smallest does not, the figure shrinks, to its least height, then the words become fewer, and then
// run on in one paragraph. A leg that needs more goes on on another card, with all its words.
func (l Leg) below(d *paper.Doc, room paper.Rect, least float64, words func(tight bool) (urgent, text string)) setting {
	large := max(least, room.H/3)
	for _, x := range []struct {
		pt, least  float64
		tight, run bool
	}{{11, large, false, false}, {10, large, false, false}, {paper.MinPt, least, false, false}, {paper.MinPt, least, true, false}, {paper.MinPt, least, true, true}} {
		s := setting{pt: x.pt}
		if s.urgent, s.text = words(x.tight); x.run {
			s.text = strings.NewReplacer(".\n", ". ", "\n", runOn).Replace(s.text)
		}
		high := d.Tall(s.text, paper.Style{Pt: x.pt}, room.W)
		if s.urgent != "" {
			high += d.Tall(s.urgent, paper.Style{Pt: x.pt, Bold: true}, room.W)
		}
		if s.figure = min(large, room.H-high); s.figure >= x.least {
			return s
		}
	}
	urgent, text := words(false)
	return setting{figure: large, pt: paper.MinPt, urgent: urgent, text: text, more: true}
}

// number is the figure to set without its unit, which stands beside it.
func (l Leg) number() (number, unit string) {
	if l.Set == "" {
		return "–", ""
	}
	number, unit, _ = strings.Cut(l.Set, " ")
	return number, unit
}

// side is what stands at the right of the figure, in as few lines as the width of the card allows;
// pace is the unit of the paces.
func (l Leg) side(d *paper.Doc, width float64, pace string) ([]string, error) {
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
	for _, text := range []string{joined(" ", word, unit, l.SetNorth, l.SetHalf), l.Distance, joined(", ", l.Minutes, l.Clock), paces(l.Paces, pace)} {
		line := ""
		for part := range strings.SplitSeq(text, " ") {
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

// words are what must be seen before the leg is walked, and what else a leg card says below the figure
// to set, what is needed first first. gma is that of the hill card's heading: "GMA 2° east". Tight
// words run on in fewer lines, and leave out what another figure of the card says or the hill card.
func (l Leg) words(compass, gma string, tight bool) (urgent, text string) {
	fix, catching, apart, onHill := fmt.Sprintf("Longer than %d m: fix your position on the way", MostBlindM), "Catching feature: ", "\n", "The legs of each escape are on the hill card, on A5 or larger."
	notes, mag := l.Notes[:len(l.Notes):len(l.Notes)], l.Mag
	turnBack := strings.Replace(labelled("Turn back: ", l.TurnBack), ": "+latestToLeave, " by ", 1)
	if tight {
		turnBack = strings.Replace(turnBack, ", counted back from ", ", from ", 1)
		fix, catching, apart, onHill = "Fix your position on the way", "Catching: ", runOn, "Its legs: hill card on A5."
		notes = []string{strings.Join(notes, " ")}
		if mag == l.Set+" "+l.SetNorth {
			mag = ""
		}
	}
	if !l.FixAgain {
		fix = ""
	}
	switch {
	case l.Mag == "":
		gma = ""
	case l.GMA != "" && tight:
		gma = l.GMA
	case l.GMA != "":
		gma = l.GMA + ", " + strings.TrimPrefix(gma, "GMA ") + " on the hill card"
	}
	lines := append(notes,
		joined(apart, labelled(catching, l.Catching), labelled("Tick off: ", l.TickOff)),
		joined(apart, figures(l.Grid, mag, labelled("back ", l.Back), gma), compass,
			figures(labelled("start ", unbroken(l.StartRef)), labelled("end ", unbroken(l.Ref)), labelled("at ", l.EndHeight), l.Climb, l.Descent, l.Ground, l.Light)),
		turnBack,
	)
	for _, e := range l.Escapes {
		lines = append(lines, e.onLegCard(l.TurnBack))
	}
	switch {
	case len(l.Escapes) == 1 && tight:
		lines[len(lines)-1] += ". " + onHill
	case len(l.Escapes) > 0:
		lines = append(lines, onHill)
	}
	return joined("\n", labelled("STOP: ", strings.Join(l.Stops, ", ")), fix), joined("\n", append(lines, labelled("Note: ", l.Note))...)
}

// onLegCard names an escape from the start of the leg, where the turn-back time has been said; how it
// runs stands on the hill card.
func (e Escape) onLegCard(turnBack string) string {
	name, stops, leaveBy := "Escape "+e.Name, e.Stops, e.LeaveBy
	if e.Draft {
		name += ", DRAFT,"
		stops = slices.DeleteFunc(slices.Clone(stops), func(s string) bool { return s == caution.Of(caution.EscapeDraft, "").Short() })
	}
	if strings.Contains(turnBack, leaveBy) {
		leaveBy = ""
	}
	return joined("; ", name+" to "+e.To, labelled("STOP: ", strings.Join(stops, ", ")), labelled("leave by ", leaveBy))
}

// runOn stands between two things in one line: no line begins with it.
const runOn = "\u00a0· "

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
	return joined(runOn, texts...)
}

// labelled puts a label before a text that is there.
func labelled(name, text string) string {
	if text == "" {
		return ""
	}
	return name + text
}
