package housing

import (
	"strconv"

	"legwright/app/units"
)

// scale says how a circle is graduated: how many fine graduations make a turn,
// how many of them lie between middle ones and between figures, and what one
// of them adds to the figure.
type scale struct {
	fine   int
	middle int
	figure int
	value  int // of the figure's step, as written
}

// scaleOf returns the graduation of a circle: 2° with a figure each 20°; 50
// mils with a figure each 400, written in hundreds as is common practice (no
// source); 2 gon with a figure each 20 gon.
func scaleOf(c units.Circle) scale {
	switch c {
	case units.Mils6400:
		return scale{fine: 128, middle: 2, figure: 8, value: 4}
	case units.Gon400:
		return scale{fine: 200, middle: 5, figure: 10, value: 20}
	default:
		return scale{fine: 180, middle: 5, figure: 10, value: 20}
	}
}

// text returns the figure at graduation i, a multiple of figure.
func (s scale) text(i int) string { return strconv.Itoa(i / s.figure * s.value) }
