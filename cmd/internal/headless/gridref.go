package headless

import (
	"errors"
	"strconv"

	"legwright/app/geodesy"
)

const gridrefHelp = `
Reads rows "easting northing" in the grid's printed unit (metres, or feet on a grid of
feet) and writes a reference without spaces for each. --figures is the number of digits in
easting and northing together: 6 for a six-figure reference. Coordinates are rounded to 1 mm
and then cut off, so that the reference names the square that they are in.

With --inverse each whole row is a reference, and the answer is easting northing square_m:
the south-west corner of the square and its side, or 0 if the reference names no square.
`

func gridrefCommand() command {
	return command{
		name:  "gridref",
		usage: "--grid GRID [--figures 2|4|6|8|10] [--inverse] < ROWS",
		about: "turn coordinates into grid references, or back",
		run:   runGridref,
	}
}

// figuresFlag is the number of figures of a reference.
type figuresFlag int

func (f *figuresFlag) String() string { return strconv.Itoa(int(*f)) }

func (f *figuresFlag) Set(text string) error {
	n, err := strconv.Atoi(text)
	if err != nil || n < 2 || n > 10 || n%2 != 0 {
		return errors.New("give 2, 4, 6, 8 or 10, the digits of easting and northing together")
	}
	*f = figuresFlag(n)
	return nil
}

func runGridref(c command, args []string, s streams) error {
	o := newOptions(c, gridrefHelp)
	var grid gridFlag
	figures := figuresFlag(10)
	o.Var(&grid, "grid", gridWords)
	o.Var(&figures, "figures", "how many `DIGITS` to write, easting and northing together")
	inverse := o.Bool("inverse", false, "turn references into coordinates")
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	system, err := grid.need()
	if err != nil {
		return err
	}
	if *inverse && o.set("figures") {
		return usagef("--figures does not go with --inverse")
	}
	if *inverse {
		return runBatch(s, func() rowFunc { return refReader(system) })
	}
	return runBatch(s, func() rowFunc { return refWriter(system, int(figures)) })
}

func refWriter(system *geodesy.System, figures int) rowFunc {
	return func(dst, line []byte) ([]byte, error) {
		var v [2]float64
		if _, err := numbers(v[:], 2, line, "easting northing"); err != nil {
			return nil, err
		}
		ref, err := system.FormatRefCompact(system.FromUnits(v[0], v[1]), figures)
		if err != nil {
			return nil, err
		}
		return append(dst, ref...), nil
	}
}

func refReader(system *geodesy.System) rowFunc {
	return func(dst, line []byte) ([]byte, error) {
		ref, err := geodesy.ParseRef(string(line), geodesy.RefContext{System: system})
		if err != nil {
			return nil, err
		}
		e, n := system.InUnits(ref.Grid)
		return appendRow(dst, e, n, ref.SquareM), nil
	}
}
