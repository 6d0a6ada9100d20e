package paper

const (
	checkStrip = 6.0   // what the upright check line takes at the left, mm
	checkLong  = 100.0 // mm
	checkShort = 50.0  // where 100 mm would come nearer to an edge than checkEdge
	checkEdge  = 2.5
	checkTick  = 3.0
)

// checkLength is the length of a check line along an edge: 100 mm, but on paper narrower
// than 105 mm, such as Pocket, 50 mm.
func checkLength(edge float64) float64 {
	if edge-checkLong >= 2*checkEdge-1e-9 {
		return checkLong
	}
	return checkShort
}

// checkLines draws lines of known length along both edges and says what they are for. They
// may reach into the margin, and a printer that cannot reach there cuts an end tick
// off, which shows.
func (p *Page) checkLines() {
	down, across := checkLength(p.paper.H), checkLength(p.paper.W)
	x := p.Body.X - checkStrip + checkTick/2
	top := p.paper.Y + (p.paper.H-down)/2
	p.measure(Point{x, top}, Point{x, top + down})
	p.Label(Point{x + 2.6, p.paper.Centre().Y}, -90, Style{}, true, checkName(down))

	words := "Print at 100 %: measure " + checkName(across) + " across, " + checkName(down) + " up"
	strip, body := p.Body.Foot(checkTick + 1 + p.doc.Tall(words, Style{}, p.Body.W))
	_, p.Body = body.Foot(bandGap)
	left := max(p.paper.X+(p.paper.W-across)/2, min(strip.X, p.paper.Right()-across-checkEdge))
	p.measure(Point{left, strip.Y + checkTick/2}, Point{left + across, strip.Y + checkTick/2})
	_, below := strip.Top(checkTick + 1)
	p.Paragraph(below, Style{}, words)
}

func checkName(mm float64) string {
	if mm == checkLong {
		return "100\u00a0mm"
	}
	return "50\u00a0mm"
}

// measure draws a line with a tick across each end. The length is that between the
// middles of the ticks.
func (p *Page) measure(a, b Point) {
	p.Rule(a, b, MinRule)
	for _, end := range []Point{a, b} {
		if a.X == b.X {
			p.Rule(Point{end.X - checkTick/2, end.Y}, Point{end.X + checkTick/2, end.Y}, MinRule)
		} else {
			p.Rule(Point{end.X, end.Y - checkTick/2}, Point{end.X, end.Y + checkTick/2}, MinRule)
		}
	}
}
