package tiff

import (
	"bytes"
	giflzw "compress/lzw"
	"encoding/binary"
	"errors"
	"image"
	"math"
	"math/bits"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Varieties that GDAL reads but does not write: made here, and compared with
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
	subsampled := newBuilder(binary.LittleEndian, false)
	subsampled.page(join(subsampled.strips(noisy(20*12*2)), size(20, 12, 3, 8, photoYCbCr, compNone))...)
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
		{"two-dimensional", faxTIFF(compG3, "", long(tagT4Options, 1))},
		{"fill bits", faxTIFF(compG3, "", long(tagT4Options, 4))},
		{"not compressed", faxTIFF(compG3, "", long(tagT4Options, 2))},
		{"uncompressed", faxTIFF(compG4, uncompressedG4)},
		{"not in JPEG", subsampled.out},
	} {
		p := openBytes(t, c.data).Pages()[0]
		m, err := p.Decode(t.Context(), p.Bounds(), nil)
		if m != nil || !errors.Is(err, ErrUnsupported) || !strings.Contains(err.Error(), c.words) || !strings.Contains(err.Error(), "save it again") {
			t.Errorf("%s: picture %v, %v, want ErrUnsupported that says so", c.words, m != nil, err)
		}
	}
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

// uncompressedG4 goes over to uncompressed mode at once (ITU-T T.6, table 3:
// 0000001111).
const uncompressedG4 = "\x03\xd5\x03"

// faxTIFF holds 90 × 12 pixels of facsimile data.
func faxTIFF(compression int, data string, more ...tagged) []byte {
	b := newBuilder(binary.LittleEndian, false)
	b.page(join(b.strips([]byte(data)), size(90, 12, 1, 1, photoWhiteIsZero, compression), more)...)
	return b.out
}

// TestFaxDamage: a code that makes no sense is damage; the codes themselves are
// compared with GDAL in TestGDALPictures.
func TestFaxDamage(t *testing.T) {
	t.Parallel()
	for _, kind := range []int{compG3, compG4} {
		refused(t, "nothing but zeros, which begin no code", openBytes(t, faxTIFF(kind, strings.Repeat("\x00", 200))).Pages()[0], ErrCorrupt)
	}
}
