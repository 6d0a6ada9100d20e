package pyramid

import (
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
)

// ErrDamaged is given to OnFault when the stored picture is found damaged.
var ErrDamaged = errors.New("the stored picture is damaged")

// blob is what a store needs of a file.
type blob interface {
	io.ReaderAt
	io.WriterAt
	io.Closer
}

// sheetFile is an open stored picture.
type sheetFile struct {
	layout
	blob blob
	path string
	key  [32]byte
	lut  *palette
	sums []uint32 // of each tile
}

// damage is an error of reading a certain file.
type damage struct {
	file *sheetFile
	err  error
}

func (d *damage) Error() string   { return "the stored picture is damaged: " + d.err.Error() }
func (d *damage) Unwrap() []error { return []error{ErrDamaged, d.err} }

// openSheet opens a stored picture, header and tables checked, pixels not
// yet.
func openSheet(path string) (*sheetFile, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	s, err := readSheet(f, info.Size())
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	s.path = path
	return s, nil
}

// readSheet reads header and tables of a file of the size given.
func readSheet(b blob, size int64) (*sheetFile, error) {
	head := make([]uint8, headerBytes)
	if _, err := b.ReadAt(head, 0); err != nil {
		return nil, fmt.Errorf("%w: %w", errForeign, err)
	}
	l, key, sum, err := decodeHeader(head)
	if err != nil {
		return nil, err
	}
	if l.total != size { // before anything is made by the header's word
		return nil, fmt.Errorf("%w: it has %d bytes instead of %d", errForeign, size, l.total)
	}
	tables := make([]uint8, l.tables)
	if _, err := b.ReadAt(tables, headerBytes); err != nil {
		return nil, fmt.Errorf("%w: %w", errForeign, err)
	}
	if crc32.Checksum(tables, castagnoli()) != sum {
		return nil, fmt.Errorf("in the tables %w", errSum)
	}
	s := &sheetFile{layout: l, blob: b, key: key}
	s.lut, s.sums, err = l.decodeTables(tables)
	return s, err
}

// read fills dst with a tile and checks it.
func (f *sheetFile) read(dst *rawTile, k Key) error {
	number, at := f.place(k)
	dst.shape(f.kinds[k.Level], rawTileRect(f.sizes[k.Level], k.X, k.Y).Size(), f.lut)
	if _, err := f.blob.ReadAt(dst.pix, at); err != nil {
		return &damage{f, err}
	}
	if tileSum(k, dst.pix) != f.sums[number] {
		return &damage{f, fmt.Errorf("tile %d, %d of level %d: %w", k.X, k.Y, k.Level, errSum)}
	}
	return nil
}

// put writes a tile; it is the sink of a pass.
func (f *sheetFile) put(k Key, s *rawTile) error {
	number, at := f.place(k)
	f.sums[number] = tileSum(k, s.pix)
	_, err := f.blob.WriteAt(s.pix, at)
	return err
}

// seal writes tables and header, which makes the file a stored picture.
func (f *sheetFile) seal() error {
	tables := f.encodeTables(f.lut, f.sums)
	if _, err := f.blob.WriteAt(tables, headerBytes); err != nil {
		return err
	}
	_, err := f.blob.WriteAt(f.encodeHeader(f.key, tables), 0)
	return err
}

// level reads a whole level into memory.
func (f *sheetFile) level(n int) (*tiled, error) {
	sz := f.sizes[n]
	t := &tiled{sz: sz, form: f.kinds[n]}
	for y := range span(sz.Y) {
		for x := range span(sz.X) {
			s := newRawTile(f.kinds[n].bytes(rawTileRect(sz, x, y).Size()))
			if err := f.read(s, Key{n, x, y}); err != nil {
				return nil, err
			}
			t.grid = append(t.grid, s)
		}
	}
	return t, nil
}
