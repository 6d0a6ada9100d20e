package paper

import "fmt"

const (
	cardWidth, cardHeight = 70.0, 50.0 // the smallest card, mm
	cutMark               = 5.0        // length of a mark at the edge, mm
)

// slots divides a paper into equal cards, row by row, edge to edge, so that each cut
// parts two cards: 2 × 2, or twice as many along the long edge for eight.
func (s Size) slots(up int) ([]Rect, error) {
	across, down := 1, 1
	switch {
	case up == 4:
		across, down = 2, 2
	case up == 8 && s.Width > s.Height:
		across, down = 4, 2
	case up == 8:
		across, down = 2, 4
	case up != 1:
		return nil, fmt.Errorf("a page cannot be cut into %d cards: choose 1, 4 or 8", up)
	}
	w, h := s.Width/float64(across), s.Height/float64(down)
	if up > 1 && (max(w, h) < cardWidth || min(w, h) < cardHeight) {
		return nil, fmt.Errorf("%d cards on %s would be %.0f × %.0f mm each, too small to read: print fewer on a page, or use larger paper", up, s, w, h)
	}
	var out []Rect
	for i := range up {
		out = append(out, Rect{float64(i%across) * w, float64(i/across) * h, w, h})
	}
	return out, nil
}

// cutMarks draws the marks to cut a sheet into cards along: at the edges of the
// paper and where four cards meet.
func (d *Doc) cutMarks() {
	if len(d.slots) == 1 {
		return
	}
	p := &Page{doc: d, sheet: d.pdf.PageCount()}
	for _, slot := range d.slots {
		x, y := slot.X, slot.Y
		if x > 0 {
			p.Rule(Point{x, max(0, y-cutMark)}, Point{x, y + cutMark}, MinRule)
			p.Rule(Point{x, slot.Bottom() - cutMark}, Point{x, slot.Bottom()}, MinRule)
		}
		if y > 0 {
			p.Rule(Point{max(0, x-cutMark), y}, Point{x + cutMark, y}, MinRule)
			p.Rule(Point{slot.Right() - cutMark, y}, Point{slot.Right(), y}, MinRule)
		}
	}
}
