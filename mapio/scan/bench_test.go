package scan

import (
	"bytes"
	"crypto/sha256"
	"image"
	"image/color"
	"testing"

	"github.com/gen2brain/jpegn"

	"legwright/mapio/jpg"
)

// sheet24 is a JPEG 4:2:0 of 24 megapixels with lines, flats and paper noise.
func sheet24(b *testing.B) []byte {
	m := image.NewRGBA(image.Rect(0, 0, 6000, 4000))
	v := uint32(1)
	for y := range 4000 {
		for x := range 6000 {
			v = v*1664525 + 1013904223
			n := uint8(v >> 28)
			c := color.RGBA{238 - n, 234 - n, 220 - n, 255}
			if (x*3+y)%211 < 3 || (x-2*y)%307 == 0 {
				c = color.RGBA{150, 90, 50, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	return jpegOf(b, m)
}

// BenchmarkOpen holds opening, with hash and walk, against the bare decode.
func BenchmarkOpen(b *testing.B) {
	data := sheet24(b)
	b.Logf("%.1f MB", float64(len(data))/1e6)
	b.Run("bare", func(b *testing.B) {
		for b.Loop() {
			if _, err := jpegn.Decode(bytes.NewReader(data)); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("open", func(b *testing.B) {
		for b.Loop() {
			if _, err := OpenBytes(b.Context(), "s.jpg", data, Options{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("hash", func(b *testing.B) {
		for b.Loop() {
			sha256.Sum256(data)
		}
	})
	b.Run("walk", func(b *testing.B) {
		for b.Loop() {
			if err := jpg.Check(b.Context(), bytes.NewReader(data)); err != nil {
				b.Fatal("not sound")
			}
		}
	})
	b.Run("standard library", func(b *testing.B) {
		for b.Loop() {
			if _, err := stdJPEG(data); err != nil {
				b.Fatal(err)
			}
		}
	})
}
