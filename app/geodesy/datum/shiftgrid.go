package datum

import (
	"encoding/binary"
	"math/bits"
	"sync"
)

// shiftGrid is a regular grid of easting and northing shifts in the layout of
// assets/datum. Bands of rows are decoded when first asked for, once; it is
// safe for concurrent use.
type shiftGrid struct {
	data       string
	cols, rows int
	baseE      float64 // mm added to every easting shift
	baseN      float64 // mm added to every northing shift
	cellM      float64
	bandRows   int
	bands      []shiftBand
}

// shiftBand holds the decoded rows of a band, in millimetres above the base:
// two values a node, easting shift first.
type shiftBand struct {
	once sync.Once
	mm   []uint16
}

const (
	shiftMagic      = "LWSHIFT1"
	shiftEscape     = 20
	shiftEscapeBits = 20
)

// openShiftGrid reads the header. The bytes are part of the program, so a
// header that makes no sense is a programmer's mistake.
func openShiftGrid(data string) *shiftGrid {
	if len(data) < 28 || data[:8] != shiftMagic {
		panic("geodesy: embedded shift grid has no header")
	}
	head := []byte(data[:28])
	g := &shiftGrid{
		data:     data,
		cols:     int(binary.LittleEndian.Uint16(head[8:])),
		rows:     int(binary.LittleEndian.Uint16(head[10:])),
		cellM:    float64(binary.LittleEndian.Uint16(head[12:])),
		bandRows: int(binary.LittleEndian.Uint16(head[14:])),
	}
	g.baseE = float64(int32(binary.LittleEndian.Uint32(head[16:])))
	g.baseN = float64(int32(binary.LittleEndian.Uint32(head[20:])))
	g.bands = make([]shiftBand, binary.LittleEndian.Uint32(head[24:]))
	return g
}

// size returns the ground the grid covers, from 0, 0, in metres.
func (g *shiftGrid) size() (eM, nM float64) {
	return float64(g.cols-1) * g.cellM, float64(g.rows-1) * g.cellM
}

// contains reports whether the shifts can be interpolated at e, n.
func (g *shiftGrid) contains(e, n float64) bool {
	w, h := g.size()
	return e >= 0 && n >= 0 && e <= w && n <= h
}

// at returns the shifts at e, n in metres, interpolated bilinearly. Outside
// the grid it takes the nearest position inside.
func (g *shiftGrid) at(e, n float64) (dE, dN float64) {
	w, h := g.size()
	x, y := min(max(e, 0), w)/g.cellM, min(max(n, 0), h)/g.cellM
	col, row := min(int(x), g.cols-2), min(int(y), g.rows-2)
	t, u := x-float64(col), y-float64(row)
	e0, n0, e1, n1 := g.pair(col, row)
	e2, n2, e3, n3 := g.pair(col, row+1)
	a, b, c, d := (1-t)*(1-u), t*(1-u), (1-t)*u, t*u
	return (a*e0 + b*e1 + c*e2 + d*e3 + g.baseE) / 1000, (a*n0 + b*n1 + c*n2 + d*n3 + g.baseN) / 1000
}

// pair returns the shifts of a node and of its eastern neighbour, in mm
// above the base.
func (g *shiftGrid) pair(col, row int) (e0, n0, e1, n1 float64) {
	band := row / g.bandRows
	mm := g.band(band)[((row-band*g.bandRows)*g.cols+col)*2:]
	return float64(mm[0]), float64(mm[1]), float64(mm[2]), float64(mm[3])
}

func (g *shiftGrid) band(i int) []uint16 {
	b := &g.bands[i]
	b.once.Do(func() { b.mm = g.decodeBand(i) })
	return b.mm
}

func (g *shiftGrid) decodeBand(i int) []uint16 {
	at := binary.LittleEndian.Uint32([]byte(g.data[28+4*i : 32+4*i]))
	rows := min(g.bandRows, g.rows-i*g.bandRows)
	mm := make([]uint16, rows*g.cols*2)
	r := &bitReader{data: g.data, pos: int(at)}
	for y := range rows {
		for part := range 2 {
			g.decodeHalfRow(r, mm, y, part)
		}
	}
	return mm
}

// decodeHalfRow reads one component of a row: part 0 easting, 1 northing.
func (g *shiftGrid) decodeHalfRow(r *bitReader, mm []uint16, y, part int) {
	k := uint(r.take(4))
	stride := 2 * g.cols
	at := y*stride + part
	var west, southWest int32
	for x := range g.cols {
		d := r.rice(k)
		var v int32
		switch {
		case y == 0:
			v = west + d
		case x == 0:
			southWest = int32(mm[at-stride])
			v = southWest + d
		default:
			south := int32(mm[at-stride])
			v = west + south - southWest + d
			southWest = south
		}
		mm[at], west = uint16(v), v
		at += 2
	}
}

// bitReader reads bits from the lowest of each byte on. The layout leaves
// eight spare bytes behind each band, so that it never reads past the end.
type bitReader struct {
	data string
	pos  int
	acc  uint64
	fill uint
}

func (r *bitReader) refill() {
	for r.fill <= 56 {
		r.acc |= uint64(r.data[r.pos]) << r.fill
		r.pos++
		r.fill += 8
	}
}

func (r *bitReader) take(n uint) uint64 {
	r.refill()
	v := r.acc & (1<<n - 1)
	r.acc >>= n
	r.fill -= n
	return v
}

// rice reads one signed difference with parameter k.
func (r *bitReader) rice(k uint) int32 {
	r.refill()
	q := uint(bits.TrailingZeros64(^r.acc))
	var u uint64
	if q < shiftEscape {
		u = uint64(q)<<k | r.acc>>(q+1)&(1<<k-1)
		r.acc >>= q + 1 + k
		r.fill -= q + 1 + k
	} else {
		u = r.acc >> shiftEscape & (1<<shiftEscapeBits - 1)
		r.acc >>= shiftEscape + shiftEscapeBits
		r.fill -= shiftEscape + shiftEscapeBits
	}
	return int32(u>>1) ^ -int32(u&1)
}
