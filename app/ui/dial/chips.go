package dial

import (
	"slices"

	"legwright/app/ui/look"
)

// The measures of a caution in units of the window: the bar at its left, the
// space beside its words, and what lies between two of them.
const (
	chipBar   = 3
	chipInset = 7
	chipHigh  = 18
	chipGap   = 4
)

// chips writes the stops and notes as small plates side by side, in as many lines as
// they need.
func (w *writer) chips(f Figures, y float32) {
	w.flow(f, func(words string, stop bool, x, top, wide float32) {
		top += y
		ink, wash := w.ink[look.Caution], w.ink[look.CautionWash]
		if stop {
			ink, wash = w.ink[look.Fault], w.ink[look.FaultWash]
		}
		w.bars = append(w.bars,
			bar{edge + x, top, wide, chipHigh, wash},
			bar{edge + x, top, chipBar, chipHigh, ink})
		line := top + (chipHigh+w.letters.Cap(label()))/2
		w.at(words, label(), edge+x+chipBar+chipInset, line, ink)
	})
}

// chipsHigh is how high the cautions stand in a width.
func (w *writer) chipsHigh(f Figures) float32 {
	var high float32
	w.flow(f, func(_ string, _ bool, _, y, _ float32) { high = y + chipHigh })
	return high
}

// flow goes through the cautions, the stops first: where each stands from the first,
// and its width.
func (w *writer) flow(f Figures, place func(words string, stop bool, x, y, wide float32)) {
	var x, y float32
	for i, words := range slices.Concat(f.Stops, f.Notes) {
		wide := w.letters.Width(words, label()) + chipBar + 2*chipInset
		if x > 0 && x+wide > w.width-2*edge {
			x, y = 0, y+chipHigh+chipGap
		}
		place(words, i < len(f.Stops), x, y, wide)
		x += wide + chipGap
	}
}
