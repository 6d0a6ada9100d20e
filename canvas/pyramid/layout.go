package pyramid

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
)

// A stored picture is one file, little-endian, of four parts without gaps:
//
//	header      128 bytes, see encodeHeader
//	palette     1,024 bytes, RGBA of each index; only if level 0 is indexed
//	levels      16 bytes each: width, height (4 bytes), offset in the file (8)
//	tiles       4 bytes each, CRC-32C, level by level, row by row
//	pixels      the planes of each tile, in the same order
//
// All sizes and offsets follow from size and kind in the header, and a file
// in which one differs is refused. The header ends with a CRC-32C of itself
// and holds one of palette and tables. A tile's CRC begins with the tile's
// level, column and row, so that a tile in another's place is found out.
const (
	fileMagic   = "LEGWPYR\n"
	fileVersion = 1
	headerBytes = 128
	levelBytes  = 16
	// maxSide bounds what a header may claim, in pixels.
	maxSide = 1 << 20
)

var (
	errForeign = errors.New("it was not stored by this version of the program")
	errSum     = errors.New("the checksum differs")
)

// layout is where everything lies in the file of a picture.
type layout struct {
	size   image.Point
	sizes  []image.Point
	kinds  []kind
	offset []int64 // of each level's first tile
	first  []int   // the number of each level's first tile
	tiles  int
	tables int // bytes of palette and tables
	total  int64
}

func newLayout(size image.Point, k kind) layout {
	l := layout{size: size, sizes: levelSizes(size)}
	l.kinds = k.kinds(len(l.sizes))
	for _, sz := range l.sizes {
		l.first = append(l.first, l.tiles)
		l.tiles += span(sz.X) * span(sz.Y)
	}
	l.tables = levelBytes*len(l.sizes) + 4*l.tiles
	if k.model == indexed {
		l.tables += len(palette{}) * 4
	}
	l.total = headerBytes + int64(l.tables)
	for n, sz := range l.sizes {
		l.offset = append(l.offset, l.total)
		l.total += l.levelSize(n, sz)
	}
	return l
}

// levelSize is the number of bytes of a level's tiles. It differs from the
// level's own where chroma of odd tiles is rounded up.
func (l *layout) levelSize(n int, sz image.Point) int64 {
	last := image.Pt(0, span(sz.Y))
	return l.within(n, sz, last)
}

// within is the number of bytes before tile at of level n.
func (l *layout) within(n int, sz image.Point, at image.Point) int64 {
	width := func(x int) int { return min(TileSize, sz.X-x*TileSize) }
	row := func(h, columns int) int64 {
		sum := int64(0)
		if whole := min(columns, sz.X/TileSize); whole > 0 {
			sum = int64(whole) * int64(l.kinds[n].bytes(image.Pt(TileSize, h)))
		}
		if columns > sz.X/TileSize {
			sum += int64(l.kinds[n].bytes(image.Pt(width(columns-1), h)))
		}
		return sum
	}
	whole := min(at.Y, sz.Y/TileSize)
	sum := int64(whole) * row(TileSize, span(sz.X))
	if at.Y > whole {
		sum += row(sz.Y-whole*TileSize, span(sz.X))
	}
	if at.X > 0 {
		sum += row(min(TileSize, sz.Y-at.Y*TileSize), at.X)
	}
	return sum
}

// place gives a tile's number and its offset in the file.
func (l *layout) place(k Key) (number int, offset int64) {
	sz := l.sizes[k.Level]
	return l.first[k.Level] + k.Y*span(sz.X) + k.X, l.offset[k.Level] + l.within(k.Level, sz, image.Pt(k.X, k.Y))
}

func castagnoli() *crc32.Table { return crc32.MakeTable(crc32.Castagnoli) }

// tileSum is the checksum of a tile's pixels in their place.
func tileSum(k Key, pix []uint8) uint32 {
	var at [12]uint8
	binary.LittleEndian.PutUint32(at[0:], uint32(k.Level))
	binary.LittleEndian.PutUint32(at[4:], uint32(k.X))
	binary.LittleEndian.PutUint32(at[8:], uint32(k.Y))
	t := castagnoli()
	return crc32.Update(crc32.Checksum(at[:], t), t, pix)
}

