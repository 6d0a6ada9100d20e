package tiff

import (
	"bytes"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	xtiff "golang.org/x/image/tiff"
)

// benchFile makes a TIFF of 24 megapixels with GDAL.
func benchFile(b *testing.B, args string) []byte {
	needGDAL(b)
	path := made1{bands: 3, kind: "Byte", most: 255, within: 2}.makeWith(b, 6000, 4000, strings.Fields(args))
	data, err := os.ReadFile(path)
	if err != nil {
		b.Fatal(err)
	}
	return data
}

// BenchmarkDecode against the library's reader, which has the same encodings.
func BenchmarkDecode(b *testing.B) {
	for _, c := range []struct{ name, args string }{
		{"none", "-co COMPRESS=NONE"},
		{"lzw", "-co COMPRESS=LZW -co PREDICTOR=2 -co BLOCKYSIZE=64"},
		{"lzwOneStrip", "-co COMPRESS=LZW -co PREDICTOR=2 -co BLOCKYSIZE=4000"},
		{"deflate", "-co COMPRESS=DEFLATE -co PREDICTOR=2 -co TILED=YES -co BLOCKXSIZE=512 -co BLOCKYSIZE=512"},
		{"deflateOneStrip", "-co COMPRESS=DEFLATE -co BLOCKYSIZE=4000"},
	} {
		data := benchFile(b, c.args)
		b.Run(c.name+"/own", func(b *testing.B) {
			for b.Loop() {
				p := openBytes(b, data).Pages()[0]
				if _, err := p.Decode(b.Context(), p.Bounds(), nil); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(c.name+"/library", func(b *testing.B) {
			for b.Loop() {
				if _, err := xtiff.Decode(bytes.NewReader(data)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkOverview opens a big file and decodes its copy of about 1600
// pixels; LEGWRIGHT_BIG_TIFF names one.
func BenchmarkOverview(b *testing.B) {
	path := os.Getenv("LEGWRIGHT_BIG_TIFF")
	if path == "" {
		b.Skip("LEGWRIGHT_BIG_TIFF names no file")
	}
	for b.Loop() {
		f, err := os.Open(filepath.Clean(path))
		if err != nil {
			b.Fatal(err)
		}
		info, err := f.Stat()
		if err != nil {
			b.Fatal(err)
		}
		t, err := Open(f, info.Size())
		if err != nil {
			b.Fatal(err)
		}
		best := t.Pages()[0]
		for _, o := range best.Overviews {
			if max(o.Width, o.Height) >= 1600 {
				best = o
			}
		}
		m, err := best.Decode(b.Context(), best.Bounds(), nil)
		if err != nil {
			b.Fatal(err)
		}
		if m.Bounds() == (image.Rectangle{}) || len(t.Pages()[0].Overviews) == 0 {
			b.Fatal("no reduced copy")
		}
		b.ReportMetric(float64(max(best.Width, best.Height)), "px")
		f.Close()
	}
}
