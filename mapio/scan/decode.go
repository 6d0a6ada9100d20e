package scan

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"image"
	"image/gif"
	"image/jpeg"
	"image/png"
	"io"
	"strings"

	"github.com/gen2brain/jpegn"
	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"
)

// errPanicked stands for a decoder that broke down.
var errPanicked = errors.New("the decoder broke down over it")

// decode gives the stored picture in whatever form the decoder leaves it.
func decode(ctx context.Context, h Header, f *file, t *teller, s *Scan) (image.Image, error) {
	_, rows := h.Stored()
	src := func() source { return source{ctx: ctx, t: t, r: f.section(), rows: int64(rows)} }
	img, err := decodeFormat(h, src)
	if cause := context.Cause(ctx); cause != nil {
		return nil, cause
	}
	if err != nil && h.Format == "PNG" {
		img, err = rescuePNG(ctx, f, err, s)
	}
	if err != nil {
		return nil, explain(h.Format, err)
	}
	w, ht := h.Stored()
	if b := img.Bounds(); h.Format != "GIF" && b.Size() != image.Pt(w, ht) {
		return nil, fmt.Errorf("%w: the header of this %s says %d × %d pixels, its content is %d × %d; save it again",
			ErrCorrupt, h.Format, w, ht, b.Dx(), b.Dy())
	}
	t.tell(StageDecode, int64(rows), int64(rows))
	return img, nil
}

func decodeFormat(h Header, src func() source) (image.Image, error) {
	s := src()
	buffered := func() io.Reader { return bufio.NewReaderSize(&s, 256<<10) }
	switch h.Format {
	case "JPEG":
		return decodeJPEG(h, src)
	case "PNG":
		return guarded(func() (image.Image, error) { return png.Decode(buffered()) })
	case "GIF":
		return guarded(func() (image.Image, error) { return gif.Decode(buffered()) })
	case "BMP":
		return guarded(func() (image.Image, error) { return bmp.Decode(buffered()) })
	case "WebP":
		return guarded(func() (image.Image, error) { return webp.Decode(buffered()) })
	default:
		return guarded(func() (image.Image, error) { return tiff.Decode(&sourceAt{s}) })
	}
}

// decodeJPEG tries the fast decoder first and the standard library's if that
// fails or gives another size than the header.
func decodeJPEG(h Header, src func() source) (image.Image, error) {
	w, ht := h.Stored()
	fast := src()
	img, err := guarded(func() (image.Image, error) { return jpegn.Decode(&fast) })
	if err == nil && img.Bounds() == image.Rect(0, 0, w, ht) {
		return img, nil
	}
	slow := src()
	if context.Cause(slow.ctx) != nil {
		return nil, context.Cause(slow.ctx)
	}
	return guarded(func() (image.Image, error) {
		return jpeg.Decode(bufio.NewReaderSize(&slow, 256<<10))
	})
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

// isUnsupported says that a decoder knows the variety but does not read it.
func isUnsupported(err error) bool {
	var p png.UnsupportedError
	var j jpeg.UnsupportedError
	var t tiff.UnsupportedError
	return errors.As(err, &p) || errors.As(err, &j) || errors.As(err, &t) ||
		errors.Is(err, jpegn.ErrUnsupported) || errors.Is(err, bmp.ErrUnsupported) ||
		strings.Contains(err.Error(), "not supported") || strings.Contains(err.Error(), "unsupported")
}
