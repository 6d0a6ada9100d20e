package scan

import (
	"encoding/binary"
	"fmt"
	"io"
	"strings"
)

// maxSegments bounds the walk through a JPEG's header.
const maxSegments = 2000

// jpegHeader walks the segments up to the first scan (ITU-T T.81 annex B;
// density from JFIF 1.02, orientation and resolution from EXIF in APP1).
func jpegHeader(r *io.SectionReader) (Header, error) {
	w := jpegWalk{r: r, h: Header{Format: "JPEG", Orientation: 1}, at: 2}
	for range maxSegments {
		last, err := w.segment()
		if err != nil {
			return w.h, err
		}
		if last {
			return w.finish()
		}
	}
	return w.h, fmt.Errorf("%w: this JPEG has no picture within its first %d segments; copy it again from the original", ErrCorrupt, maxSegments)
}

type jpegWalk struct {
	r      *io.SectionReader
	h      Header
	at     int64
	dx, dy float64 // density from JFIF
	exif   directory
}

// segment reads one segment; it is the last when the scan begins.
func (w *jpegWalk) segment() (last bool, err error) {
	var b [4]byte
	if _, err := w.r.ReadAt(b[:2], w.at); err != nil {
		return false, fmt.Errorf("%w: this JPEG ends inside its header; copy it again from the original", ErrTruncated)
	}
	if b[0] != 0xff {
		return false, fmt.Errorf("%w: byte %d of this JPEG is 0x%02x where a marker belongs; copy it again from the original", ErrCorrupt, w.at, b[0])
	}
	marker := b[1]
	switch {
	case marker == 0xff: // fill byte
		w.at++
		return false, nil
	case marker == 0x01, marker >= 0xd0 && marker <= 0xd8: // without content
		w.at += 2
		return false, nil
	case marker == 0xda, marker == 0xd9:
		return true, nil
	}
	if _, err := w.r.ReadAt(b[:], w.at); err != nil {
		return false, fmt.Errorf("%w: this JPEG ends inside its header; copy it again from the original", ErrTruncated)
	}
	n := int64(binary.BigEndian.Uint16(b[2:]))
	if n < 2 {
		return false, fmt.Errorf("%w: the segment at byte %d of this JPEG has the length %d, but at least 2 is needed; copy it again", ErrCorrupt, w.at, n)
	}
	err = w.content(marker, io.NewSectionReader(w.r, w.at+4, n-2))
	w.at += 2 + n
	return false, err
}

func (w *jpegWalk) content(marker byte, r *io.SectionReader) error {
	switch {
	case marker == 0xe0:
		w.density(r)
	case marker == 0xe1:
		w.exifIn(r)
	case marker == 0xfe:
		w.comment(r)
	case marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc:
		return w.frame(marker, r)
	}
	return nil
}

// comment looks for PositionKey and CautionsKey in a comment.
func (w *jpegWalk) comment(r *io.SectionReader) {
	for line := range strings.Lines(shortText(r, 0, r.Size())) {
		if text, ok := strings.CutPrefix(line, PositionKey+":"); ok {
			w.h.PositionM = positionM(text)
		}
		if text, ok := strings.CutPrefix(line, CautionsKey+":"); ok {
			w.h.Cautions = cautionsText(text)
		}
	}
}

// density reads JFIF's; unit 0 is an aspect ratio only.
func (w *jpegWalk) density(r *io.SectionReader) {
	var b [12]byte
	if _, err := r.ReadAt(b[:], 0); err != nil || string(b[:5]) != "JFIF\x00" {
		return
	}
	k := map[byte]float64{1: 1, 2: 2.54}[b[7]]
	w.dx = cleanDPI(k * float64(binary.BigEndian.Uint16(b[8:])))
	w.dy = cleanDPI(k * float64(binary.BigEndian.Uint16(b[10:])))
}

// exifIn keeps the first EXIF block. A damaged one is worth what could be
// read of it: the picture does not depend on it.
func (w *jpegWalk) exifIn(r *io.SectionReader) {
	var b [6]byte
	if _, err := r.ReadAt(b[:], 0); err != nil || string(b[:]) != "Exif\x00\x00" || w.exif != nil {
		return
	}
	w.exif, _ = readDirectory(io.NewSectionReader(r, 6, r.Size()-6))
}

func (w *jpegWalk) frame(marker byte, r *io.SectionReader) error {
	var b [6 + 3*4]byte
	n, _ := r.ReadAt(b[:], 0)
	if n < 6 || n < 6+3*min(int(b[5]), 4) {
		return fmt.Errorf("%w: the frame header of this JPEG is too short; copy it again", ErrCorrupt)
	}
	w.h.BitDepth, w.h.Channels = int(b[0]), int(b[5])
	w.h.Height, w.h.Width = int(binary.BigEndian.Uint16(b[1:])), int(binary.BigEndian.Uint16(b[3:]))
	w.h.Progressive = marker == 0xc2
	if marker > 0xc2 {
		return fmt.Errorf("%w: this JPEG uses a rare coding (SOF%d); save it again as plain JPEG or PNG", ErrUnsupported, marker-0xc0)
	}
	if w.h.BitDepth != 8 {
		return fmt.Errorf("%w: this JPEG has %d bits per sample; save it again with 8 bits", ErrUnsupported, w.h.BitDepth)
	}
	return nil
}

func (w *jpegWalk) finish() (Header, error) {
	if w.h.Channels == 0 {
		return w.h, fmt.Errorf("%w: this JPEG has no frame header; copy it again from the original", ErrCorrupt)
	}
	o := w.exif.orientation()
	w.h.DPI = w.dx
	if o >= 5 {
		w.h.DPI = w.dy
	}
	w.exif.apply(&w.h)
	return w.h, nil
}
