package scan

import (
	"bytes"
	"context"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"sync"
	"testing"

	"github.com/gen2brain/jpegn"
	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"
)

// address is a picture whose pixels carry their place: red = 5·column,
// green = 7·row, blue = 40, as the files in testdata.
func address(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetRGBA(x, y, color.RGBA{uint8(5 * x), uint8(7 * y), 40, 255})
		}
	}
	return m
}

// noise is a picture without any flat part.
func noise(w, h int) *image.RGBA {
	r := rand.New(rand.NewPCG(1, 2))
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range m.Pix {
		m.Pix[i] = uint8(128 + r.IntN(40))
		if i%4 == 3 {
			m.Pix[i] = 255
		}
	}
	return m
}

// noisePNG is a file of hundreds of pieces as slow drives deliver them.
var noisePNG = sync.OnceValue(func() []byte {
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.NoCompression}).Encode(&b, noise(1200, 800)); err != nil {
		panic(err)
	}
	return b.Bytes()
})

func greyNoise(w, h int) *image.Gray {
	src := noise(w, h)
	m := image.NewGray(src.Rect)
	for i := range m.Pix {
		m.Pix[i] = src.Pix[4*i]
	}
	return m
}

func encoded(t testing.TB, encode func(*bytes.Buffer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := encode(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func pngOf(t testing.TB, m image.Image) []byte {
	return encoded(t, func(b *bytes.Buffer) error { return png.Encode(b, m) })
}

func jpegOf(t testing.TB, m image.Image) []byte {
	return encoded(t, func(b *bytes.Buffer) error { return jpeg.Encode(b, m, &jpeg.Options{Quality: 92}) })
}

func progressiveOf(t testing.TB, m image.Image) []byte {
	return encoded(t, func(b *bytes.Buffer) error {
		return jpegn.Encode(b, m, &jpegn.EncodeOptions{Quality: 90, Progressive: true})
	})
}

func restartsOf(t testing.TB, m image.Image) []byte {
	return encoded(t, func(b *bytes.Buffer) error {
		return jpegn.Encode(b, m, &jpegn.EncodeOptions{Quality: 90, RestartInterval: 3})
	})
}

func tiffOf(t testing.TB, m image.Image) []byte {
	return encoded(t, func(b *bytes.Buffer) error { return tiff.Encode(b, m, &tiff.Options{Compression: tiff.Deflate}) })
}

func bmpOf(t testing.TB, m image.Image) []byte {
	return encoded(t, func(b *bytes.Buffer) error { return bmp.Encode(b, m) })
}

func gifOf(t testing.TB, m image.Image) []byte {
	return encoded(t, func(b *bytes.Buffer) error { return gif.Encode(b, m, nil) })
}

// exifBlock is a TIFF structure with one directory.
func exifBlock(order binary.ByteOrder, orientation int, dpi uint32) []byte {
	head := "II*\x00"
	if order == binary.BigEndian {
		head = "MM\x00*"
	}
	b := []byte(head)
	put := func(v any) {
		var w bytes.Buffer
		if err := binary.Write(&w, order, v); err != nil {
			panic(err)
		}
		b = append(b, w.Bytes()...)
	}
	put(uint32(8))
	put(uint16(4))
	put([]uint16{tagOrientation, 3, 0, 1}[:2])
	put(uint32(1))
	put([]uint16{uint16(orientation), 0})
	for _, tag := range []uint16{tagXResolution, tagYResolution} {
		put([]uint16{tag, 5})
		put([]uint32{1, 8 + 2 + 4*12 + 4})
	}
	put([]uint16{tagResUnit, 3})
	put(uint32(1))
	put([]uint16{2, 0})
	put(uint32(0))
	put([]uint32{dpi * 10, 10})
	return b
}

// withSegment puts a segment behind a JPEG's start mark.
func withSegment(jpg []byte, marker byte, content []byte) []byte {
	out := append([]byte{0xff, 0xd8, 0xff, marker, byte((len(content) + 2) >> 8), byte(len(content) + 2)}, content...)
	return append(out, jpg[2:]...)
}

func withExif(jpg []byte, orientation int, dpi uint32) []byte {
	return withSegment(jpg, 0xe1, append([]byte("Exif\x00\x00"), exifBlock(binary.BigEndian, orientation, dpi)...))
}

// withChunk puts a chunk behind a PNG's header.
func withChunk(p []byte, name string, content []byte) []byte {
	const after = 8 + 25
	out := appendChunk(bytes.Clone(p[:after]), name, content)
	return append(out, p[after:]...)
}

// plainTIFF writes an uncompressed RGB TIFF with an orientation and a
// resolution in pixels a centimetre.
func plainTIFF(m *image.RGBA, orientation int, perCM uint32) []byte {
	le := binary.LittleEndian
	w, h := m.Rect.Dx(), m.Rect.Dy()
	data := make([]byte, 0, 3*w*h)
	for i := 0; i < len(m.Pix); i += 4 {
		data = append(data, m.Pix[i:i+3]...)
	}
	entries := [][4]uint32{
		{tagWidth, 4, 1, uint32(w)},
		{tagHeight, 4, 1, uint32(h)},
		{tagBits, 3, 3, 0},
		{tagCompression, 3, 1, 1},
		{tagPhotometric, 3, 1, 2},
		{273, 4, 1, 0},
		{tagOrientation, 3, 1, uint32(orientation)},
		{tagSamples, 3, 1, 3},
		{278, 4, 1, uint32(h)},
		{279, 4, 1, uint32(len(data))},
		{tagXResolution, 5, 1, 0},
		{tagYResolution, 5, 1, 0},
		{tagResUnit, 3, 1, 3},
	}
	extra := uint32(8 + 2 + 12*len(entries) + 4)
	entries[2][3], entries[10][3], entries[11][3], entries[5][3] = extra, extra+6, extra+6, extra+14
	b := []byte("II*\x00\x08\x00\x00\x00")
	b = le.AppendUint16(b, uint16(len(entries)))
	for _, e := range entries {
		b = le.AppendUint16(le.AppendUint16(b, uint16(e[0])), uint16(e[1]))
		b = le.AppendUint32(le.AppendUint32(b, e[2]), e[3])
	}
	b = le.AppendUint32(b, 0)
	b = append(b, 8, 0, 8, 0, 8, 0)
	b = le.AppendUint32(le.AppendUint32(b, perCM), 1)
	return append(b, data...)
}

// appendChunk appends a chunk of a PNG.
func appendChunk(to []byte, name string, content []byte) []byte {
	to = binary.BigEndian.AppendUint32(to, uint32(len(content)))
	start := len(to)
	to = append(append(to, name...), content...)
	return binary.BigEndian.AppendUint32(to, crc32.ChecksumIEEE(to[start:]))
}

// openData opens a picture that is in memory.
func openData(ctx context.Context, name string, data []byte, opt Options) (*Scan, error) {
	f := &file{name: name, at: bytes.NewReader(data), size: int64(len(data)), close: func() {}}
	return NewOpener().open(ctx, f, name, opt)
}
