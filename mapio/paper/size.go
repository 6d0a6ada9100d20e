package paper

import (
	"fmt"
	"strings"
)

// Size is a size of paper in millimetres.
type Size struct {
	Name          string
	Width, Height float64
}

// The papers, upright. A4 to A6 are those of ISO 216, Letter is 8.5 × 11 inches
// (ANSI/ASME Y14.1, size A); Pocket is A7 of ISO 216, which slips behind a map case's window.
var (
	A4     = Size{"A4", 210, 297}
	Letter = Size{"Letter", 215.9, 279.4}
	A5     = Size{"A5", 148, 210}
	A6     = Size{"A6", 105, 148}
	Pocket = Size{"pocket", 74, 105}
)

// Sizes lists all papers, upright, the largest first.
func Sizes() []Size { return []Size{A4, Letter, A5, A6, Pocket} }

// SizeOf returns the paper of a name in any case.
func SizeOf(name string) (Size, error) {
	var names []string
	for _, s := range Sizes() {
		if strings.EqualFold(s.Name, name) {
			return s, nil
		}
		names = append(names, strings.ToLower(s.Name))
	}
	return Size{}, fmt.Errorf("no paper is called %q: choose one of %s", name, strings.Join(names, ", "))
}

// Landscape returns the paper turned on its side.
func (s Size) Landscape() Size {
	return Size{s.Name, max(s.Width, s.Height), min(s.Width, s.Height)}
}

// String gives name and measures, "A6 105 × 148 mm".
func (s Size) String() string { return fmt.Sprintf("%s %g × %g mm", s.Name, s.Width, s.Height) }

// margin is the white edge that a page of the size keeps: what usual printers leave
// unprinted is 3 to 6 mm (common practice, no source).
func (s Size) margin() float64 {
	switch short := min(s.Width, s.Height); {
	case short > 150:
		return 10
	case short > 110:
		return 8
	case short > 80:
		return 6
	}
	return 5
}
