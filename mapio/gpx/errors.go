package gpx

import (
	"errors"
	"fmt"
)

// Limits on what is read.
const (
	MaxBytes  = 64 << 20 // size of the file
	MaxPoints = 250_000  // points of all kinds together
	maxDepth  = 64       // nesting of elements
)

// The kinds of failure. Errors of this package wrap one of them.
var (
	// ErrNotGPX: the content is not GPX at all.
	ErrNotGPX = errors.New("this is not a GPX file")
	// ErrCutOff: the file ends in the middle.
	ErrCutOff = errors.New("the GPX file is cut off: copy it again from the original")
	// ErrTooLarge: more than the limits allow.
	ErrTooLarge = errors.New("the GPX file is too large")
	// ErrUnsafe: a document type or entities, which GPX does not need.
	ErrUnsafe = errors.New("the GPX file declares a document type or entities, which can hide anything: it was not opened. Export it again from the program that made it")
	// ErrEncoding: the text is in another encoding than the one named.
	ErrEncoding = errors.New("the text of the GPX file is not in the encoding that it names: save it again as UTF-8")
	// ErrBroken: the XML contradicts itself.
	ErrBroken = errors.New("the GPX file is damaged (export it again from the program that made it)")
)

// BadPoint is returned for a point whose latitude or longitude does not exist. N counts from 1
// over all points of the file, or of the document that is written.
type BadPoint struct {
	N        int
	Lat, Lon string
}

func (e *BadPoint) Error() string {
	return fmt.Sprintf("point %d has latitude %q and longitude %q: they must be from −90 to 90 and from −180 to 180",
		e.N, e.Lat, e.Lon)
}
