package scan

import (
	"errors"
	"fmt"
	"io"
	"strings"
)

// The kinds of failure; the errors of this package wrap one of them, except
// for those of the file system and of an ended context, which are passed on.
var (
	// ErrNotPicture: the content is of no picture format known here.
	ErrNotPicture = errors.New("this is not a picture that the program can read")
	// ErrTooLarge: the header names a size beyond the limits.
	ErrTooLarge = errors.New("the picture is too large")
	// ErrTruncated: the file ends before the picture does.
	ErrTruncated = errors.New("the picture file is cut off")
	// ErrCorrupt: the content contradicts its format.
	ErrCorrupt = errors.New("the picture file is damaged")
	// ErrUnsupported: a valid variant of a format that is not read here.
	ErrUnsupported = errors.New("this variety of the format is not supported")
	// ErrReading: the drive or file system failed while the file was read;
	// the error wraps what it said.
	ErrReading = errors.New("the file could not be read to the end")
	// ErrNoPage: the document has fewer pages.
	ErrNoPage = errors.New("there is no such page")
	// ErrLink: the picture that a KML file names is not there, or not where it
	// is looked for.
	ErrLink = errors.New("the picture that the file names cannot be opened")
	// ErrChanged: the file changed while it was read.
	ErrChanged = errors.New("the file changed while it was being read")
)

// among makes a reader's error count as one of this package: pairs map the reader's
// errors to ours, and the first match wins. Other errors are returned as they are.
func among(err error, pairs ...[2]error) error {
	for _, p := range pairs {
		if errors.Is(err, p[0]) {
			return &foreign{p[1], err}
		}
	}
	return err
}

// foreign is a reader's error that counts as one of this package.
type foreign struct{ ours, err error }

// Error gives the reader's own words: they name the format and the cause.
func (f *foreign) Error() string { return f.err.Error() }

// Unwrap gives both.
func (f *foreign) Unwrap() []error { return []error{f.ours, f.err} }

// Limits on a picture. They are checked from the header, before anything of
// the size of the picture is allocated.
const (
	// MaxSide is the longest side in pixels.
	MaxSide = 65535
	// MaxPixels is the largest area in pixels: 400 megapixels.
	MaxPixels = 400_000_000
	// MaxBytes is the most memory the decoded picture may take.
	MaxBytes = 1_700_000_000
)

// checkLimits checks a header against the limits.
func checkLimits(h Header) error {
	if h.Width <= 0 || h.Height <= 0 {
		return fmt.Errorf("%w: the header gives its size as %d × %d pixels; both must be at least 1",
			ErrCorrupt, h.Width, h.Height)
	}
	if h.Width > MaxSide || h.Height > MaxSide {
		return fmt.Errorf("%w: %d × %d pixels, but at most %d on a side can be read; cut it into pieces or save it smaller",
			ErrTooLarge, h.Width, h.Height, MaxSide)
	}
	n := int64(h.Width) * int64(h.Height)
	if n > MaxPixels {
		return fmt.Errorf("%w: %d × %d is %d megapixels, but at most %d can be read; cut it into pieces or save it smaller",
			ErrTooLarge, h.Width, h.Height, n/1_000_000, MaxPixels/1_000_000)
	}
	if b := n * int64(h.bytesPerPixel()); b > MaxBytes {
		return fmt.Errorf("%w: %d × %d at %d bytes per pixel needs %d MB, but at most %d can be used; save it with 8 bits per channel or smaller",
			ErrTooLarge, h.Width, h.Height, h.bytesPerPixel(), b/1_000_000, MaxBytes/1_000_000)
	}
	return nil
}

// checkClaims refuses a picture of which the file cannot hold more than a trace:
// a few bytes that claim a giant are an attack on the memory. What is merely
// cut off passes. A block of 64 pixels of a JPEG takes a bit at least, and
// deflate gives 1032 bytes for one (RFC 1951). TIFF has its own check.
func checkClaims(h Header, size int64) error {
	const (
		small = 20_000_000 // pixels
		trace = 50         // the part that must be there
	)
	n := int64(h.Width) * int64(h.Height)
	var perByte int64
	switch h.Format {
	case "JPEG":
		perByte = 8 * 64
	case "PNG":
		perByte = 8 * 1032 / int64(max(1, h.Channels*h.BitDepth))
	}
	if perByte == 0 || n <= small || n/perByte/trace <= size {
		return nil
	}
	return fmt.Errorf("%w: the header says %d × %d pixels, but the file has only %d bytes; copy it again from the original",
		ErrTruncated, h.Width, h.Height, size)
}

// explain puts a decoder's error into words for people.
func explain(format string, err error) error {
	short := strings.Contains(err.Error(), "not enough") // GIF and TIFF data
	if short || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		return fmt.Errorf("%w: copy this %s again from the original", ErrTruncated, format)
	}
	if isUnsupported(err) {
		return fmt.Errorf("%w: save this %s again as PNG or plain JPEG (%w)", ErrUnsupported, format, err)
	}
	return fmt.Errorf("%w: copy this %s again from the original (%w)", ErrCorrupt, format, err)
}
