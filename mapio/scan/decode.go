package scan

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/gif"
	"image/jpeg"
	"image/png"
	"strings"

	"github.com/gen2brain/jpegn"
	"golang.org/x/image/bmp"
	"golang.org/x/image/webp"

	"legwright/mapio/jpg"
)

// errPanicked stands for a decoder that broke down.
var errPanicked = errors.New("the decoder failed on it")

// decode gives the stored picture in whatever form the decoder leaves it, or
// none where it was taken while it was decoded.
func (w *work) decode() (image.Image, error) {
	wd, rows := w.h.Stored()
	drive := &driveAt{ctx: w.ctx, at: w.f.at}
	img, err := w.decodeFormat(func() source { return w.source(drive) })
	if cause := context.Cause(w.ctx); cause != nil {
		return nil, cause
	}
	if drive.fault != nil { // decoders may swallow it
		return nil, readFault(drive.fault)
	}
	if err == nil && w.s.Flowed {
		return nil, nil
	}
	if isOurs(err) {
		return nil, err
	}
	if err != nil {
		return nil, explain(w.h.Format, err)
	}
	if b := img.Bounds(); b.Size() != image.Pt(wd, rows) {
		return nil, fmt.Errorf("%w: the header of this %s says %d × %d pixels, but its content has %d × %d; save it again",
			ErrCorrupt, w.h.Format, wd, rows, b.Dx(), b.Dy())
	}
	w.t.tell(StageDecode, int64(rows), int64(rows))
	return img, nil
}

func (w *work) decodeFormat(src func() source) (image.Image, error) {
	s := src()
	switch w.h.Format {
	case "JPEG":
		return w.decodeJPEG(src)
	case "PNG":
		return guarded(func() (image.Image, error) { return png.Decode(s.buffered()) })
	case "GIF":
		return guarded(func() (image.Image, error) { return gif.Decode(s.buffered()) })
	case "BMP":
		return guarded(func() (image.Image, error) { return bmp.Decode(s.buffered()) })
	case "WebP":
		return guarded(func() (image.Image, error) { return webp.Decode(s.buffered()) })
	default:
		return guarded(w.decodeTIFF)
	}
}

// guarded turns a decoder's panic into an error. None of the decoders used
// here starts goroutines of its own, where recover would not reach.
func guarded(decode func() (image.Image, error)) (img image.Image, err error) {
	defer func() {
		if v := recover(); v != nil {
			img, err = nil, fmt.Errorf("%w: %v", errPanicked, v)
		}
	}()
	return decode()
}

// isOurs says that an error is in words for people already.
func isOurs(err error) bool {
	for _, ours := range []error{ErrTruncated, ErrCorrupt, ErrUnsupported, ErrTooLarge, ErrReading} {
		if errors.Is(err, ours) {
			return true
		}
	}
	return false
}

// isUnsupported says that a decoder knows the variety but does not read it.
func isUnsupported(err error) bool {
	var p png.UnsupportedError
	var j jpeg.UnsupportedError
	return errors.As(err, &p) || errors.As(err, &j) ||
		errors.Is(err, jpegn.ErrUnsupported) || errors.Is(err, jpg.ErrUnsupported) || errors.Is(err, bmp.ErrUnsupported) ||
		strings.Contains(err.Error(), "not supported") || strings.Contains(err.Error(), "unsupported")
}
