package headless

import (
	"errors"
	"strconv"

	"legwright/app/geodesy"
)

const gridrefHelp = `
Rows "easting northing" in the grid's printed unit (metres, or feet on a grid of feet)
give the reference without spaces. --figures is the number of digits in easting and
northing together: 6 for a six-figure reference. Coordinates are rounded to 1 mm and
then truncated, so that the reference names the square they lie in.

With --inverse the whole row is the reference, and the answer is
easting northing square_m: the south-west corner and the side of the square, 0 for a
reference that names no square.
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
		return errors.New("give 2, 4, 6, 8 or 10 for both axes together")
	}
	*f = figuresFlag(n)
	return nil
}

func runGridref(c command, args []string, s streams) error {
	o := newOptions(c, gridrefHelp)
	var grid gridFlag
	figures := figuresFlag(10)
	o.Var(&grid, "grid", gridWords)
	o.Var(&figures, "figures", "how many `DIGITS` to write, for both axes together")
	inverse := o.Bool("inverse", false, "from references to coordinates")
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
