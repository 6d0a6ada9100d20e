package tiff

import (
	"errors"
	"fmt"
)

// The kinds of failure; errors of this package wrap one of them, except for
// those of the reader and of an ended context, which are passed on.
var (
	// ErrNotTIFF: the first bytes are not those of a TIFF.
	ErrNotTIFF = errors.New("this is not a TIFF")
	// ErrTruncated: the file ends before what it claims to hold.
	ErrTruncated = errors.New("the TIFF is cut off")
	// ErrCorrupt: the content contradicts the format.
	ErrCorrupt = errors.New("the TIFF is damaged")
	// ErrUnsupported: a valid variety that is not read here.
	ErrUnsupported = errors.New("this variety of TIFF is not supported")
	// ErrTooLarge: the picture or window is beyond the limits.
	ErrTooLarge = errors.New("the picture is too large")
	// ErrNotPicture: the samples are heights or the like: use Samples.
	ErrNotPicture = errors.New("the samples of this TIFF are not plain whole numbers")
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

func corrupt(format string, args ...any) error {
	return fmt.Errorf("%w: %s; copy the file again from the original", ErrCorrupt, fmt.Sprintf(format, args...))
}

func truncated(format string, args ...any) error {
	return fmt.Errorf("%w: %s; copy the file again from the original", ErrTruncated, fmt.Sprintf(format, args...))
}

func unsupported(format string, args ...any) error {
	return fmt.Errorf("%w: %s; save it again as a plain TIFF or PNG", ErrUnsupported, fmt.Sprintf(format, args...))
}
