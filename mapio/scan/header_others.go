package scan

import (
	"encoding/binary"
	"fmt"
	"io"
)

// gifHeader reads the logical screen (GIF89a).
func gifHeader(r *io.SectionReader) (Header, error) {
	h := Header{Format: "GIF", Orientation: 1, Paletted: true, Channels: 1, BitDepth: 8}
	var b [10]byte
	if _, err := r.ReadAt(b[:], 0); err != nil {
		return h, fmt.Errorf("%w: this GIF ends inside its header; copy it again from the original", ErrTruncated)
	}
	h.Width, h.Height = int(binary.LittleEndian.Uint16(b[6:])), int(binary.LittleEndian.Uint16(b[8:]))
	return h, nil
}

// bmpHeader reads the information header; a negative height means rows from
// the top.
func bmpHeader(r *io.SectionReader) (Header, error) {
	h := Header{Format: "BMP", Orientation: 1}
	var b [46]byte
	if _, err := r.ReadAt(b[:], 0); err != nil {
		return h, fmt.Errorf("%w: this BMP ends inside its header; copy it again from the original", ErrTruncated)
	}
	if n := binary.LittleEndian.Uint32(b[14:]); n < 40 {
		return h, fmt.Errorf("%w: this BMP has a header of %d bytes, but at least 40 are needed; save it again as PNG", ErrUnsupported, n)
	}
	h.Width = int(int32(binary.LittleEndian.Uint32(b[18:])))
	h.Height = int(int32(binary.LittleEndian.Uint32(b[22:])))
	if h.Height < 0 {
		h.Height = -h.Height
	}
	bits := int(binary.LittleEndian.Uint16(b[28:]))
	h.Paletted, h.Channels, h.BitDepth = bits <= 8, max(1, bits/8), min(bits, 8)
	const inch = 0.0254
	h.DPI = cleanDPI(roundDPI(inch * float64(int32(binary.LittleEndian.Uint32(b[38:])))))
	return h, nil
}

// webpHeader walks the RIFF chunks (WebP container specification, RFC 9649).
func webpHeader(r *io.SectionReader) (Header, error) {
	h := Header{Format: "WebP", Orientation: 1, Channels: 3, BitDepth: 8}
	var exif directory
	at := int64(12)
	for range maxSegments {
		var b [8 + 10]byte
		n, _ := r.ReadAt(b[:], at)
		if n < 8 {
			break
		}
		size := int64(binary.LittleEndian.Uint32(b[4:]))
		switch string(b[:4]) {
		case "VP8X", "VP8 ", "VP8L":
			if w, ht := webpSize(string(b[:4]), b[8:n]); h.Width == 0 {
				h.Width, h.Height = w, ht
			}
		case "ANIM":
			return h, fmt.Errorf("%w: this WebP is an animation; save one picture of it as PNG", ErrUnsupported)
		case "EXIF":
			exif, _ = readDirectory(exifSection(r, at+8, size))
		}
		at += 8 + size + size&1
	}
	if h.Width == 0 {
		return h, fmt.Errorf("%w: this WebP contains no picture; copy it again from the original", ErrTruncated)
	}
	exif.apply(&h)
	return h, nil
}

// webpSize reads the size from the first ten bytes of a chunk's content.
func webpSize(kind string, b []byte) (w, h int) {
	switch {
	case len(b) < 10:
		return 0, 0
	case kind == "VP8X":
		u24 := func(i int) int { return int(b[i]) | int(b[i+1])<<8 | int(b[i+2])<<16 }
		return u24(4) + 1, u24(7) + 1
	case kind == "VP8L":
		v := binary.LittleEndian.Uint32(b[1:])
		return int(v&0x3fff) + 1, int(v>>14&0x3fff) + 1
	}
	return int(binary.LittleEndian.Uint16(b[6:]) & 0x3fff), int(binary.LittleEndian.Uint16(b[8:]) & 0x3fff)
}

// exifSection leaves out the "Exif" prefix some writers put into the chunk.
func exifSection(r io.ReaderAt, at, size int64) *io.SectionReader {
	var b [6]byte
	if _, err := r.ReadAt(b[:], at); err == nil && string(b[:]) == "Exif\x00\x00" {
		return io.NewSectionReader(r, at+6, size-6)
	}
	return io.NewSectionReader(r, at, size)
}
