package scan

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"math"
	"strconv"
	"strings"

	"legwright/app/calib"
)

// Header is what can be known of a picture before it is decoded.
type Header struct {
	// Format is "PNG", "JPEG", "TIFF", "WebP", "BMP", "GIF" or "PDF", by
	// content.
	Format string
	// Width and Height are the size in pixels as shown, after orientation.
	Width, Height int
	// Orientation is the EXIF or TIFF value, 1 (as stored) to 8.
	Orientation int
	// DPI is the resolution in pixels per inch as shown along the columns,
	// 0 if unknown.
	DPI float64
	// Medium is the first guess of how the picture came about: a photograph by a
	// camera's EXIF figures, drawn by a program where a page of a PDF is not made
	// of pictures, else a scan.
	Medium calib.Medium
	// Focal is the focal length of a photograph's camera in diagonals of the
	// picture, 0 where the file does not say.
	Focal float64
	// Channels is the number of stored samples per pixel (1 for palettes) and
	// BitDepth the bits of each; 0 if the header does not tell.
	Channels, BitDepth int
	// Paletted says that pixels are indices into a list of colours.
	Paletted bool
	// Progressive says that a JPEG is stored in several passes, or a PNG
	// interlaced.
	Progressive bool
	// Page is the page that is shown, counted from 1, and Pages how many the
	// file has; both 0 for formats that hold a single picture, and for a TIFF
	// of one page.
	Page, Pages int
	// PageDPI is the resolution at which a page was drawn, in pixels per inch; 0
	// for stored pictures.
	PageDPI float64
	// PositionM is the standard deviation per axis, in metres, that the picture
	// states for positions on it, as a rectified map does (see PositionKey), or 0.
	PositionM float64
	// Cautions are, of a rectified map, those of the sheet it was made from, in the
	// text form of caution.Format (see CautionsKey), or "".
	Cautions string
}

// PositionKey is what a picture writes before the standard deviation of
// positions on it, in metres: the keyword of a tEXt chunk of a PNG, and the
// beginning of a line, with a colon behind it, of a JPEG's comment.
const PositionKey = "Position sigma (m)"

// CautionsKey is what a picture writes, as it does PositionKey, before what speaks
// against the sheet it was made from, in the text form of caution.Format.
const CautionsKey = "Cautions"

// maxCautions bounds that, in bytes.
const maxCautions = 400

// cautionsText is what stands behind CautionsKey, in plain letters. What cannot be
// read is an unknown caution, which is a stop.
func cautionsText(text string) string {
	plain := strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return -1
		}
		return r
	}, text)
	plain = strings.TrimSpace(plain[:min(len(plain), maxCautions)])
	if plain == "" {
		return "unreadable"
	}
	return plain
}

// maxPositionM bounds what is believed of it.
const maxPositionM = 1e5

// positionM reads the figure behind PositionKey, 0 where it is none.
func positionM(text string) float64 {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || !(v > 0 && v <= maxPositionM) {
		return 0
	}
	return v
}

// Stored is the size in pixels as stored in the file, before orientation.
func (h Header) Stored() (width, height int) {
	if h.Orientation >= 5 {
		return h.Height, h.Width
	}
	return h.Width, h.Height
}

// bytesPerPixel estimates the memory of the decoded form, from above.
func (h Header) bytesPerPixel() int {
	wide := max(1, (h.BitDepth+7)/8)
	switch {
	case h.Paletted || h.Channels == 1:
		return wide
	case h.Format == "JPEG" && h.Channels == 3:
		return 3
	}
	return 4 * wide
}

// maxDPI bounds resolutions that are believed: finer ones are slips of unit.
const maxDPI = 30000

// cleanDPI gives v, or 0 where it is not a resolution of a scan.
func cleanDPI(v float64) float64 {
	if math.IsNaN(v) || v < 1 || v > maxDPI {
		return 0
	}
	return v
}

// orient sets the orientation and turns width and height accordingly.
func (h *Header) orient(o int) {
	if o < 1 || o > 8 {
		o = 1
	}
	h.Orientation = o
	if o >= 5 {
		h.Width, h.Height = h.Height, h.Width
	}
}

// ReadHeader reads a picture's header and checks it against the limits. A
// header beyond them is returned together with an error that wraps
// ErrTooLarge. For other pages of documents, or where there is an Opener, use
// Opener.Look.
func ReadHeader(fsys fs.FS, name string) (Header, error) {
	d, err := NewOpener().Look(context.Background(), fsys, name, Options{})
	return d.Header, err
}

// readHeader reads the header of a page, counted from 1, 0 meaning the first.
// It recovers panics, since it runs library code for some formats.
func readHeader(r *io.SectionReader, page int) (h Header, err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("%w: its header makes no sense (%v); copy it again from the original", ErrCorrupt, v)
		}
	}()
	head := make([]byte, 4096)
	n, err := r.ReadAt(head, 0)
	if err != nil && err != io.EOF {
		return Header{}, err
	}
	read := readerFor(head[:n])
	if read == nil {
		return Header{}, fmt.Errorf("%w: %s", ErrNotPicture, contentWords(head[:n]))
	}
	if isTIFF(head[:n]) {
		h, err = tiffHeader(r, page)
	} else if err = checkPageNumber(page, 1); err == nil {
		h, err = read(r)
	}
	if err != nil {
		return h, err
	}
	return h, checkLimits(h)
}

// readerFor picks the header reader by the first bytes, nil for none.
func readerFor(head []byte) func(*io.SectionReader) (Header, error) {
	switch {
	case has(head, 0, "\x89PNG\r\n\x1a\n"):
		return pngHeader
	case has(head, 0, "\xff\xd8"):
		return jpegHeader
	case isTIFF(head):
		return func(r *io.SectionReader) (Header, error) { return tiffHeader(r, 1) }
	case has(head, 0, "RIFF") && has(head, 8, "WEBP"):
		return webpHeader
	case has(head, 0, "GIF87a"), has(head, 0, "GIF89a"):
		return gifHeader
	case has(head, 0, "BM") && len(head) >= 26 && head[6] == 0 && head[7] == 0:
		return bmpHeader
	}
	return nil
}

func isTIFF(head []byte) bool {
	return has(head, 0, "II*\x00") || has(head, 0, "MM\x00*") || has(head, 0, "II+\x00") || has(head, 0, "MM\x00+")
}

func has(b []byte, at int, s string) bool {
	return len(b) >= at+len(s) && string(b[at:at+len(s)]) == s
}
