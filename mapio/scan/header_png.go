package scan

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"strings"
)

// pngChunk is the place of a chunk's content.
type pngChunk struct {
	name string
	at   int64
	size int64
}

// nextChunk reads the chunk header at a byte of the file.
func nextChunk(r io.ReaderAt, at int64) (pngChunk, error) {
	var b [8]byte
	if _, err := r.ReadAt(b[:], at); err != nil {
		return pngChunk{}, fmt.Errorf("%w: this PNG ends inside its header; copy it again from the original", ErrTruncated)
	}
	n := binary.BigEndian.Uint32(b[:])
	if n > math.MaxInt32 {
		return pngChunk{}, fmt.Errorf("%w: the chunk length %d at byte %d of this PNG is not valid; copy it again from the original", ErrCorrupt, n, at)
	}
	return pngChunk{string(b[4:]), at + 8, int64(n)}, nil
}

// next is where the following chunk begins.
func (c pngChunk) next() int64 { return c.at + c.size + 4 }

// pngHeader reads IHDR, pHYs, eXIf, PositionKey and CautionsKey up to the first data
// (PNG, third edition, W3C 2025). An eXIf chunk behind the data is not looked for.
func pngHeader(r *io.SectionReader) (Header, error) {
	h := Header{Format: "PNG", Orientation: 1}
	c, err := nextChunk(r, 8)
	if err != nil {
		return h, err
	}
	var b [13]byte
	if _, err := r.ReadAt(b[:], c.at); err != nil || c.name != "IHDR" || c.size != 13 {
		return h, fmt.Errorf("%w: this PNG does not begin with its header; copy it again from the original", ErrCorrupt)
	}
	w, ht := binary.BigEndian.Uint32(b[:]), binary.BigEndian.Uint32(b[4:])
	if w > math.MaxInt32 || ht > math.MaxInt32 {
		return h, fmt.Errorf("%w: the header of this PNG gives %d × %d pixels", ErrCorrupt, w, ht)
	}
	h.Width, h.Height, h.BitDepth = int(w), int(ht), int(b[8])
	h.Channels = map[byte]int{0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[b[9]]
	h.Paletted, h.Progressive = b[9] == 3, b[12] == 1
	if h.Channels == 0 {
		return h, fmt.Errorf("%w: the colour type %d in the header of this PNG is not valid; copy it again from the original", ErrCorrupt, b[9])
	}
	var exif directory
	var dx, dy float64
	for range maxSegments {
		if c, err = nextChunk(r, c.next()); err != nil || c.name == "IDAT" || c.name == "IEND" {
			break // what is missing shows when the picture is decoded
		}
		switch c.name {
		case "pHYs":
			dx, dy = pngDensity(r, c)
		case "eXIf":
			exif, _ = readDirectory(io.NewSectionReader(r, c.at, c.size))
		case "tEXt":
			word, text, _ := strings.Cut(shortText(r, c.at, c.size), "\x00")
			switch word {
			case PositionKey:
				h.PositionM = positionM(text)
			case CautionsKey:
				h.Cautions = cautionsText(text)
			}
		}
	}
	h.DPI = dx
	if exif.orientation() >= 5 {
		h.DPI = dy
	}
	exif.apply(&h)
	return h, nil
}

// shortText reads a text of the file's own words, of 64 kB at most.
func shortText(r io.ReaderAt, at, size int64) string {
	b := make([]byte, min(size, 64<<10))
	n, _ := r.ReadAt(b, at)
	return string(b[:n])
}

// pngDensity reads pHYs: pixels a metre, or an aspect ratio only.
func pngDensity(r io.ReaderAt, c pngChunk) (x, y float64) {
	var b [9]byte
	if _, err := r.ReadAt(b[:], c.at); err != nil || c.size != 9 || b[8] != 1 {
		return 0, 0
	}
	const inch = 0.0254
	return cleanDPI(roundDPI(inch * float64(binary.BigEndian.Uint32(b[:])))),
		cleanDPI(roundDPI(inch * float64(binary.BigEndian.Uint32(b[4:]))))
}

// roundDPI undoes the rounding to whole pixels a metre, which turns 300 dpi
// into 299.9994: a figure within that rounding of a whole number is that.
func roundDPI(v float64) float64 {
	if w := math.Round(v); math.Abs(v-w) <= 0.0127 {
		return w
	}
	return v
}
