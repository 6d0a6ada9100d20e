package tiff

import (
	"image"
	"math"
)

// chunk is one strip or tile of one plane: which pixels it holds. Tiles may
// reach beyond the page.
type chunk struct {
	image.Rectangle
	plane int
	n     int // its place in the lists of offsets and counts
}

// maxTile bounds a tile's side beyond the page's own.
const maxTile = 1 << 14

// maxChunks bounds the strips or tiles of a page: 400 megapixels in tiles of
// 16 × 16 are 1.6 million.
const maxChunks = 1 << 22

// readLayout reads how the page is cut.
func (p *Page) readLayout() error {
	if p.d.number(tagPlanarConfig, 1) == 2 && p.Channels > 1 {
		p.planes = p.Channels
	}
	if _, tiled := p.d.entries[tagTileWidth]; tiled {
		p.Tiled = true
		p.ChunkWidth, p.ChunkHeight = p.d.number(tagTileWidth, 0), p.d.number(tagTileLength, 0)
		if p.ChunkWidth < 1 || p.ChunkHeight < 1 {
			return corrupt("its tiles are given as %d × %d pixels", p.ChunkWidth, p.ChunkHeight)
		}
		if p.ChunkWidth > max(p.Width+15, maxTile) || p.ChunkHeight > max(p.Height+15, maxTile) {
			return corrupt("it has tiles of %d × %d pixels in a picture of %d × %d", p.ChunkWidth, p.ChunkHeight, p.Width, p.Height)
		}
	} else {
		p.ChunkWidth, p.ChunkHeight = p.Width, min(p.d.number(tagRowsPerStrip, math.MaxInt32), p.Height)
		if p.ChunkHeight == 0 {
			p.ChunkHeight = p.guessRows()
		}
	}
	if n := int64(p.across()) * int64(p.down()) * int64(p.planes); n > maxChunks {
		return unsupported("it is cut into %d strips or tiles, but at most %d can be read", n, maxChunks)
	}
	return nil
}

// guessRows stands in for zero rows a strip: all strips are taken as equal.
func (p *Page) guessRows() int {
	n := max(1, int(p.d.entries[tagStripOffsets].count)/p.planes)
	return max(1, (p.Height+n-1)/n)
}

func (p *Page) across() int { return (p.Width + p.ChunkWidth - 1) / p.ChunkWidth }
func (p *Page) down() int   { return (p.Height + p.ChunkHeight - 1) / p.ChunkHeight }

// chunk gives the one at a column and row of chunks. The last strip ends with
// the page.
func (p *Page) chunk(plane, i, j int) chunk {
	r := image.Rect(0, 0, p.ChunkWidth, p.ChunkHeight).Add(image.Pt(i*p.ChunkWidth, j*p.ChunkHeight))
	if !p.Tiled {
		r.Max.Y = min(r.Max.Y, p.Height)
	}
	return chunk{Rectangle: r, plane: plane, n: (plane*p.down()+j)*p.across() + i}
}

// chunks yields those that meet a window, row by row of chunks, and all
// planes of a place together.
func (p *Page) chunks(r image.Rectangle) func(yield func(chunk) bool) {
	return func(yield func(chunk) bool) {
		for j := r.Min.Y / p.ChunkHeight; j*p.ChunkHeight < r.Max.Y; j++ {
			for i := r.Min.X / p.ChunkWidth; i*p.ChunkWidth < r.Max.X; i++ {
				for plane := range p.planes {
					if !yield(p.chunk(plane, i, j)) {
						return
					}
				}
			}
		}
	}
}

// perChunk is the number of samples per pixel has within one chunk.
func (p *Page) perChunk() int {
	if p.planes > 1 {
		return 1
	}
	return p.Channels
}

// rowBytes is the length of what a chunk stores for a row.
func (p *Page) rowBytes() int64 {
	return (int64(p.ChunkWidth)*int64(p.perChunk())*int64(p.BitDepth) + 7) / 8
}

// index says where the chunks are in the file.
type index struct{ offsets, counts []uint64 }

// load reads the index at its first use.
func (p *Page) load() (*index, error) {
	p.once.Do(func() { p.index, p.fault = p.readIndex() })
	return &p.index, p.fault
}

func (p *Page) readIndex() (index, error) {
	offsets, counts := uint16(tagStripOffsets), uint16(tagStripByteCounts)
	if _, ok := p.d.entries[tagTileOffsets]; ok {
		offsets, counts = tagTileOffsets, tagTileByteCounts
	}
	n := p.across() * p.down() * p.planes
	var x index
	var err error
	if x.offsets, err = p.d.whole(offsets, n); err != nil {
		return x, err
	}
	if len(x.offsets) == 0 {
		return x, corrupt("it does not say where its pixels are")
	}
	if x.counts, err = p.d.whole(counts, n); err != nil {
		x.counts = nil // the offsets are enough to try
	}
	return x, nil
}

// place gives where a chunk is stored and how long it is; ok is false for one
// that is not there at all. A length that is absent, or wrong by being zero,
// reaches to the next chunk; that of a single uncompressed one follows from
// its size. Nothing reaches beyond the end.
func (p *Page) place(c chunk) (at, n int64, ok bool) {
	x := &p.index
	if c.n >= len(x.offsets) || x.offsets[c.n] == 0 {
		return 0, 0, false
	}
	size := p.d.in.size
	at = int64(min(x.offsets[c.n], uint64(size)))
	n = size - at
	switch {
	case c.n < len(x.counts) && x.counts[c.n] > 0:
		n = int64(min(x.counts[c.n], uint64(n)))
		if p.compression == compNone && len(x.offsets) == 1 {
			n = min(size-at, max(n, p.need(c.Dy())))
		}
	case c.n+1 < len(x.offsets) && x.offsets[c.n+1] > x.offsets[c.n]:
		n = min(n, int64(min(x.offsets[c.n+1], math.MaxInt64))-at)
	}
	return at, n, true
}

// need is the decoded length of so many rows of a chunk.
func (p *Page) need(rows int) int64 { return int64(rows) * p.rowBytes() }

// ratio is the most bytes that one stored byte can stand for: a string of
// 4,096 by 12 bits (LZW), 258 by 2 bits (deflate), 128 by two bytes
// (PackBits), a row by one bit (facsimile), a block of 64 samples by one bit
// (JPEG). Uncompressed data may be short by as much and still be shown.
func (p *Page) ratio() int64 {
	switch p.compression {
	case compLZW:
		return 2731
	case compDeflate, compOldDeflate, compJPEG:
		return 1032
	case compPackBits:
		return 64
	case compCCITT, compG3, compG4:
		return 8 * p.rowBytes()
	}
	return 16
}
