package scan

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"io"
	"math"
	"testing"

	"legwright/mapio/jpg"
)

func seeds(f *testing.F) [][]byte {
	m := address(9, 7)
	return [][]byte{
		pngOf(f, m), jpegOf(f, m), withExif(jpegOf(f, m), 6, 300), progressiveOf(f, m), restartsOf(f, m), plainTIFF(m, 5, 100),
		tiffOf(f, m), gifOf(f, m), bmpOf(f, m), pngOf(f, image.NewGray16(m.Rect)),
		withChunk(pngOf(f, m), "eXIf", exifBlock(binary.LittleEndian, 8, 300)),
		testFile(f, "address_lossy.webp"), testFile(f, "address_lossless.webp"), testFile(f, "address_cmyk.jpg"),
	}
}

// FuzzOpen: whatever the bytes, an error of a promised kind or a picture of
// the size in the header.
func FuzzOpen(f *testing.F) {
	for _, s := range seeds(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := readHeader(io.NewSectionReader(bytes.NewReader(data), 0, int64(len(data))), 0)
		if err == nil && h.Width*h.Height > 1<<20 {
			return // within the limits, but it would only slow the search
		}
		s, err := openData(t.Context(), "f", data, Options{})
		checkOpened(t, s, err)
	})
}

// FuzzHeader: sizes within the limits, orientation 1 to 8, a resolution that
// can be believed.
func FuzzHeader(f *testing.F) {
	for _, s := range seeds(f) {
		f.Add(s[:min(len(s), 300)])
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := readHeader(io.NewSectionReader(bytes.NewReader(data), 0, int64(len(data))), 0)
		if err != nil {
			return
		}
		if h.Width < 1 || h.Height < 1 || h.Width > MaxSide || h.Height > MaxSide || h.Width*h.Height > MaxPixels {
			t.Errorf("size %d × %d passed", h.Width, h.Height)
		}
		if h.Orientation < 1 || h.Orientation > 8 || h.DPI < 0 || h.DPI > maxDPI || math.IsNaN(h.DPI) {
			t.Errorf("orientation %d, %g dpi passed", h.Orientation, h.DPI)
		}
	})
}

func FuzzEXIF(f *testing.F) {
	f.Add(exifBlock(binary.LittleEndian, 6, 300))
	f.Add(exifBlock(binary.BigEndian, 3, 72))
	f.Add([]byte("II*\x00\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, _ := readDirectory(io.NewSectionReader(bytes.NewReader(data), 0, int64(len(data))))
		x, y := d.dpi()
		if o := d.orientation(); o < 1 || o > 8 || x < 0 || y < 0 || x > maxDPI || y > maxDPI {
			t.Errorf("orientation %d, dpi %g, %g", o, x, y)
		}
		for tag, v := range d {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("tag %d is %g", tag, v)
			}
		}
	})
}

// FuzzCheckJPEG: the walk ends, without a panic, in an error of a promised kind.
func FuzzCheckJPEG(f *testing.F) {
	for _, s := range seeds(f)[1:5] {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		err := jpg.Check(t.Context(), bytes.NewReader(data))
		if err != nil && !errors.Is(err, jpg.ErrTooLarge) && !errors.Is(err, jpg.ErrDamaged) && !errors.Is(err, io.ErrUnexpectedEOF) {
			t.Errorf("error %v from memory", err)
		}
	})
}
