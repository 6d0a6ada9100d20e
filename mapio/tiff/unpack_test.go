package tiff

import (
	"bytes"
	"encoding/binary"
	"io"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestLZWExample: the worked example of ISO 32000-1, 7.4.4.2, whose LZW is
// TIFF's (the bytes are not checked against its text).
func TestLZWExample(t *testing.T) {
	t.Parallel()
	in := []byte{0x80, 0x0b, 0x60, 0x50, 0x22, 0x0c, 0x0c, 0x85, 0x01}
	want := []byte{45, 45, 45, 45, 45, 65, 45, 45, 45, 66}
	s := newStream(&Page{compression: compLZW, d: &directory{in: &input{r: bytes.NewReader(in), size: int64(len(in))}}})
	r, err := s.open(chunk{}, 0, int64(len(in)))
	if err != nil {
		t.Fatal(err)
	}
	if got, err := io.ReadAll(r); err != nil || !slices.Equal(got, want) {
		t.Errorf("got % x, %v, want % x", got, err, want)
	}
}

// TestPackBitsExample: the example of Apple's technical note TN1023 (the
// bytes are not checked against its text).
func TestPackBitsExample(t *testing.T) {
	t.Parallel()
	in := []byte{0xfe, 0xaa, 0x02, 0x80, 0x00, 0x2a, 0xfd, 0xaa, 0x03, 0x80, 0x00, 0x2a, 0x22, 0xf7, 0xaa}
	want := append([]byte{0xaa, 0xaa, 0xaa, 0x80, 0x00, 0x2a, 0xaa, 0xaa, 0xaa, 0xaa, 0x80, 0x00, 0x2a, 0x22},
		bytes.Repeat([]byte{0xaa}, 10)...)
	got, err := io.ReadAll(&packBits{src: bytes.NewReader(in)})
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("got % x, %v, want % x", got, err, want)
	}
}

// TestUnpackBits: samples of 1 to 16 bits from any place, against a reading
// bit by bit.
func TestUnpackBits(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(8, 9))
	for bits := 1; bits <= 16; bits++ {
		row := make([]byte, 64)
		for i := range row {
			row[i] = uint8(r.Uint32())
		}
		p := &Page{BitDepth: bits, d: &directory{in: &input{order: binary.BigEndian}}}
		u := newUnpacker(p, bits <= 8)
		total := 8 * len(row) / bits
		var s scratch
		for range 50 {
			from := r.IntN(total)
			to := from + 1 + r.IntN(total-from)
			got := u.bytes(&s, row, from, to)
			if len(got) != to-from {
				t.Fatalf("%d bits: got %d samples, want %d", bits, len(got), to-from)
			}
			for i, g := range got {
				v := 0
				for b := (from + i) * bits; b < (from+i+1)*bits; b++ {
					v = v<<1 | int(row[b/8]>>(7-b%8)&1)
				}
				if most := 1<<bits - 1; bits == 16 {
					v >>= 8
				} else if bits > 8 {
					v = (v*255 + most/2) / most
				}
				if int(g) != v {
					t.Fatalf("%d bits, sample %d: got %d, want %d", bits, from+i, g, v)
				}
			}
		}
	}
}
