package dem

import (
	"errors"
	"fmt"
)

// The kinds of failure; errors of this package wrap one of them, except for those
// of the reader, of an ended context and of mapio/tiff, which are passed on.
var (
	// ErrNotTerrain: the file is none that this package reads.
	ErrNotTerrain = errors.New("this is not a terrain file that can be read")
	// ErrNoGrid: the file does not name its grid, and the caller did not either.
	ErrNoGrid = errors.New("this terrain does not name its grid: choose the grid that it was made on")
	// ErrElsewhere: the file has no ground that is wanted.
	ErrElsewhere = errors.New("this terrain is somewhere else")
	// ErrTooLarge: there are more posts on the ground that is wanted than a model may have.
	ErrTooLarge = errors.New("this terrain is too large")
	// ErrDamaged: the content contradicts itself or ends too soon.
	ErrDamaged = errors.New("this terrain file is damaged")
	// ErrUnit: the heights are not in the unit that the caller says, or in one that is not read.
	ErrUnit = errors.New("the heights of this terrain are in another unit")
)

func damaged(format string, args ...any) error {
	return fmt.Errorf("%w: %s; copy it again from the original", ErrDamaged, fmt.Sprintf(format, args...))
}

func notTerrain(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrNotTerrain, fmt.Sprintf(format, args...))
}

func wrongUnit(unit string) error {
	return fmt.Errorf("%w: the file itself says that they are in %s; open it again as %s", ErrUnit, unit, unit)
}
