package tiff

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// needGDAL skips without GDAL's programs (Debian gdal-bin), the oracle of
// these tests.
func needGDAL(t testing.TB) {
	t.Helper()
	for _, name := range []string{"gdal_translate", "gdaladdo", "gdalinfo"} {
		if _, err := exec.LookPath(name); err != nil {
			t.Skipf("%s is not installed (Debian package gdal-bin)", name)
		}
	}
}

func gdal(t testing.TB, name string, args ...string) []byte {
	t.Helper()
	cmd := exec.Command(name, args...)
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, errs.String())
	}
	return out
}

// raw is a picture as GDAL exports it: samples pixel by pixel.
type raw struct {
	w, h, bands int
	kind        string // of GDAL
	values      []float64
}

func (m raw) at(x, y, band int) float64 { return m.values[(y*m.w+x)*m.bands+band] }

// envi is the data type of the ENVI header and the bytes of a value.
func envi(kind string) (code, size int) {
	switch kind {
	case "Byte":
		return 1, 1
	case "Int16":
		return 2, 2
	case "Int32":
		return 3, 4
	case "Float32":
		return 4, 4
	case "Float64":
		return 5, 8
	case "UInt16":
		return 12, 2
	case "UInt32":
		return 13, 4
	}
	panic(kind)
}

// write makes an ENVI file, little-endian, interleaved by pixel.
func (m raw) write(t testing.TB, path string) {
	t.Helper()
	code, _ := envi(m.kind)
	var b bytes.Buffer
	for _, v := range m.values {
		var x any
		switch m.kind {
		case "Byte":
			x = uint8(v)
		case "Int16":
			x = int16(v)
		case "Int32":
			x = int32(v)
		case "Float32":
			x = float32(v)
		case "Float64":
			x = v
		case "UInt16":
			x = uint16(v)
		case "UInt32":
			x = uint32(v)
		}
		if err := binary.Write(&b, binary.LittleEndian, x); err != nil {
			t.Fatal(err)
		}
	}
	put(t, path, b.Bytes())
	put(t, path+".hdr", fmt.Appendf(nil, "ENVI\nsamples = %d\nlines = %d\nbands = %d\nheader offset = 0\n"+
		"file type = ENVI Standard\ndata type = %d\ninterleave = bip\nbyte order = 0\n", m.w, m.h, m.bands, code))
}

