//go:build ignore

// Generate writes ostn15.lwshift, in the layout described in datum.go, from
// the two files of shifts in the Debian package libgeo-coordinates-osgb-perl:
// little-endian 16-bit numbers, row by row from the south-west, in millimetres
// above the figure in the file's name.
package main

import (
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
)

const (
	columns, rows, cell, bandRows = 701, 1251, 1000, 32
	escape, escapeBits            = 20, 20
	baseEast, baseNorth           = 82140, -84180
)

type bitWriter struct {
	out  []byte
	acc  uint64
	fill uint
}

func (w *bitWriter) put(v uint64, n uint) {
	w.acc |= v << w.fill
	for w.fill += n; w.fill >= 8; w.fill -= 8 {
		w.out = append(w.out, byte(w.acc))
		w.acc >>= 8
	}
}

func (w *bitWriter) flush() []byte {
	w.put(0, 7)
	return append(w.out, make([]byte, 8)...)
}

func main() {
	if len(os.Args) != 2 {
		fail(fmt.Errorf("usage: go run generate.go FOLDER"))
	}
	east := load(filepath.Join(os.Args[1], "ostn_east_shift_82140"))
	north := load(filepath.Join(os.Args[1], "ostn_north_shift_-84180"))
	out := file(bandsOf(east, north))
	if err := os.WriteFile("ostn15.lwshift", out, 0o644); err != nil {
		fail(err)
	}
	fmt.Println(len(out), "bytes")
}

// bandsOf packs the shifts in bands of rows that can be read one by one.
func bandsOf(east, north []int) [][]byte {
	var bands [][]byte
	for first := 0; first < rows; first += bandRows {
		w := &bitWriter{}
		for y := first; y < min(first+bandRows, rows); y++ {
			writeRow(w, east, first, y)
			writeRow(w, north, first, y)
		}
		bands = append(bands, w.flush())
	}
	return bands
}

// file puts the head and the offsets before the bands.
func file(bands [][]byte) []byte {
	out := []byte("LWSHIFT1")
	for _, v := range []uint16{columns, rows, cell, bandRows} {
		out = binary.LittleEndian.AppendUint16(out, v)
	}
	for _, base := range []int32{baseEast, baseNorth} {
		out = binary.LittleEndian.AppendUint32(out, uint32(base))
	}
	out = binary.LittleEndian.AppendUint32(out, uint32(len(bands)))
	offset := len(out) + 4*len(bands)
	for _, b := range bands {
		out = binary.LittleEndian.AppendUint32(out, uint32(offset))
		offset += len(b)
	}
	for _, b := range bands {
		out = append(out, b...)
	}
	return out
}

func load(name string) []int {
	data, err := os.ReadFile(name)
	if err != nil {
		fail(err)
	}
	if len(data) != 2*columns*rows {
		fail(fmt.Errorf("%s: %d bytes, want %d", name, len(data), 2*columns*rows))
	}
	values := make([]int, columns*rows)
	for i := range values {
		values[i] = int(binary.LittleEndian.Uint16(data[2*i:]))
	}
	return values
}

func writeRow(w *bitWriter, v []int, first, y int) {
	residuals := make([]uint64, columns)
	for x := range residuals {
		d := v[y*columns+x] - predict(v, first, y, x)
		if d >= 0 {
			residuals[x] = uint64(2 * d)
		} else {
			residuals[x] = uint64(-2*d - 1)
		}
	}
	best, bestCost := uint(0), uint64(1)<<62
	for k := uint(0); k < 16; k++ {
		if c := cost(residuals, k); c < bestCost {
			best, bestCost = k, c
		}
	}
	w.put(uint64(best), 4)
	for _, u := range residuals {
		if q := u >> best; q < escape {
			w.put(1<<q-1, uint(q)+1)
			w.put(u&(1<<best-1), best)
		} else {
			w.put(1<<escape-1, escape)
			w.put(u, escapeBits)
		}
	}
}

func predict(v []int, first, y, x int) int {
	i := y*columns + x
	switch {
	case y == first && x == 0:
		return 0
	case y == first:
		return v[i-1]
	case x == 0:
		return v[i-columns]
	}
	return v[i-1] + v[i-columns] - v[i-columns-1]
}

func cost(residuals []uint64, k uint) uint64 {
	total := uint64(4)
	for _, u := range residuals {
		if q := u >> k; q < escape {
			total += q + 1 + uint64(k)
		} else {
			total += escape + escapeBits
		}
	}
	return total
}

func fail(err error) {
	fmt.Fprintln(os.Stderr, err)
	os.Exit(1)
}
