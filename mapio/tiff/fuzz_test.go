package tiff

import (
	"context"
	"encoding/binary"
	"errors"
	"image"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// seeds are small files of each encoding, made here.
func seeds(f *testing.F) [][]byte {
	pix := noisy(20 * 12)
	grey := func(compression int, chunk []byte, more ...tagged) []byte {
		b := newBuilder(binary.LittleEndian, false)
		b.page(join(b.strips(chunk), size(20, 12, 1, 8, photoBlackIsZero, compression), more)...)
		return b.out
	}
	out := [][]byte{
		simple(binary.LittleEndian, false, 20, 12, 4), simple(binary.BigEndian, true, 20, 12, 5),
		grey(compDeflate, deflated(f, pix), short(tagPredictor, 2)),
		grey(compPackBits, []byte{0xf9, 7, 3, 1, 2, 3, 4, 0x80, 0x81, 9}),
		grey(compLZW, []byte{0x80, 0x0b, 0x60, 0x50, 0x22, 0x0c, 0x0c, 0x85, 0x01}),
		faxTIFF(compG4, uncompressedG4),
		simple(binary.LittleEndian, false, 20, 12, 4, double(tagPixelScale, 10, 10, 0), double(tagTiepoint, 0, 0, 0, 5, 6, 0),
			short(tagGeoKeys, 1, 1, 0, 2, 1025, 0, 1, 2, 3072, 0, 1, 27700), ascii(tagNoData, "-9999")),
	}
	files, err := filepath.Glob(filepath.Join("testdata", "seeds", "*.tif"))
	if err != nil || len(files) == 0 {
		f.Fatalf("no seeds in testdata (%v)", err)
	}
	for _, name := range files {
		data, err := os.ReadFile(filepath.Clean(name))
		if err != nil {
			f.Fatal(err)
		}
		out = append(out, data)
	}
	return out
}

// kind says that an error is one of the promised ones.
func kind(err error) bool {
	for _, k := range []error{ErrNotTIFF, ErrTruncated, ErrCorrupt, ErrUnsupported, ErrTooLarge, ErrNotPicture} {
		if errors.Is(err, k) {
			return true
		}
	}
	return false
}

// FuzzOpen: whatever the bytes, pages whose fields are in range or an error
// of a promised kind.
func FuzzOpen(f *testing.F) {
	for _, s := range seeds(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := openRaw(data)
		if err != nil {
			if !kind(err) {
				t.Errorf("unpromised error %v", err)
			}
			return
		}
		if len(file.Pages()) == 0 {
			t.Error("no page and no error")
		}
		for _, p := range file.Pages() {
			checkPage(t, p)
			for _, o := range p.Overviews {
				checkPage(t, o)
				if o.Width > p.Width || o.Height > p.Height {
					t.Errorf("a reduced copy of %v in a page of %v", o.Bounds(), p.Bounds())
				}
			}
		}
	})
}

func checkPage(t *testing.T, p *Page) {
	if p.Orientation < 1 || p.Orientation > 8 || math.IsNaN(p.DPI) || p.DPI < 0 || p.DPIDown < 0 {
		t.Errorf("orientation %d, %g × %g dpi", p.Orientation, p.DPI, p.DPIDown)
	}
	if err := p.Check(); err != nil && !kind(err) {
		t.Errorf("unpromised error %v", err)
	} else if err == nil && (p.Width < 1 || p.Height < 1 || p.ChunkWidth < 1 || p.ChunkHeight < 1) {
		t.Errorf("size %d × %d in chunks of %d × %d", p.Width, p.Height, p.ChunkWidth, p.ChunkHeight)
	}
	p.NoData()
	if g := p.Geo(); g != nil {
		if a, ok := g.Affine(); ok && !finite(a.X0, a.XColumn, a.XRow, a.Y0, a.YColumn, a.YRow) {
			t.Errorf("a transform that is not finite: %+v", a)
		}
	}
}

// FuzzDecode: a picture of the window's size, or an error of a promised kind
// and none.
func FuzzDecode(f *testing.F) {
	for _, s := range seeds(f) {
		f.Add(s, uint16(0), uint16(0), uint16(65535), uint16(65535))
		f.Add(s, uint16(3), uint16(2), uint16(9), uint16(7))
	}
	f.Fuzz(func(t *testing.T, data []byte, x, y, w, h uint16) {
		file, err := openRaw(data)
		if err != nil {
			return
		}
		p := file.Pages()[0]
		r := image.Rect(int(x), int(y), int(x)+int(w), int(y)+int(h)).Intersect(p.Bounds())
		if r.Dx()*r.Dy() > 1<<18 || int64(p.ChunkHeight)*p.rowBytesOrNone() > 1<<22 {
			return // within the limits, but it would only slow the search
		}
		m, err := p.Decode(context.Background(), r, nil)
		checkResult(t, err, m != nil)
		if m != nil && m.Bounds() != r {
			t.Errorf("bounds %v of the window %v", m.Bounds(), r)
		}
		if r == p.Bounds() {
			checkFuzzedDown(t, p, m, err)
		}
		values, err := p.Samples(context.Background(), r)
		checkResult(t, err, values != nil)
		if values != nil && len(values) != r.Dx()*r.Dy() {
			t.Errorf("%d samples of the window %v", len(values), r)
		}
	})
}

func (p *Page) rowBytesOrNone() int64 {
	if p.problem != nil {
		return 0
	}
	return p.rowBytes()
}

func checkResult(t *testing.T, err error, some bool) {
	if (err == nil) != some || err != nil && !kind(err) {
		t.Errorf("error %v with a result: %v", err, some)
	}
}

// checkFuzzedDown compares a page decoded from top to bottom with the whole: it
// comes where that is sound, or not at all.
func checkFuzzedDown(t *testing.T, p *Page, whole image.Image, fault error) {
	t.Helper()
	var m image.Image
	err := p.decodeDown(context.Background(), max(2*p.ChunkHeight, 2), dirty, func(img image.Image) { m = img }, func(int) {})
	if err != nil || fault != nil {
		if err == nil {
			t.Errorf("from top to bottom it is sound, as a whole there is: %v", fault)
		}
		return
	}
	for y := range p.Height {
		for x := range p.Width {
			if g, e := stored(m, x, y), stored(whole, x, y); g != e {
				t.Fatalf("pixel %d, %d: got %v, want %v", x, y, g, e)
			}
		}
	}
}
