package tiff

import (
	"errors"
	"fmt"
	"io"
	"strings"
)

// wrong words the error of a chunk. cut says that the file ends within it or right
// after it. Errors of the reader keep their own words.
func (p *Page) wrong(c chunk, err error, cut bool) error {
	var drive *readError
	end := errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF)
	switch {
	case errors.Is(err, ErrCorrupt), errors.Is(err, ErrTruncated), errors.Is(err, ErrUnsupported):
		return err
	case errors.As(err, &drive):
		return fmt.Errorf("%s %d: %w", p.chunkName(), c.n, drive.error)
	case end && cut:
		return truncated("it ends within %s %d", p.chunkName(), c.n)
	case end:
		return corrupt("%s %d ends too soon", p.chunkName(), c.n)
	}
	if p.compression == compG4 && strings.Contains(err.Error(), "unsupported") {
		return unsupported("its facsimile data is uncompressed in parts")
	}
	return corrupt("%s %d cannot be unpacked (%v)", p.chunkName(), c.n, err)
}

func (p *Page) chunkName() string {
	if p.Tiled {
		return "tile"
	}
	return "strip"
}

// readError is an error of the reader, not of a decoder.
type readError struct{ error }

func (e *readError) Unwrap() error { return e.error }
