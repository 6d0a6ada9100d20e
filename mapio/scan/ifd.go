package scan

import (
	"encoding/binary"
	"fmt"
	"io"
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
)

// maxEntries bounds the entries of a directory that are looked at.
const maxEntries = 4096

// directory is the first image file directory of an EXIF block, and the one of
// the camera's figures: the first value of each entry that is a number.
type directory map[uint16]float64

// readDirectory reads the first directory of a TIFF structure and, where it
// names one, that of the camera's figures. It never allocates by a size from
// the file and follows no further directories.
func readDirectory(r io.ReaderAt) (directory, error) {
	var head [8]byte
	if _, err := r.ReadAt(head[:], 0); err != nil {
		return nil, fmt.Errorf("%w: no room for a TIFF header; copy the file again", ErrTruncated)
	}
	order, err := byteOrder(head[:4])
	if err != nil {
		return nil, err
	}
	d := directory{}
	if err := d.read(r, order, int64(order.Uint32(head[4:]))); err != nil || !d.has(tagExif) {
		if len(d) == 0 {
			return nil, err
		}
		return d, err
	}
	_ = d.read(r, order, int64(d.whole(tagExif, 0))) // damaged, it is worth what could be read of it
	return d, nil
}

// read adds the entries of the directory at a byte of the structure; those that
// are there already stay.
func (d directory) read(r io.ReaderAt, order binary.ByteOrder, at int64) error {
	var count [2]byte
	if _, err := r.ReadAt(count[:], at); err != nil {
		return fmt.Errorf("%w: its directory is beyond the end, at byte %d; copy the file again", ErrTruncated, at)
	}
	n := min(int(order.Uint16(count[:])), maxEntries)
	for i := range n {
		var e [12]byte
		if _, err := r.ReadAt(e[:], at+2+12*int64(i)); err != nil {
			return fmt.Errorf("%w: its directory ends after %d of %d entries; copy the file again", ErrTruncated, i, n)
		}
		tag := order.Uint16(e[:])
		if v, ok := firstValue(r, order, e[2:]); ok && !d.has(tag) {
			d[tag] = v
		}
	}
	return nil
}

func byteOrder(b []byte) (binary.ByteOrder, error) {
	switch string(b) {
	case "II*\x00":
		return binary.LittleEndian, nil
	case "MM\x00*":
		return binary.BigEndian, nil
	}
	return nil, fmt.Errorf("%w: %q begins no TIFF structure", ErrCorrupt, b)
}

// firstValue is the first value of an entry, given from its type on, if it is
// a number.
func firstValue(r io.ReaderAt, order binary.ByteOrder, e []byte) (float64, bool) {
	kind, count, value := order.Uint16(e), order.Uint32(e[2:]), e[6:10]
	size := map[uint16]int{1: 1, 3: 2, 4: 4, 5: 8, 9: 4, 10: 8}[kind]
	if size == 0 || count == 0 {
		return 0, false
	}
	if uint64(size)*uint64(count) > 4 {
		value = make([]byte, size)
		if _, err := r.ReadAt(value, int64(order.Uint32(e[6:]))); err != nil {
			return 0, false
		}
	}
	switch kind {
	case 1:
		return float64(value[0]), true
	case 3:
		return float64(order.Uint16(value)), true
	case 4:
		return float64(order.Uint32(value)), true
	case 9:
		return float64(int32(order.Uint32(value))), true
	case 5:
		return ratio(float64(order.Uint32(value)), float64(order.Uint32(value[4:])))
	default:
		return ratio(float64(int32(order.Uint32(value))), float64(int32(order.Uint32(value[4:]))))
	}
}

func ratio(n, d float64) (float64, bool) {
	if d == 0 {
		return 0, false
	}
	return n / d, true
}

func (d directory) has(tag uint16) bool {
	_, ok := d[tag]
	return ok
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
	if h.Photo = d.photo(); h.Photo {
		h.DPI = 0
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
