package tiff

import (
	"errors"
	"fmt"
	"image"
)

// The kinds of failure; errors of this package wrap one of them, except for
// those of the reader and of an ended context, which are passed on.
var (
	// ErrNotTIFF: the first bytes are not those of a TIFF.
	ErrNotTIFF = errors.New("not a TIFF")
	// ErrTruncated: the file ends before what it claims to hold.
	ErrTruncated = errors.New("TIFF is cut off")
	// ErrCorrupt: the content contradicts the format.
	ErrCorrupt = errors.New("TIFF is damaged")
	// ErrUnsupported: a valid variety that is not read here.
	ErrUnsupported = errors.New("this variety of TIFF is not supported")
	// ErrTooLarge: the picture or window is beyond the limits.
	ErrTooLarge = errors.New("picture is too large")
	// ErrNotPicture: the samples are heights or the like: use Samples.
	ErrNotPicture = errors.New("samples of this TIFF are not plain whole numbers")
)

// Limits on what is decoded at a time, checked before memory is taken.
const (
	// MaxSide is the longest side of a window in pixels.
	MaxSide = 65535
	// MaxPixels is the largest area of a window in pixels.
	MaxPixels = 400_000_000
	// MaxBytes is the most memory a decoded window may take.
	MaxBytes = 1_700_000_000
	// MaxSamples is the most values Samples gives at a time.
	MaxSamples = 50_000_000
)

// Damage says which parts of a window could not be decoded. It comes together
// with the picture: those parts are blank, or doubtful where a checksum alone
// is wrong.
type Damage struct {
	// Rects are the parts, in pixels of the page, within the window.
	Rects []image.Rectangle
	// Good is the share of the window that is free of damage, 0 to below 1. At
	// 0 something is shown all the same, none of which is sure.
	Good float64
	// Err is the first cause: it wraps ErrTruncated where the file ends too
	// soon, ErrCorrupt where its content is wrong, or the reader's own error.
	Err error
}

// Error says how much is sound and why not all.
func (d *Damage) Error() string {
	return fmt.Sprintf("%.1f %% of this TIFF's picture is sound, the rest is blank or in doubt: %v", 100*d.Good, d.Err)
}

// Unwrap gives the first cause.
func (d *Damage) Unwrap() error { return d.Err }

func corrupt(format string, args ...any) error {
	return fmt.Errorf("%w: %s; copy the file again from where it came", ErrCorrupt, fmt.Sprintf(format, args...))
}

func truncated(format string, args ...any) error {
	return fmt.Errorf("%w: %s; copy the file again from where it came", ErrTruncated, fmt.Sprintf(format, args...))
}

func unsupported(format string, args ...any) error {
	return fmt.Errorf("%w: %s; save it again as a plain TIFF or PNG", ErrUnsupported, fmt.Sprintf(format, args...))
}
