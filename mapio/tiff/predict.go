package tiff

import (
	"encoding/binary"
	"slices"
)

// predictor undoes differences within a row (TIFF 6.0 section 14, Technical
// Note 3).
type predictor struct {
	order   binary.ByteOrder
	kind    int
	bits    int
	samples int // a pixel
	scratch []byte
}

func newPredictor(p *Page) predictor {
	u := predictor{order: p.d.in.order, kind: 1, bits: p.BitDepth, samples: p.perChunk()}
	if p.predicts() {
		u.kind = p.predictor
	}
	return u
}

func (u *predictor) undo(row []byte) {
	switch u.kind {
	case 2:
		u.differences(row)
	case 3:
		u.float(row)
	}
}

// differences adds to each sample that of the pixel before.
func (u *predictor) differences(row []byte) {
	n := u.samples
	switch u.bits {
	case 8:
		addBytes(row, n)
	case 16:
		for i := 2 * n; i+2 <= len(row); i += 2 {
			u.order.PutUint16(row[i:], u.order.Uint16(row[i:])+u.order.Uint16(row[i-2*n:]))
		}
	case 32:
		for i := 4 * n; i+4 <= len(row); i += 4 {
			u.order.PutUint32(row[i:], u.order.Uint32(row[i:])+u.order.Uint32(row[i-4*n:]))
		}
	case 64:
		for i := 8 * n; i+8 <= len(row); i += 8 {
			u.order.PutUint64(row[i:], u.order.Uint64(row[i:])+u.order.Uint64(row[i-8*n:]))
		}
	}
}

// addBytes adds to each byte the one n before.
func addBytes(row []byte, n int) {
	switch n {
	case 1:
		var a uint8
		for i, v := range row {
			a += v
			row[i] = a
		}
	case 3:
		var a, b, c uint8
		for i := 0; i+3 <= len(row); i += 3 {
			px := row[i : i+3 : i+3]
			a, b, c = a+px[0], b+px[1], c+px[2]
			px[0], px[1], px[2] = a, b, c
		}
	default:
		for i := n; i < len(row); i++ {
			row[i] += row[i-n]
		}
	}
}

// float adds up the bytes, which stand in the row sorted by weight, the
// heaviest first, and puts those of each sample together again.
func (u *predictor) float(row []byte) {
	addBytes(row, u.samples)
	size := u.bits / 8
	n := len(row) / size
	u.scratch = append(u.scratch[:0], row...)
	for i := range n {
		sample := row[i*size : (i+1)*size]
		for b := range sample {
			sample[b] = u.scratch[b*n+i]
		}
		if u.order == binary.ByteOrder(binary.LittleEndian) {
			slices.Reverse(sample)
		}
	}
}