// encodeTables gives palette, level table and tile table.
func (l *layout) encodeTables(lut *palette, sums []uint32) []uint8 {
	b := make([]uint8, 0, l.tables)
	if l.kinds[0].model == indexed {
		for _, c := range lut {
			b = append(b, c[:]...)
		}
	}
	for n, sz := range l.sizes {
		b = binary.LittleEndian.AppendUint32(b, uint32(sz.X))
		b = binary.LittleEndian.AppendUint32(b, uint32(sz.Y))
		b = binary.LittleEndian.AppendUint64(b, uint64(l.offset[n]))
	}
	for _, s := range sums {
		b = binary.LittleEndian.AppendUint32(b, s)
	}
	return b
}

// decodeTables reads what encodeTables wrote, and refuses all else.
func (l *layout) decodeTables(b []uint8) (*palette, []uint32, error) {
	sums := make([]uint32, l.tiles)
	for i, at := 0, len(b)-4*l.tiles; i < l.tiles; i++ {
		sums[i] = binary.LittleEndian.Uint32(b[at+4*i:])
	}
	var lut *palette
	if l.kinds[0].model == indexed {
		lut = new(palette)
		for i := range lut {
			copy(lut[i][:], b[4*i:])
		}
	}
	if string(l.encodeTables(lut, sums)) != string(b) {
		return nil, nil, fmt.Errorf("%w: the table of levels differs", errForeign)
	}
	return lut, sums, nil
}

// encodeHeader writes, from byte 0: magic (8), version (4), model, sx, sy, 0,
// width, height, tile side, number of levels (4 each), key (32), number of
// tiles (8), size of the file (8), CRC-32C of palette and tables (4), zeros,
// and in the last four bytes the CRC-32C of all before.
func (l *layout) encodeHeader(key [32]byte, tables []uint8) []uint8 {
	le, k := binary.LittleEndian, l.kinds[0]
	b := append(make([]uint8, 0, headerBytes), fileMagic...)
	b = le.AppendUint32(b, fileVersion)
	b = append(b, uint8(k.model), k.sx, k.sy, 0)
	for _, v := range []int{l.size.X, l.size.Y, TileSize, len(l.sizes)} {
		b = le.AppendUint32(b, uint32(v))
	}
	b = append(b, key[:]...)
	b = le.AppendUint64(b, uint64(l.tiles))
	b = le.AppendUint64(b, uint64(l.total))
	b = le.AppendUint32(b, crc32.Checksum(tables, castagnoli()))
	b = b[:headerBytes-4]
	return le.AppendUint32(b, crc32.Checksum(b, castagnoli()))
}

// decodeHeader reads what encodeHeader wrote, and refuses all else.
func decodeHeader(b []uint8) (l layout, key [32]byte, tables uint32, err error) {
	le := binary.LittleEndian
	if len(b) != headerBytes || string(b[:8]) != fileMagic || le.Uint32(b[8:]) != fileVersion {
		return l, key, 0, errForeign
	}
	if crc32.Checksum(b[:headerBytes-4], castagnoli()) != le.Uint32(b[headerBytes-4:]) {
		return l, key, 0, fmt.Errorf("in the header %w", errSum)
	}
	k := kind{model(b[12]), b[13], b[14]}
	w, h := le.Uint32(b[16:]), le.Uint32(b[20:])
	if !k.known() || w == 0 || h == 0 || w > maxSide || h > maxSide {
		return l, key, 0, fmt.Errorf("%w: %d × %d pixels of kind %v", errForeign, w, h, k)
	}
	l = newLayout(image.Pt(int(w), int(h)), k)
	if le.Uint32(b[24:]) != TileSize || le.Uint32(b[28:]) != uint32(len(l.sizes)) ||
		le.Uint64(b[64:]) != uint64(l.tiles) || le.Uint64(b[72:]) != uint64(l.total) {
		return l, key, 0, fmt.Errorf("%w: the header contradicts itself", errForeign)
	}
	return l, [32]byte(b[32:64]), le.Uint32(b[80:]), nil
}

// known says whether k is a kind that a picture can have.
func (k kind) known() bool {
	switch k.model {
	case ycc:
		return k.sx <= 2 && k.sy <= 1
	case grey, rgba, indexed:
		return k.sx == 0 && k.sy == 0
	}
	return false
}
