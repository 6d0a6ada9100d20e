package scan

import (
	"fmt"
	"io"

	"legwright/mapio/tiff"
)

// pageOfTIFF opens a TIFF at a page counted from 1, 0 meaning the first, and
// says how many it has. Reduced copies and masks are not pages.
func pageOfTIFF(at io.ReaderAt, size int64, number int) (p *tiff.Page, pages int, err error) {
	f, err := tiff.Open(at, size)
	if err != nil {
		return nil, 0, tiffError(err)
	}
	all := f.Pages()
	if err := checkPageNumber(number, len(all)); err != nil {
		return nil, len(all), err
	}
	return all[max(1, number)-1], len(all), nil
}

// checkPageNumber refuses a page that a file does not have.
func checkPageNumber(number, pages int) error {
	switch {
	case number < 0 || number > pages && pages > 1:
		return fmt.Errorf("%w: page %d of %d; choose a page from 1 to %d", ErrNoPage, number, pages, pages)
	case number > pages:
		return fmt.Errorf("%w: page %d; the file is a single picture", ErrNoPage, number)
	}
	return nil
}

// tiffHeader takes over what a page of a TIFF or BigTIFF says.
func tiffHeader(r *io.SectionReader, page int) (Header, error) {
	h := Header{Format: "TIFF", Orientation: 1}
	p, pages, err := pageOfTIFF(r, r.Size(), page)
	if err != nil {
		return h, err
	}
	if pages > 1 {
		h.Page, h.Pages = max(1, page), pages
	}
	h.Width, h.Height = p.Width, p.Height
	h.Channels, h.BitDepth, h.Paletted = p.Channels, p.BitDepth, p.Paletted
	if p.Format != tiff.Unsigned {
		return h, fmt.Errorf("%w: the samples of this TIFF are not plain whole numbers (form %d): it may be terrain; "+
			asTerrain+", or export it as an 8-bit picture", ErrUnsupported, p.Format)
	}
	h.orient(p.Orientation)
	h.DPI = cleanDPI(p.DPI)
	if h.Orientation >= 5 {
		h.DPI = cleanDPI(p.DPIDown)
	}
	return h, nil
}
