package headless

import (
	"fmt"
	"strconv"

	"legwright/app/caution"
	"legwright/app/geodesy"
)

// position is a reference read as a position: the centre of its square.
type position struct {
	text   string
	grid   geodesy.Grid
	sigmaM float64 // per axis
	ref    geodesy.Ref
}

// readPosition reads a reference on a grid; those of other grids are refused.
// near supplies letters that are missing; it may be nil.
func readPosition(text string, system *geodesy.System, near *geodesy.Grid) (position, error) {
	ref, err := geodesy.ParseRef(text, geodesy.RefContext{System: system, Near: near})
	if err != nil {
		return position{}, err
	}
	p := position{text: text, ref: ref}
	p.grid, p.sigmaM = ref.Centre()
	return p, nil
}

// words says where a position was read to be.
func (p position) words(system *geodesy.System) string {
	text := fmt.Sprintf("%s: %.1f E, %.1f N on %s", p.text, p.grid.E, p.grid.N, system)
	if ref, err := system.FormatRef(p.grid, 10); err == nil && system.Unit().Name != "metre" {
		return fmt.Sprintf("%s: %s on %s", p.text, ref, system)
	}
	if p.ref.SquareM > 0 {
		text += fmt.Sprintf(" (centre of a square of %g m)", p.ref.SquareM)
	}
	return text
}

// supplied returns the caution that goes with letters that were not typed.
func (p position) supplied() (c caution.Caution, ok bool) {
	if p.ref.LettersGiven {
		return c, false
	}
	return lettersTaken(p.text, p.ref), true
}

// lettersTaken says how a reference without letters was read.
func lettersTaken(text string, ref geodesy.Ref) caution.Caution {
	full, err := ref.System.FormatRef(ref.Grid, geodesy.FiguresOf(ref.SquareM))
	if err != nil {
		full = fmt.Sprintf("%.0f %.0f", ref.Grid.E, ref.Grid.N)
	}
	return caution.Of(caution.LettersTaken, strconv.Quote(text), full)
}
