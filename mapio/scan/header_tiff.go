package scan

import (
	"fmt"
	"io"

	"legwright/mapio/tiff"
)

// tiffHeader takes over what the first page of a TIFF or BigTIFF says.
func tiffHeader(r *io.SectionReader) (Header, error) {
	h := Header{Format: "TIFF", Orientation: 1}
	f, err := tiff.Open(r, r.Size())
	if err != nil {
		return h, tiffError(err)
	}
	p := f.Pages()[0]
	h.Width, h.Height = p.Width, p.Height
	h.Channels, h.BitDepth, h.Paletted = p.Channels, p.BitDepth, p.Paletted
	if p.Format != tiff.Unsigned {
		return h, fmt.Errorf("%w: the samples of this TIFF are not plain whole numbers (form %d): it may be a height model; "+
			"export it as an 8-bit picture", ErrUnsupported, p.Format)
	}
	h.orient(p.Orientation)
	h.DPI = cleanDPI(p.DPI)
	if h.Orientation >= 5 {
		h.DPI = cleanDPI(p.DPIDown)
	}
	return h, nil
}
