package dial

import (
	"image/color"
	"strings"

	"legwright/app/lettering"
	"legwright/app/ui/look"
)

// word is a text of the panel where it stands: its left end and the line it
// stands on, in units of the window.
type word struct {
	text    string
	style   lettering.Style
	x, line float32
	ink     color.NRGBA
}

// bar is a filled rectangle of the panel in units of the window.
type bar struct {
	x, y, w, h float32
	ink        color.NRGBA
}

// page is what is written under and beside the face.
type page struct {
	words []word
	bars  []bar
}

// The ways of setting text in the panel. The figure to set is about 9 mm high
// on a screen of 96 pixels per inch, ten minutes of arc from three metres.
func label() lettering.Style  { return lettering.Style{Size: 11} }
func text() lettering.Style   { return lettering.Style{Size: 13} }
func figure() lettering.Style { return lettering.Style{Size: 15} }
func strong() lettering.Style { return lettering.Style{Size: 15, Bold: true} }
func toSet() lettering.Style  { return lettering.Style{Size: 46, Bold: true} }

// writer sets a page out from top to bottom.
type writer struct {
	page
	letters *lettering.Setter
	ink     look.Palette
	width   float32
}

// put writes a text with its upper left corner at a place, and returns the
// line it stands on and where it ends.
func (w *writer) put(t string, s lettering.Style, x, y float32, c color.NRGBA) (line, end float32) {
	line = y + w.letters.Ascent(s)
	return line, w.at(t, s, x, line, c)
}

// at writes a text on a line and returns where it ends.
func (w *writer) at(t string, s lettering.Style, x, line float32, c color.NRGBA) (end float32) {
	if t == "" {
		return x
	}
	w.words = append(w.words, word{t, s, x, line, c})
	return x + w.letters.Width(t, s)
}

// before writes a text so that it ends at right, and returns where it begins.
func (w *writer) before(t string, s lettering.Style, right, line float32, c color.NRGBA) (begin float32) {
	x := right - w.letters.Width(t, s)
	w.at(t, s, x, line, c)
	return x
}

// write sets out a reading, or the hint of an empty dial, below y.
func (w *writer) write(d *Dial, y float32) {
	f := d.seen()
	if f.Empty {
		for i, line := range w.letters.Wrap(f.hint, text(), w.width-2*edge) {
			w.put(line, text(), edge, y+12+float32(i)*18, w.ink[look.Quiet])
		}
	}
	y = w.set(f, y)
	y = w.cells(f, d.showTrue, y)
	w.put(f.rule(), label(), edge, y, w.ink[look.Quiet])
	w.chips(f, y+ruleHigh)
}

// set writes the figure to set, and the point and the distance beside it. A figure
// that nobody may walk on has its reason above and a mark before it, and stands struck
// through in a frame; one that holds for a sight has the reason alone.
func (w *writer) set(f Figures, y float32) float32 {
	above, ink, inkSet, mark := f.SetLabel, w.ink[look.Quiet], w.ink[look.Ink], ""
	if f.Stop != "" {
		above, ink, inkSet, mark = f.Stop, w.ink[look.Fault], w.ink[look.Fault], "!\u2009"
	}
	struck := f.Stop != "" && !f.AsSight
	if !struck {
		inkSet, mark = w.ink[look.Ink], ""
	}
	w.put(w.letters.Fit(above, label(), w.width-2*edge), label(), edge, y, ink)
	y += setLabelHigh
	all, half := splitSigma(f.Set)
	set, unit, _ := strings.Cut(all, " ") // "0975 mil": the figure is large, its unit is not
	line, end := w.put(strings.TrimSpace(mark+set), toSet(), edge-1, y-4, inkSet)
	if struck {
		w.strike(edge, end, line, inkSet)
	}
	w.at(unit, figure(), end+5, line, w.ink[look.Quiet])
	end = w.at(half, label(), end+5, line-pointAbove, w.ink[look.Quiet])
	dist, sigma := splitSigma(f.Distance)
	right := w.width - edge
	x := right
	if sigma != "" {
		x = w.before(sigma, label(), right, line, w.ink[look.Quiet]) - 4
	}
	w.before(dist, figure(), x, line, w.ink[look.Ink])
	if right-w.letters.Width(f.Point, strong()) > end { // the ring shows the point too
		w.before(f.Point, strong(), right, line-pointAbove, w.ink[look.Ink])
	}
	return y + setHigh
}

// strike frames the figure to set from one end to the other and draws a line through
// it, so that who sees no colours sees that it must not be set.
func (w *writer) strike(from, to, line float32, c color.NRGBA) {
	high := w.letters.Cap(toSet())
	from, to = from-frameRoom, to+frameRoom
	top, bottom := line-high-frameRoom, line+frameRoom
	for _, y := range []float32{top, line - high/2, bottom - frameBar} {
		w.bars = append(w.bars, bar{from, y, to - from, frameBar, c})
	}
	for _, x := range []float32{from, to - frameBar} {
		w.bars = append(w.bars, bar{x, top, frameBar, bottom - top, c})
	}
}

// The frame of a figure that must not be set: the room round it, and its bars.
const (
	frameRoom = 4
	frameBar  = 2
)

// cells writes the readings below the figure to set, two to a row.
func (w *writer) cells(f Figures, showTrue bool, y float32) float32 {
	w.bars = append(w.bars, bar{edge, y, w.width - 2*edge, 1, w.ink[look.Hair]})
	y += hairHigh
	list := f.cells(showTrue)
	column := (w.width - 2*edge) / 2
	for i, c := range list {
		if f.Empty {
			break
		}
		x, top := edge+column*float32(i%2), y+cellHigh*float32(i/2)
		w.put(c.label, label(), x, top, w.ink[look.Quiet])
		fig, sigma := splitSigma(c.text)
		if fig == "" {
			fig = "–"
		}
		line, end := w.put(fig, figure(), x, top+cellLabel-1, w.ink[look.Ink])
		w.at(sigma, label(), end+5, line, w.ink[look.Quiet])
	}
	return y + cellHigh*float32((len(list)+1)/2)
}

// splitSigma parts a figure from its uncertainty: "057° ± 0.7" gives "057°" and
// "± 0.7". A figure without one gives an empty second part.
func splitSigma(text string) (figure, sigma string) {
	const plusMinus = " ± "
	figure, sigma, ok := strings.Cut(text, plusMinus)
	if ok {
		sigma = strings.TrimLeft(plusMinus, " ") + sigma
	}
	return figure, sigma
}
