package tiff

import (
	"encoding/binary"
	"image"
	"path/filepath"
	"testing"
)

// TestGDALOverviews: reduced copies, inside masks left out, pixels equal to
// GDAL's overviews.
func TestGDALOverviews(t *testing.T) {
	needGDAL(t)
	const w, h = 333, 277
	l := made1{bands: 3, kind: "Byte", most: 255}
	path := l.makeWith(t, w, h, []string{"-co", "TILED=YES", "-co", "COMPRESS=DEFLATE", "-mask", "1", "--config", "GDAL_TIFF_INTERNAL_MASK", "YES"})
	gdal(t, "gdaladdo", "-q", "-r", "average", "--config", "GDAL_TIFF_INTERNAL_MASK", "YES", path, "2", "4", "8")
	pages := openFile(t, path).Pages()
	if len(pages) != 1 || len(pages[0].Overviews) != 3 {
		t.Fatalf("got %d pages, the first with %d reduced copies, want 1 with 3", len(pages), len(pages[0].Overviews))
	}
	for i, o := range pages[0].Overviews {
		step := 2 << i
		ow, oh := (w+step-1)/step, (h+step-1)/step
		if o.Width != ow || o.Height != oh {
			t.Fatalf("copy %d: got %d × %d, want %d × %d", i, o.Width, o.Height, ow, oh)
		}
		reduced := filepath.Join(t.TempDir(), "o.tif")
		gdal(t, "gdal_translate", "-q", "-oo", "OVERVIEW_LEVEL="+string(rune('0'+i)), "-mask", "none", path, reduced)
		want := export(t, reduced, ow, oh, 3, "Byte")
		got, err := o.Decode(t.Context(), o.Bounds(), nil)
		if err != nil {
			t.Fatal(err)
		}
		for y := range oh {
			for x := range ow {
				if g, e := stored(got, x, y), l.want(want, x, y); g != e {
					t.Fatalf("copy %d, pixel %d, %d: got %v, want %v", i, x, y, g, e)
				}
			}
		}
	}
}

// TestGDALSparse: tiles that a file leaves out are black, and no data in
// terrain.
func TestGDALSparse(t *testing.T) {
	needGDAL(t)
	dir := t.TempDir()
	m := made(96, 64, 1, "Byte", 255, false)
	for y := range 64 {
		for x := range 96 {
			if x >= 32 && x < 64 {
				m.values[y*96+x] = 0
			}
		}
	}
	src, out := filepath.Join(dir, "s.raw"), filepath.Join(dir, "s.tif")
	m.write(t, src)
	gdal(t, "gdal_translate", "-q", "-co", "TILED=YES", "-co", "BLOCKXSIZE=32", "-co", "BLOCKYSIZE=32", "-co", "SPARSE_OK=TRUE", "-co", "COMPRESS=LZW", src, out)
	p := openFile(t, out).Pages()[0]
	got, err := p.Decode(t.Context(), p.Bounds(), nil)
	if err != nil {
		t.Fatal(err)
	}
	missing := 0
	for c := range p.chunks(p.Bounds()) {
		if _, _, ok := p.place(c); !ok {
			missing++
		}
	}
	if missing != 2 {
		t.Fatalf("the file leaves out %d tiles, want 2", missing)
	}
	for i, v := range m.values {
		if g := greyAt(got, i%96, i/96); float64(g) != v {
			t.Fatalf("pixel %d, %d: got %d, want %v", i%96, i/96, g, v)
		}
	}
	values, err := p.Samples(t.Context(), p.Bounds())
	if err != nil || values[40] == values[40] {
		t.Errorf("sample in a tile left out: got %v, %v, want NaN", values[40], err)
	}
}

// TestPages: several pages, reduced copies in SubIFDs and before their page,
// masks, the older SubfileType; strangers are no reduced copies.
func TestPages(t *testing.T) {
	t.Parallel()
	b := newBuilder(binary.BigEndian, true)
	strip := b.strips(noisy(400))
	grey := func(w, h int, more ...tagged) []tagged {
		return join(strip, size(w, h, 1, 8, photoBlackIsZero, compNone), more)
	}
	sub := b.directory(grey(10, 5, long(tagNewSubfileType, 1))...)
	stranger := b.directory(grey(5, 5, long(tagNewSubfileType, 1))...)
	b.page(grey(3, 2, long(tagNewSubfileType, 1))...) // before its page
	b.page(grey(20, 10, tagged{tagSubIFDs, 18, []float64{float64(sub), float64(stranger)}}, short(tagOrientation, 6),
		tagged{tagXResolution, 5, []float64{118.11}}, tagged{tagYResolution, 5, []float64{59}}, short(tagResolutionUnit, 3))...)
	b.page(grey(5, 3, short(tagSubfileType, 2))...)
	b.page(grey(20, 10, long(tagNewSubfileType, 4))...)
	b.page(grey(7, 7, long(tagNewSubfileType, 2), ascii(tagNoData, "-9999 "))...)
	pages := openBytes(t, b.out).Pages()
	if len(pages) != 2 {
		t.Fatalf("got %d pages, want 2", len(pages))
	}
	p := pages[0]
	var got []image.Point
	for _, o := range p.Overviews {
		got = append(got, image.Pt(o.Width, o.Height))
	}
	if want := []image.Point{{10, 5}, {5, 3}, {3, 2}}; len(got) != 3 || got[0] != want[0] || got[1] != want[1] || got[2] != want[2] {
		t.Errorf("got reduced copies %v, want %v", got, want)
	}
	if p.Orientation != 6 || p.DPI < 299.99 || p.DPI > 300.01 || p.DPIDown < 149.8 || p.DPIDown > 149.9 {
		t.Errorf("got orientation %d, %g × %g dpi, want 6, 300 × 149.86", p.Orientation, p.DPI, p.DPIDown)
	}
	if v, ok := pages[1].NoData(); !ok || v != -9999 {
		t.Errorf("got no-data value %v, %v, want -9999", v, ok)
	}
	if _, ok := p.NoData(); ok {
		t.Error("got a no-data value where there is none")
	}
}
