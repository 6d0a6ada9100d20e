package dial

// The measures of a flag in units of the window: the bar at its left, the
// space beside its words, and what lies between two of them.
const (
	chipBar   = 3
	chipInset = 7
	chipHigh  = 18
	chipGap   = 4
)

// chips writes the flags as small plates side by side, in as many lines as
// they need.
func (w *writer) chips(flags []string, y float32) {
	w.flow(flags, func(flag string, x, top, wide float32) {
		top += y
		w.bars = append(w.bars,
			bar{edge + x, top, wide, chipHigh, w.ink.CautionWash},
			bar{edge + x, top, chipBar, chipHigh, w.ink.Caution})
		line := top + (chipHigh+w.letters.Cap(label()))/2
		w.at(flag, label(), edge+x+chipBar+chipInset, line, w.ink.Caution)
	})
}

// chipsHigh is how high the flags stand in a width.
func (w *writer) chipsHigh(flags []string) float32 {
	var high float32
	w.flow(flags, func(_ string, _, y, _ float32) { high = y + chipHigh })
	return high
}

// flow goes through the flags: where each stands from the first, and its width.
func (w *writer) flow(flags []string, place func(flag string, x, y, wide float32)) {
	var x, y float32
	for _, f := range flags {
		wide := w.letters.Width(f, label()) + chipBar + 2*chipInset
		if x > 0 && x+wide > w.width-2*edge {
			x, y = 0, y+chipHigh+chipGap
		}
		place(f, x, y, wide)
		x += wide + chipGap
	}
}