func put(t testing.TB, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// export reads a TIFF by way of GDAL.
func export(t testing.TB, path string, w, h, bands int, kind string) raw {
	t.Helper()
	out := filepath.Join(t.TempDir(), "out.raw")
	gdal(t, "gdal_translate", "-q", "-of", "ENVI", "-ot", kind, "-co", "INTERLEAVE=BIP",
		"-a_ullr", "0", "1", "1", "0", path, out) // the format has no room for a turned picture
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	_, size := envi(kind)
	if len(data) != w*h*bands*size {
		t.Fatalf("GDAL exports %d bytes, want %d × %d × %d × %d", len(data), w, h, bands, size)
	}
	m := raw{w: w, h: h, bands: bands, kind: kind, values: make([]float64, w*h*bands)}
	for i := range m.values {
		b, order := data[i*size:], binary.LittleEndian
		switch kind {
		case "Byte":
			m.values[i] = float64(b[0])
		case "Int16":
			m.values[i] = float64(int16(order.Uint16(b)))
		case "Int32":
			m.values[i] = float64(int32(order.Uint32(b)))
		case "Float32":
			m.values[i] = float64(math.Float32frombits(order.Uint32(b)))
		case "Float64":
			m.values[i] = math.Float64frombits(order.Uint64(b))
		case "UInt16":
			m.values[i] = float64(order.Uint16(b))
		case "UInt32":
			m.values[i] = float64(order.Uint32(b))
		}
	}
	return m
}

// made is a picture with noise over smooth ramps; smooth leaves the noise
// out, for encodings that lose.
func made(w, h, bands int, kind string, most float64, smooth bool) raw {
	r := rand.New(rand.NewPCG(7, uint64(bands)))
	m := raw{w: w, h: h, bands: bands, kind: kind}
	for y := range h {
		for x := range w {
			for b := range bands {
				v := 0.5 + 0.35*math.Sin(float64(x+17*b)/150)*math.Cos(float64(y)/120)
				if !smooth {
					v = math.Abs(math.Mod(v+0.4*(r.Float64()-0.5), 1))
				}
				switch kind {
				case "Int16", "Int32":
					v = 2*v - 1
				}
				v *= most
				if !strings.HasPrefix(kind, "Float") {
					v = math.Round(v)
				}
				m.values = append(m.values, v)
			}
		}
	}
	return m
}

func openFile(t testing.TB, path string) *File {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return openBytes(t, data)
}

func openBytes(t testing.TB, data []byte) *File {
	t.Helper()
	f, err := Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// layout is one file that gdal_translate makes.
type made1 struct {
	name   string
	bands  int
	kind   string
	most   float64
	args   string
	within float64 // of 255 for pictures; 0 = equal; above 1 the source is smooth
}

func layouts() []made1 {
	return []made1{
		{"none strips", 1, "Byte", 255, "", 0},
		{"none one strip", 3, "Byte", 255, "-co BLOCKYSIZE=1000", 0},
		{"none strips of one row, planes", 3, "Byte", 255, "-co BLOCKYSIZE=1 -co INTERLEAVE=BAND", 0},
		{"none tiles", 3, "Byte", 255, "-co TILED=YES -co BLOCKXSIZE=64 -co BLOCKYSIZE=48", 0},
		{"none tiles big-endian", 3, "UInt16", 65535, "-co PHOTOMETRIC=RGB -co TILED=YES -co BLOCKXSIZE=32 -co BLOCKYSIZE=32 -co ENDIANNESS=BIG", 0},
		{"none BigTIFF", 3, "Byte", 255, "-co BIGTIFF=YES", 0},
		{"deflate BigTIFF big-endian tiles", 1, "UInt16", 65535, "-co BIGTIFF=YES -co ENDIANNESS=BIG -co TILED=YES -co COMPRESS=DEFLATE", 0},
		{"packbits strips", 1, "Byte", 255, "-co COMPRESS=PACKBITS", 0},
		{"packbits tiles planes", 3, "Byte", 255, "-co COMPRESS=PACKBITS -co TILED=YES -co INTERLEAVE=BAND -co BLOCKXSIZE=16 -co BLOCKYSIZE=16", 0},
		{"lzw strips", 1, "Byte", 255, "-co COMPRESS=LZW", 0},
		{"lzw one strip", 3, "Byte", 255, "-co COMPRESS=LZW -co BLOCKYSIZE=1000", 0},
		{"lzw predictor 2", 3, "Byte", 255, "-co COMPRESS=LZW -co PREDICTOR=2", 0},
		{"lzw predictor 2, 16 bit", 3, "UInt16", 65535, "-co PHOTOMETRIC=RGB -co COMPRESS=LZW -co PREDICTOR=2 -co TILED=YES", 0},
		{"lzw predictor 2, 16 bit big-endian planes", 3, "UInt16", 65535, "-co PHOTOMETRIC=RGB -co COMPRESS=LZW -co PREDICTOR=2 -co ENDIANNESS=BIG -co INTERLEAVE=BAND", 0},
		{"deflate strips", 3, "Byte", 255, "-co COMPRESS=DEFLATE", 0},
		{"deflate predictor 2 tiles", 4, "Byte", 255, "-co COMPRESS=DEFLATE -co PREDICTOR=2 -co TILED=YES -co ALPHA=YES", 0},
		{"alpha associated", 4, "Byte", 255, "-co COMPRESS=DEFLATE -co ALPHA=PREMULTIPLIED", 0},
		{"alpha planes", 4, "Byte", 255, "-co COMPRESS=LZW -co ALPHA=YES -co INTERLEAVE=BAND", 0},
		{"four samples without alpha", 4, "Byte", 255, "-co ALPHA=NO -co PHOTOMETRIC=RGB", 0},
		{"grey with alpha", 2, "Byte", 255, "-co ALPHA=YES -co COMPRESS=DEFLATE", 0},
		{"white is zero", 1, "Byte", 255, "-co PHOTOMETRIC=MINISWHITE -co COMPRESS=LZW", 0},
		{"white is zero, 16 bit", 1, "UInt16", 65535, "-co PHOTOMETRIC=MINISWHITE", 0},
		{"CMYK", 4, "Byte", 255, "-co PHOTOMETRIC=CMYK -co COMPRESS=DEFLATE", 1},
		{"CMYK planes tiles", 4, "Byte", 255, "-co PHOTOMETRIC=CMYK -co INTERLEAVE=BAND -co TILED=YES", 1},
		{"one bit", 1, "Byte", 1, "-co NBITS=1", 0},
		{"one bit white is zero", 1, "Byte", 1, "-co NBITS=1 -co PHOTOMETRIC=MINISWHITE -co COMPRESS=PACKBITS", 0},
		{"two bits", 1, "Byte", 3, "-co NBITS=2 -co COMPRESS=LZW", 0},
		{"four bits tiles", 1, "Byte", 15, "-co NBITS=4 -co TILED=YES -co BLOCKXSIZE=48 -co BLOCKYSIZE=16", 0},
		{"four bits RGB", 3, "Byte", 15, "-co NBITS=4 -co COMPRESS=DEFLATE", 0},
		{"twelve bits", 1, "UInt16", 4095, "-co NBITS=12 -co COMPRESS=DEFLATE", 0},
		{"CCITT group 3", 1, "Byte", 1, "-co NBITS=1 -co COMPRESS=CCITTFAX3", 0},
		{"CCITT group 4", 1, "Byte", 1, "-co NBITS=1 -co COMPRESS=CCITTFAX4", 0},
		{"CCITT group 4 tiles white is zero", 1, "Byte", 1, "-co NBITS=1 -co COMPRESS=CCITTFAX4 -co TILED=YES -co PHOTOMETRIC=MINISWHITE", 0},
		{"JPEG grey", 1, "Byte", 255, "-co COMPRESS=JPEG", 2},
		{"JPEG RGB tiles", 3, "Byte", 255, "-co COMPRESS=JPEG -co TILED=YES -co BLOCKXSIZE=64 -co BLOCKYSIZE=64 -co JPEG_QUALITY=90", 2},
		{"JPEG YCbCr strips", 3, "Byte", 255, "-co COMPRESS=JPEG -co PHOTOMETRIC=YCBCR -co JPEG_QUALITY=95", 2},
		{"JPEG YCbCr tiles", 3, "Byte", 255, "-co COMPRESS=JPEG -co PHOTOMETRIC=YCBCR -co TILED=YES -co JPEG_QUALITY=95", 2},
		{"JPEG YCbCr one strip", 3, "Byte", 255, "-co COMPRESS=JPEG -co PHOTOMETRIC=YCBCR -co BLOCKYSIZE=1000 -co JPEG_QUALITY=95", 2},
		{"JPEG tables in each", 3, "Byte", 255, "-co COMPRESS=JPEG -co PHOTOMETRIC=YCBCR -co JPEGTABLESMODE=0 -co JPEG_QUALITY=95", 2},
		{"JPEG all tables apart", 3, "Byte", 255, "-co COMPRESS=JPEG -co PHOTOMETRIC=YCBCR -co JPEGTABLESMODE=3 -co JPEG_QUALITY=95", 2},
		{"JPEG planes", 3, "Byte", 255, "-co COMPRESS=JPEG -co INTERLEAVE=BAND -co TILED=YES", 2},
		{"JPEG CMYK", 4, "Byte", 255, "-co COMPRESS=JPEG -co PHOTOMETRIC=CMYK", 2},
		{"JPEG four with alpha", 4, "Byte", 255, "-co COMPRESS=JPEG -co ALPHA=YES -co PHOTOMETRIC=RGB", 2},
		{"palette of 16", 1, "Byte", 15, "palette", 0},
		{"palette of 256 LZW tiles", 1, "Byte", 255, "palette -co COMPRESS=LZW -co PREDICTOR=2 -co TILED=YES", 0},
		{"palette in four bits", 1, "Byte", 15, "palette -co NBITS=4", 0},
		{"palette in one bit", 1, "Byte", 1, "palette -co NBITS=1 -co COMPRESS=CCITTFAX4", 0},
	}
}

// colourTable is the one given to GDAL for palettes.
func colourTable(i int) color.RGBA {
	return color.RGBA{uint8(13 * i), uint8(255 - i), uint8(7*i + 3), 255}
}

// make has GDAL make the TIFF.
func (l made1) make(t testing.TB, w, h int) string {
	t.Helper()
	args, palette := strings.CutPrefix(l.args, "palette")
	if palette {
		args = "palette " + args
	}
	return l.makeWith(t, w, h, strings.Fields(args))
}

// makeWith writes the source and has GDAL make the TIFF with arguments.
func (l made1) makeWith(t testing.TB, w, h int, args []string) string {
	t.Helper()
	dir := t.TempDir()
	src, out := filepath.Join(dir, "src.raw"), filepath.Join(dir, "out.tif")
	made(w, h, l.bands, l.kind, l.most, l.within > 1).write(t, src)
	if len(args) > 0 && args[0] == "palette" {
		args = args[1:]
		src = withPalette(t, dir, src, int(l.most)+1)
	}
	gdal(t, "gdal_translate", append(append([]string{"-q"}, args...), src, out)...)
	return out
}

// withPalette wraps a source in a virtual file that gives it colours.
func withPalette(t testing.TB, dir, src string, n int) string {
	t.Helper()
	vrt := filepath.Join(dir, "src.vrt")
	gdal(t, "gdal_translate", "-q", "-of", "VRT", src, vrt)
	data, err := os.ReadFile(vrt)
	if err != nil {
		t.Fatal(err)
	}
	var table strings.Builder
	table.WriteString("<ColorInterp>Palette</ColorInterp><ColorTable>")
	for i := range n {
		c := colourTable(i)
		fmt.Fprintf(&table, `<Entry c1="%d" c2="%d" c3="%d" c4="255"/>`, c.R, c.G, c.B)
	}
	table.WriteString("</ColorTable>")
	s := strings.Replace(string(data), "<ColorInterp>Gray</ColorInterp>", "", 1)
	at := strings.Index(s, "<SimpleSource>")
	if at < 0 {
		t.Fatalf("no place for a palette in %s", s)
	}
	put(t, vrt, []byte(s[:at]+table.String()+s[at:]))
	return vrt
}

// want gives the colour that a pixel's samples stand for.
func (l made1) want(m raw, x, y int) color.NRGBA {
	v := func(b int) uint8 {
		f := m.at(x, y, b)
		if l.most == 65535 {
			return uint8(int(f) >> 8)
		}
		return uint8(math.Round(f * 255 / l.most))
	}
	switch {
	case strings.HasPrefix(l.args, "palette"):
		c := colourTable(int(m.at(x, y, 0)))
		return color.NRGBA{c.R, c.G, c.B, 255}
	case strings.Contains(l.args, "CMYK"):
		return color.NRGBA{v(0), v(1), v(2), v(3)} // GDAL mixes the inks itself
	case strings.Contains(l.args, "MINISWHITE"):
		return color.NRGBA{255 - v(0), 255 - v(0), 255 - v(0), 255}
	case l.bands == 1:
		return color.NRGBA{v(0), v(0), v(0), 255}
	case l.bands == 2:
		return color.NRGBA{v(0), v(0), v(0), v(1)}
	case l.bands == 4 && !strings.Contains(l.args, "ALPHA=NO"):
		return color.NRGBA{v(0), v(1), v(2), v(3)}
	}
	return color.NRGBA{v(0), v(1), v(2), 255}
}

// stored gives a pixel's own bytes, premultiplied or not, as the test wants
// to see them.
func stored(m image.Image, x, y int) color.NRGBA {
	switch m := m.(type) {
	case *image.RGBA:
		c := m.RGBAAt(x, y)
		return color.NRGBA(c)
	case *image.NRGBA:
		return m.NRGBAAt(x, y)
	}
	return color.NRGBAModel.Convert(m.At(x, y)).(color.NRGBA)
}

func apart(a, b color.NRGBA) float64 {
	d := 0.0
	for _, p := range [][2]uint8{{a.R, b.R}, {a.G, b.G}, {a.B, b.B}, {a.A, b.A}} {
		d = max(d, math.Abs(float64(p[0])-float64(p[1])))
	}
	return d
}

// TestGDALPictures: pixels of every encoding and layout equal what GDAL reads
// from the same file, JPEG within 2.
func TestGDALPictures(t *testing.T) {
	needGDAL(t)
	const w, h = 173, 131
	for _, l := range layouts() {
		t.Run(l.name, func(t *testing.T) {
			t.Parallel()
			path := l.make(t, w, h)
			want := export(t, path, w, h, l.bands, l.kind)
			p := openFile(t, path).Pages()[0]
			got, err := p.Decode(t.Context(), p.Bounds(), nil)
			if err != nil {
				t.Fatal(err)
			}
			if got.Bounds() != image.Rect(0, 0, w, h) {
				t.Fatalf("got bounds %v, want %d × %d", got.Bounds(), w, h)
			}
			worst := 0.0
			for y := range h {
				for x := range w {
					g, e := stored(got, x, y), l.want(want, x, y)
					if d := apart(g, e); d > l.within {
						t.Fatalf("pixel %d, %d: got %v, want %v within %g (%T)", x, y, g, e, l.within, got)
					} else {
						worst = max(worst, d)
					}
				}
			}
			checkWindows(t, p, got)
			checkDown(t, p, got)
			checkSparseDown(t, path)
		})
	}
}

// dirty is memory that holds anything.
func dirty(n int) []uint8 {
	b := make([]uint8, n)
	fill(b, 0xa5)
	return b
}

// checkDown: decoded from top to bottom, each band of chunks is there when it
// is reported, unless the page is one that comes only as a whole.
func checkDown(t *testing.T, p *Page, whole image.Image) {
	t.Helper()
	var m image.Image
	from := 0
	err := p.decodeDown(t.Context(), 2*p.ChunkHeight, dirty, func(img image.Image) { m = img }, func(done int) {
		for y := from; y < done; y++ {
			for x := range p.Width {
				if g, e := stored(m, x, y), stored(whole, x, y); g != e {
					t.Fatalf("down to %d: pixel %d, %d: got %v, want %v", done, x, y, g, e)
				}
			}
		}
		if want := min(from+p.ChunkHeight, p.Height); done != want {
			t.Errorf("told of row %d, want %d", done, want)
		}
		from = done
	})
	_, palette := whole.(*image.Paletted)
	shape := p.mapping().shape
	if palette || shape == shapeInk || shape == shapeYCbCr && p.single(p.Bounds()) {
		if !errors.Is(err, ErrUnsupported) {
			t.Errorf("got %v, want that it comes as a whole only", err)
		}
		return
	}
	if err != nil || from != p.Height {
		t.Errorf("came down to row %d of %d: %v", from, p.Height, err)
	}
}

// checkSparseDown: chunks that are not in the file are blank from top to bottom
// too, and the first of them that is says how colours are subsampled.
func checkSparseDown(t *testing.T, path string) {
	t.Helper()
	p := openFile(t, path).Pages()[0]
	at, err := p.load()
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(at.offsets); i += 3 {
		at.offsets[i] = 0
	}
	whole, err := p.Decode(t.Context(), p.Bounds(), nil)
	if err != nil {
		t.Fatal(err)
	}
	checkDown(t, p, whole)
}

// checkWindows: a window is the same as the part of the whole.
func checkWindows(t *testing.T, p *Page, whole image.Image) {
	t.Helper()
	r := rand.New(rand.NewPCG(3, 4))
	for range 12 {
		a := image.Pt(r.IntN(p.Width), r.IntN(p.Height))
		win := image.Rectangle{Min: a, Max: a.Add(image.Pt(1+r.IntN(p.Width), 1+r.IntN(p.Height)))}
		got, err := p.Decode(t.Context(), win, nil)
		if err != nil {
			t.Fatalf("window %v: %v", win, err)
		}
		win = win.Intersect(p.Bounds())
		if got.Bounds() != win {
			t.Fatalf("got bounds %v, want %v", got.Bounds(), win)
		}
		for y := win.Min.Y; y < win.Max.Y; y++ {
			for x := win.Min.X; x < win.Max.X; x++ {
				if g, e := stored(got, x, y), stored(whole, x, y); g != e {
					t.Fatalf("window %v: pixel %d, %d: got %v, want %v", win, x, y, g, e)
				}
			}
		}
	}
}

// TestGDALSamples: values of terrain equal what GDAL reads from the same
// file; what it calls no data is NaN.
func TestGDALSamples(t *testing.T) {
	needGDAL(t)
	const w, h = 97, 83
	for _, l := range []made1{
		{"int16", 1, "Int16", 3000, "-co COMPRESS=DEFLATE -co PREDICTOR=2", 0},
		{"int16 big-endian tiles", 1, "Int16", 3000, "-co TILED=YES -co ENDIANNESS=BIG -co COMPRESS=LZW -co PREDICTOR=2", 0},
		{"uint16", 1, "UInt16", 60000, "-co COMPRESS=PACKBITS", 0},
		{"int32", 1, "Int32", 2e9, "-co COMPRESS=LZW -co PREDICTOR=2", 0},
		{"uint32 big-endian", 1, "UInt32", 4e9, "-co COMPRESS=DEFLATE -co PREDICTOR=2 -co ENDIANNESS=BIG", 0},
		{"float32", 1, "Float32", 1500, "", 0},
		{"float32 predictor 3", 1, "Float32", 1500, "-co COMPRESS=DEFLATE -co PREDICTOR=3 -co TILED=YES", 0},
		{"float32 predictor 2", 1, "Float32", 1500, "-co COMPRESS=LZW -co PREDICTOR=2", 0},
		{"float32 predictor 3, two bands", 2, "Float32", 1500, "-co COMPRESS=LZW -co PREDICTOR=3 -co INTERLEAVE=PIXEL", 0},
		{"float64 predictor 3", 1, "Float64", 1500, "-co COMPRESS=DEFLATE -co PREDICTOR=3", 0},
		{"float64 BigTIFF", 1, "Float64", 1500, "-co BIGTIFF=YES -co TILED=YES", 0},
		{"three bands in planes", 3, "Int16", 3000, "-co INTERLEAVE=BAND", 0},
	} {
		t.Run(l.name, func(t *testing.T) {
			t.Parallel()
			path := l.make(t, w, h)
			want := export(t, path, w, h, l.bands, l.kind)
			p := openFile(t, path).Pages()[0]
			got, err := p.Samples(t.Context(), p.Bounds())
			if err != nil {
				t.Fatal(err)
			}
			for i, v := range got {
				if e := want.values[i*l.bands]; v != e {
					t.Fatalf("sample %d: got %v, want %v", i, v, e)
				}
			}
			if _, err := p.Decode(t.Context(), p.Bounds(), nil); !errors.Is(err, ErrNotPicture) && l.kind != "UInt16" {
				t.Errorf("decoding as a picture: got error %v, want %v", err, ErrNotPicture)
			}
		})
	}
}
