package tiff

import (
	"cmp"
	"compress/flate"
	"compress/zlib"
	"errors"
	"fmt"
	"image"
	"io"
	"slices"
)

// verdict gives the damage, or an error where nothing is left to show.
func (u *runner) verdict() (*Damage, error) {
	if u.cause == nil {
		return nil, nil
	}
	rects := joined(u.damage)
	var bad int64
	for _, r := range rects {
		bad += int64(r.Dx()) * int64(r.Dy())
	}
	if !u.shown {
		return nil, u.cause
	}
	all := int64(u.r.Dx()) * int64(u.r.Dy())
	return &Damage{Rects: rects, Good: float64(all-bad) / float64(all), Err: u.cause}, nil
}

// joined gives the union of rectangles as ones that do not overlap. Those
// that overlap have the same columns: chunks stand in columns, and the planes
// of a place lie over each other.
func joined(rects []image.Rectangle) []image.Rectangle {
	slices.SortFunc(rects, func(a, b image.Rectangle) int {
		return cmp.Or(cmp.Compare(a.Min.X, b.Min.X), cmp.Compare(a.Min.Y, b.Min.Y))
	})
	var out []image.Rectangle
	for _, r := range rects {
		if n := len(out); n > 0 && out[n-1].Min.X == r.Min.X && out[n-1].Max.Y >= r.Min.Y {
			out[n-1].Max.Y = max(out[n-1].Max.Y, r.Max.Y)
			continue
		}
		out = append(out, r)
	}
	return out
}

// fail notes that a job is spoilt from a row on.
func (w *worker) fail(j job, y int, err error, cut bool) {
	err = w.u.p.explain(j.chunk, err, cut)
	if !errors.Is(err, ErrCorrupt) && !errors.Is(err, ErrTruncated) && !errors.Is(err, ErrUnsupported) {
		w.u.mu.Lock()
		w.u.failed = true
		w.u.mu.Unlock()
	}
	w.u.spoilt(image.Rect(j.Min.X, y, j.Max.X, j.to), err)
}

func (p *Page) chunkName() string {
	if p.Tiled {
		return "tile"
	}
	return "strip"
}

// explain puts the error of a chunk into words. cut says that the file ends
// within it or right after. Errors of the reader are passed on.
func (p *Page) explain(c chunk, err error, cut bool) error {
	end := errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF)
	switch {
	case errors.Is(err, ErrCorrupt), errors.Is(err, ErrTruncated), errors.Is(err, ErrUnsupported):
		return err
	case end && cut:
		return truncated("it ends within %s %d", p.chunkName(), c.n)
	case end:
		return corrupt("%s %d ends too soon", p.chunkName(), c.n)
	case isDecoding(err):
		return corrupt("%s %d cannot be unpacked (%v)", p.chunkName(), c.n, err)
	}
	return fmt.Errorf("%s %d: %w", p.chunkName(), c.n, err)
}

// isDecoding tells errors of the decoders from those of the reader.
func isDecoding(err error) bool {
	var c flate.CorruptInputError
	return errors.As(err, &c) || errors.Is(err, zlib.ErrHeader) || errors.Is(err, zlib.ErrChecksum) || errors.Is(err, zlib.ErrDictionary)
}
