package projector

import (
	"legwright/app/lettering"
	"legwright/app/ui/look"
)

// setter sets the board out for a window's height.
type setter struct {
	page
	letters *lettering.Setter
	high    float32 // of the window
	x, wide float32 // of the column of text
	y       float32
}

// columnShare is the width of the text beside a face, as a part of the window's height.
const columnShare = 0.62

// setOut lays out the texts and the face on a board of a size: the face between the words and the
// figures or, where it becomes larger that way, beside both. Where there is no room for
// everything, what matters least is left out.
func setOut(t told, letters *lettering.Setter, wide, high float32) page {
	edge := high * edgeShare
	column := high*columnShare - 2*edge
	stacked := newSetter(letters, high, edge, wide-2*edge)
	above, beneath := stacked.fitting(t, high-2*edge-t.leastPicture(high))
	side := min(wide-2*edge, high-2*edge-stacked.height(above)-stacked.height(beneath)-2*edge)
	if beside := min(high-2*edge, wide-column-3*edge); beside > max(side, faceShare*high) {
		return besides(t, letters, high, edge, beside, wide)
	}
	stacked.y = edge
	stacked.write(above)
	if side >= faceShare*high {
		stacked.faceX, stacked.faceY, stacked.side = (wide-side)/2, stacked.y+edge/2, side
		stacked.y += side + edge
	}
	stacked.write(beneath)
	return stacked.page
}

// leastPicture is the room that is kept for the picture, whatever is left out for it.
func (t told) leastPicture(high float32) float32 {
	if t.compass == nil {
		return 0
	}
	return plateShare * high
}

// besides sets out the face at the left and everything written at its right.
func besides(t told, letters *lettering.Setter, high, edge, side, wide float32) page {
	s := newSetter(letters, high, 2*edge+side, wide-side-3*edge)
	above, beneath := s.fitting(t, high-2*edge)
	s.faceX, s.faceY, s.side = edge, (high-side)/2, side
	s.y = max(edge, (high-s.height(above)-s.height(beneath))/2)
	s.write(above)
	s.write(beneath)
	return s.page
}

func newSetter(letters *lettering.Setter, high, x, wide float32) *setter {
	return &setter{letters: letters, high: high, x: x, wide: wide}
}

// fitting returns the parts that have room in a height.
func (s *setter) fitting(t told, room float32) (above, beneath []part) {
	above, beneath = t.above, t.beneath
	for rank := mostRank; rank > 0 && s.height(above)+s.height(beneath) > room; rank-- {
		above, beneath = without(above, rank), without(beneath, rank)
	}
	return above, beneath
}

func without(list []part, rank int) []part {
	var out []part
	for _, p := range list {
		if p.rank != rank {
			out = append(out, p)
		}
	}
	return out
}

// style is how a part is set: its capitals have its share of the window's height.
func (s *setter) style(share float64, bold bool) lettering.Style {
	one := s.letters.Cap(lettering.Style{Size: 1, Bold: bold})
	return lettering.Style{Size: s.high * float32(share) / one, Bold: bold}
}

// The room of a line as parts of its capitals' height.
const (
	leading  = 1.5  // from one line to the next
	between  = 0.55 // more between two parts
	plateRim = 0.35 // of a plate around its text
)

// lines breaks a part into lines.
func (s *setter) lines(p part) []string {
	if p.set {
		return []string{p.text}
	}
	wide := s.wide
	if p.plate != look.Paper {
		wide -= 2 * plateRim * s.cap(p)
	}
	return wrap(s.letters, p.text, s.style(p.high(), p.bold), wide)
}

// cap is the height of a part's capitals.
func (s *setter) cap(p part) float32 { return s.high * float32(p.high()) }

// height is that of parts one under another.
func (s *setter) height(list []part) (sum float32) {
	for _, p := range list {
		sum += s.partHigh(p)
	}
	return sum
}

func (s *setter) partHigh(p part) float32 {
	c := s.cap(p)
	high := c*leading*float32(len(s.lines(p))-1) + c + between*c
	if p.plate != look.Paper {
		high += 2 * plateRim * c
	}
	if p.set {
		high = c * 1.5
		if p.half != "" && !s.halfBeside(p) {
			high += s.high * figureShare * leading
		}
	}
	return high
}

// write writes parts from y on.
func (s *setter) write(list []part) {
	for _, p := range list {
		if p.set {
			s.writeSet(p)
			continue
		}
		s.writePart(p)
	}
}

func (s *setter) writePart(p part) {
	c, x, y := s.cap(p), s.x, s.y
	lines, style := s.lines(p), s.style(p.high(), p.bold)
	if p.plate != look.Paper {
		rim := plateRim * c
		s.bars = append(s.bars, bar{s.x, y, s.wide, s.partHigh(p) - between*c, p.plate}, bar{s.x, y, rim / 2, s.partHigh(p) - between*c, p.ink})
		x, y = x+rim, y+rim
	}
	for i, line := range lines {
		s.words = append(s.words, s.written(line, style, x, y+c+leading*c*float32(i), c, p.ink))
	}
	s.y += s.partHigh(p)
}

// written is a text at a place.
func (s *setter) written(text string, style lettering.Style, x, line, high float32, ink look.Role) Written {
	return Written{Text: text, X: x, Line: line, High: high, Wide: s.letters.Width(text, style), style: style, ink: ink}
}

// halfBeside reports whether the ± of the figure to set has room beside it.
func (s *setter) halfBeside(p part) bool {
	return s.setWide(p)+s.letters.Width(p.half, s.style(figureShare, false)) <= s.wide
}

// setWide is the width of the figure to set with the gap behind it.
func (s *setter) setWide(p part) float32 {
	return s.letters.Width(p.text, s.style(setShare, true)) + 0.5*s.high*figureShare
}

// writeSet writes the figure to set and its ±. One that nobody may walk on stands in a frame
// and struck through, for those who see no colours.
func (s *setter) writeSet(p part) {
	c := s.cap(p)
	line := s.y + 1.2*c
	style := s.style(setShare, true)
	set := s.written(p.text, style, s.x, line, c, p.ink)
	set.Set, set.Struck = true, p.struck
	s.words = append(s.words, set)
	if p.struck {
		s.strike(s.letters.Width(p.text, style), line, c)
	}
	if p.half != "" {
		x, at := s.x+s.setWide(p), line
		if !s.halfBeside(p) {
			x, at = s.x, line+s.high*figureShare*leading
		}
		s.words = append(s.words, s.written(p.half, s.style(figureShare, false), x, at, s.high*figureShare, look.Quiet))
	}
	s.y += s.partHigh(p)
}

// strike frames the figure to set and draws a line through it.
func (s *setter) strike(wide, line, high float32) {
	rim, thick := high/10, high/18
	left, top, right, bottom := s.x-rim, line-high-rim, s.x+wide+rim, line+rim
	for _, y := range []float32{top, line - high/2, bottom - thick} {
		s.bars = append(s.bars, bar{left, y, right - left, thick, look.Fault})
	}
	for _, x := range []float32{left, right - thick} {
		s.bars = append(s.bars, bar{x, top, thick, bottom - top, look.Fault})
	}
}
