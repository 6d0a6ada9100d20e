package tiff

import (
	"bytes"
	giflzw "compress/lzw"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"math"
	"math/bits"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Varieties that GDAL reads but does not write: made here, and held against
// both what went in and what GDAL reads.

// throughGDAL writes a file and gives GDAL's reading.
func throughGDAL(t *testing.T, data []byte, w, h, bands int) raw {
	t.Helper()
	path := filepath.Join(t.TempDir(), "odd.tif")
	put(t, path, data)
	return export(t, path, w, h, bands, "Byte")
}

func decodeAll(t testing.TB, data []byte) image.Image {
	t.Helper()
	p := openBytes(t, data).Pages()[0]
	m, err := p.Decode(t.Context(), p.Bounds(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// TestFillOrder: bits the other way round, in plain and in LZW data.
func TestFillOrder(t *testing.T) {
	needGDAL(t)
	b := newBuilder(binary.LittleEndian, false)
	row := []byte{0b10110001, 0b01000000}
	flipped := []byte{bits.Reverse8(row[0]), bits.Reverse8(row[1])}
	b.page(join(b.strips(flipped), size(10, 1, 1, 1, photoBlackIsZero, compNone), []tagged{short(tagFillOrder, 2)})...)
	got, want := decodeAll(t, b.out), throughGDAL(t, b.out, 10, 1, 1)
	for x := range 10 {
		in := row[x/8] >> (7 - x%8) & 1
		if g := greyAt(got, x, 0); g != 255*in || want.at(x, 0, 0) != float64(in) {
			t.Errorf("pixel %d: got %d, want %d (GDAL %v)", x, g, 255*in, want.at(x, 0, 0))
		}
	}
}

// TestNotRead: varieties that hardly anything writes are refused by name, with
// what to do.
func TestNotRead(t *testing.T) {
	t.Parallel()
	var packed bytes.Buffer
	z := giflzw.NewWriter(&packed, giflzw.LSB, 8) // as LZW was written before TIFF 5.0
	if _, err := z.Write(noisy(120 * 90)); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	b := newBuilder(binary.LittleEndian, false)
	b.page(join(b.strips(packed.Bytes()), size(120, 90, 1, 8, photoBlackIsZero, compLZW))...)
	huffman, err := os.ReadFile(filepath.Join("testdata", "seeds", "huffman.tif"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		words string
		data  []byte
	}{
		{"1988", b.out},
		{"modified Huffman", huffman},
		{"two dimensions", faxTIFF(faxPicture(90, 12), 1)},
		{"fill bits", faxTIFF(faxPicture(90, 12), 4)},
		{"not compressed", faxTIFF(faxPicture(90, 12), 2)},
		{"uncompressed", uncompressedG4()},
	} {
		p := openBytes(t, c.data).Pages()[0]
		m, err := p.Decode(t.Context(), p.Bounds(), nil)
		if m != nil || !errors.Is(err, ErrUnsupported) || !strings.Contains(err.Error(), c.words) || !strings.Contains(err.Error(), "save it again") {
			t.Errorf("%s: picture %v, %v, want ErrUnsupported that says so", c.words, m != nil, err)
		}
	}
}

// uncompressedG4 is group 4 data that goes over to uncompressed mode at once
// (ITU-T T.6, table 3: 0000001111).
func uncompressedG4() []byte {
	var f faxWriter
	f.code("0000001111" + "010101" + "00000011")
	b := newBuilder(binary.LittleEndian, false)
	b.page(join(b.strips(f.out), size(20, 1, 1, 1, photoWhiteIsZero, compG4))...)
	return b.out
}

// TestFloatPredictorBigEndian: GDAL 3.6 misreads this one itself, so the
// bytes are made by the rule of Technical Note 3 alone: those of the row
// sorted by weight, then differences.
func TestFloatPredictorBigEndian(t *testing.T) {
	t.Parallel()
	for _, order := range []binary.ByteOrder{binary.LittleEndian, binary.BigEndian} {
		values := []float64{0, 1.5, -2.25, 1e10, 812.125, 3}
		const n = 6
		row := make([]byte, 4*n)
		for i, v := range values {
			var s [4]byte
			binary.BigEndian.PutUint32(s[:], math.Float32bits(float32(v)))
			for k := range s {
				row[k*n+i] = s[k]
			}
		}
		for i := len(row) - 1; i > 0; i-- {
			row[i] -= row[i-1]
		}
		b := newBuilder(order, false)
		b.page(join(b.strips(deflated(t, row)), size(n, 1, 1, 32, photoBlackIsZero, compDeflate),
			[]tagged{short(tagPredictor, 3), short(tagSampleFormat, 3)})...)
		p := openBytes(t, b.out).Pages()[0]
		got, err := p.Samples(t.Context(), p.Bounds())
		if err != nil || !slices.Equal(got, values) {
			t.Errorf("%v: got %v, %v, want %v", order, got, err, values)
		}
	}
}

// TestYCbCrUnits: colours subsampled without JPEG, in strips and tiles of
// sizes that do not fit.
func TestYCbCrUnits(t *testing.T) {
	needGDAL(t)
	const w, h = 45, 38
	for _, sub := range []image.Point{{1, 1}, {2, 1}, {2, 2}, {1, 2}, {4, 1}, {4, 2}} {
		for _, tile := range []bool{false, true} {
			t.Run(fmt.Sprintf("%d×%d tiles %v", sub.X, sub.Y, tile), func(t *testing.T) {
				src := smoothYCbCr(w, h, sub)
				data := unitsTIFF(src, w, h, sub, tile)
				var want raw
				if !tile { // tiles of this kind GDAL 3.6 refuses to read
					want = throughGDAL(t, data, w, h, 3)
				}
				got := decodeAll(t, data).(*image.YCbCr)
				for y := range h {
					for x := range w {
						if g, e := got.YCbCrAt(x, y), src.YCbCrAt(x, y); g != e {
							t.Fatalf("pixel %d, %d: got %v, want %v", x, y, g, e)
						}
						if tile {
							continue
						}
						r, g, b := color.YCbCrToRGB(got.YCbCrAt(x, y).Y, got.YCbCrAt(x, y).Cb, got.YCbCrAt(x, y).Cr)
						e := color.NRGBA{uint8(want.at(x, y, 0)), uint8(want.at(x, y, 1)), uint8(want.at(x, y, 2)), 255}
						if d := apart(color.NRGBA{r, g, b, 255}, e); d > 2 {
							t.Fatalf("pixel %d, %d: got %d %d %d, GDAL %v", x, y, r, g, b, e)
						}
					}
				}
				checkWindows(t, openBytes(t, data).Pages()[0], got)
				checkDown(t, openBytes(t, data).Pages()[0], got)
			})
		}
	}
}

func smoothYCbCr(w, h int, sub image.Point) *image.YCbCr {
	ratio, _ := ratioOf(sub)
	m := image.NewYCbCr(image.Rect(0, 0, w, h), ratio)
	for y := range h {
		for x := range w {
			m.Y[m.YOffset(x, y)] = uint8(50 + 3*x + y)
			m.Cb[m.COffset(x, y)] = uint8(100 + x)
			m.Cr[m.COffset(x, y)] = uint8(150 - y)
		}
	}
	return m
}

func unitsTIFF(m *image.YCbCr, w, h int, sub image.Point, tile bool) []byte {
	cw, ch := w, 8
	if tile {
		cw, ch = 16, 16
	}
	var chunks [][]byte
	for y0 := 0; y0 < h; y0 += ch {
		for x0 := 0; x0 < w; x0 += cw {
			end := y0 + ch
			if !tile {
				end = min(end, h)
			}
			chunks = append(chunks, units(m, image.Rect(x0, y0, x0+cw, end), sub))
		}
	}
	b := newBuilder(binary.LittleEndian, false)
	fields := size(w, h, 3, 8, photoYCbCr, compNone)
	fields = append(fields, short(tagYCbCrSubSampling, float64(sub.X), float64(sub.Y)))
	if tile {
		b.page(join(b.tiles(chunks...), fields, []tagged{short(tagTileWidth, 16), short(tagTileLength, 16)})...)
	} else {
		b.page(join(b.strips(chunks...), fields, []tagged{short(tagRowsPerStrip, 8)})...)
	}
	return b.out
}

// units packs a part of a picture; beyond the edge its last pixels go on.
func units(m *image.YCbCr, r image.Rectangle, sub image.Point) []byte {
	in := func(x, y int) (int, int) { return min(x, m.Rect.Max.X-1), min(y, m.Rect.Max.Y-1) }
	var out []byte
	for y := r.Min.Y; y < r.Max.Y; y += sub.Y {
		for x := r.Min.X; x < r.Max.X; x += sub.X {
			for dy := range sub.Y {
				for dx := range sub.X {
					out = append(out, m.Y[m.YOffset(in(x+dx, y+dy))])
				}
			}
			i := m.COffset(in(x, y))
			out = append(out, m.Cb[i], m.Cr[i])
		}
	}
	return out
}

// faxWriter packs codes.
type faxWriter struct {
	out  []byte
	free int
}

func (w *faxWriter) code(s string) {
	for _, c := range s {
		if w.free == 0 {
			w.out, w.free = append(w.out, 0), 8
		}
		w.free--
		w.out[len(w.out)-1] |= byte(c-'0') << w.free
	}
}

func (w *faxWriter) run(n int, black bool) {
	codes := strings.Fields(faxWhite)
	if black {
		codes = strings.Fields(faxBlack)
	}
	for ; n >= 2560; n -= 2560 {
		w.code("000000011111")
	}
	if n >= 1792 {
		w.code(strings.Fields(faxLong)[(n-1792)/64])
		n %= 64
	}
	if n >= 64 {
		w.code(codes[63+n/64])
	}
	w.code(codes[n%64])
}

// changes gives the places where a row changes colour, the first to black.
func changes(row []bool) []int {
	var out []int
	last := false
	for x, v := range row {
		if v != last {
			out, last = append(out, x), v
		}
	}
	return out
}

func (w *faxWriter) one(row []bool) {
	at, black := 0, false
	for _, x := range append(changes(row), len(row)) {
		w.run(x-at, black)
		at, black = x, !black
	}
}

// faxPicture has long runs, thin lines, noise and blank rows.
func faxPicture(w, h int) [][]bool {
	r := rand.New(rand.NewPCG(5, 6))
	rows := make([][]bool, h)
	for y := range rows {
		rows[y] = make([]bool, w)
		for x := range w {
			switch {
			case y%11 == 0:
				rows[y][x] = y%2 == 0
			case y%7 == 3:
				rows[y][x] = r.IntN(2) == 0
			default:
				rows[y][x] = (x+y/2)%60 < 4 || x > w-w/4-y && x < w-50
			}
		}
	}
	return rows
}

// faxRuns has rows that begin with a white and a black run of every length
// that has a code.
func faxRuns(w int) [][]bool {
	var rows [][]bool
	for i := range 64 + 40 {
		n := i
		if i >= 64 {
			n = runLength(i)
		}
		row := make([]bool, w)
		for x := n; x < 2*n; x++ {
			row[x] = true
		}
		rows = append(rows, row)
	}
	return rows
}

// TestFaxGroup3: rows of all kinds, and every code of the tables.
func TestFaxGroup3(t *testing.T) {
	needGDAL(t)
	for name, src := range map[string][][]bool{"picture": faxPicture(1500, 70), "runs": faxRuns(5600)} {
		t.Run(name, func(t *testing.T) {
			w, h := len(src[0]), len(src)
			data := faxTIFF(src, 0)
			want := throughGDAL(t, data, w, h, 1)
			got := decodeAll(t, data).(*image.Gray)
			for y := range h {
				for x := range w {
					e := uint8(255)
					if src[y][x] {
						e = 0
					}
					if g := got.Pix[y*got.Stride+x]; g != e || (want.at(x, y, 0) == 1) != src[y][x] {
						t.Fatalf("pixel %d, %d: got %d, want %d (GDAL %v)", x, y, g, e, want.at(x, y, 0))
					}
				}
			}
		})
	}
}

// faxTIFF writes group 3 in one dimension, whatever the options say.
func faxTIFF(src [][]bool, options int) []byte {
	var f faxWriter
	for _, row := range src {
		f.code("000000000001")
		f.one(row)
	}
	b := newBuilder(binary.LittleEndian, false)
	b.page(join(b.strips(f.out), size(len(src[0]), len(src), 1, 1, photoWhiteIsZero, compG3), []tagged{long(tagT4Options, float64(options))})...)
	return b.out
}

// TestFaxDamage: a code that makes no sense is damage.
func TestFaxDamage(t *testing.T) {
	t.Parallel()
	data := faxTIFF(faxPicture(400, 40), 0)
	copy(data[300:], []byte{0x00, 0x0f}) // nothing but zeros begins no code
	refused(t, "a wrong code", openBytes(t, data).Pages()[0], ErrCorrupt)
}
