package scan

import (
	"io"

	"legwright/app/calib"
	"legwright/mapio/tiff"
)

// Tags of TIFF 6.0 (Adobe, 1992) that EXIF (JEITA CP-3451) uses alike.
const (
	tagWidth       = 256
	tagHeight      = 257
	tagBits        = 258
	tagCompression = 259
	tagPhotometric = 262
	tagOrientation = 274
	tagSamples     = 277
	tagXResolution = 282
	tagYResolution = 283
	tagResUnit     = 296
	tagExif        = 34665 // where the directory with what the camera says begins
	tagExposure    = 33434 // seconds
	tagAperture    = 33437 // f number
	tagFocal       = 37386 // millimetres
	tagFocalOnFilm = 41989 // millimetres on 35 mm film, 0 where unknown
)

// directory is the first image file directory of an EXIF block, and the one of
// the camera's figures: the first value of each entry that is a number.
type directory map[uint16]float64

// readDirectory reads an EXIF block, which is laid out as a TIFF.
func readDirectory(r *io.SectionReader) (directory, error) {
	d, err := tiff.Fields(r, r.Size(), tagExif)
	return d, tiffError(err)
}

// whole gives an entry as a whole number, or the value for an absent one.
func (d directory) whole(tag uint16, absent int) int {
	v, ok := d[tag]
	if !ok || v < 0 || v > 1<<32 {
		return absent
	}
	return int(v)
}

// orientation is 1 to 8, 1 if absent or outside.
func (d directory) orientation() int {
	o := d.whole(tagOrientation, 1)
	if o < 1 || o > 8 {
		return 1
	}
	return o
}

// dpi is the resolution along the stored columns (x) and rows (y); 0 if
// unknown. The unit is the inch unless the file says otherwise.
func (d directory) dpi() (x, y float64) {
	perInch := 1.0
	switch d.whole(tagResUnit, 2) {
	case 2:
	case 3:
		perInch = 2.54
	default: // an aspect ratio only
		return 0, 0
	}
	return cleanDPI(d[tagXResolution] * perInch), cleanDPI(d[tagYResolution] * perInch)
}

// filmDiagonalMM is the diagonal of a frame of 35 mm film, 36 mm by 24 mm.
const filmDiagonalMM = 43.267

// photo reports whether a camera took the picture: it tells how long it exposed
// or how far it saw. A maker's name alone is written by scanners too.
func (d directory) photo() bool {
	return d[tagExposure] > 0 || d[tagAperture] > 0 || d[tagFocal] > 0
}

// apply takes orientation and resolution over into a header whose size is
// still as stored. A resolution known already stays, but a camera knows nothing
// of the paper's.
func (d directory) apply(h *Header) {
	h.orient(d.orientation())
	if d.photo() {
		h.Medium, h.DPI = calib.Photograph, 0
		if mm := d[tagFocalOnFilm]; mm >= 5 && mm <= 4000 {
			h.Focal = mm / filmDiagonalMM
		}
		return
	}
	if h.DPI != 0 {
		return
	}
	x, y := d.dpi()
	if h.Orientation >= 5 {
		x = y
	}
	h.DPI = x
}
