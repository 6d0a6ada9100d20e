package tiff

import (
	"errors"
	"io"
)

// maxFaxWidth bounds the length of a facsimile row in pixels.
const maxFaxWidth = 1 << 18

// errRow says that one row is damaged, but the next can be tried.
var errRow = errors.New("a row of facsimile data makes no sense")

// fax unpacks the facsimile encodings: modified Huffman rows (Compression 2),
// group 3 in one or two dimensions (ITU-T T.4) and group 4 (ITU-T T.6). A row
// is packed eight pixels a byte, 1 for what the codes call black.
type fax struct {
	src      io.ByteReader
	width    int
	kind     int  // Compression
	two      bool // group 3 with two-dimensional rows
	bits     uint64
	nbits    uint
	beyond   uint // zero bits made up after the end
	err      error
	white    *faxTable
	black    *faxTable
	modes    *faxTable
	ref, now []int // where the colour changes, the first to black
	at       int   // the place in ref looked at last
}

func newFax(p *Page) *fax {
	return &fax{
		width: p.ChunkWidth, kind: p.compression, two: p.compression == compG3 && p.d.number(tagT4Options, 0)&1 != 0,
		white: runTable(faxWhite), black: runTable(faxBlack), modes: modeTable(),
	}
}

// reset begins with new data.
func (f *fax) reset(src io.ByteReader) {
	f.src, f.bits, f.nbits, f.beyond, f.err = src, 0, 0, 0, nil
	f.ref, f.now = f.ref[:0], f.now[:0]
}

// next unpacks a row. errRow leaves the reader ready for the next one.
func (f *fax) next(row []byte) error {
	f.ref, f.now, f.at = f.now, f.ref[:0], 0
	err := f.row()
	if err == nil && f.beyond > f.nbits {
		err = f.ended()
	}
	if err != nil && len(f.now)%2 == 1 {
		f.now = f.now[:len(f.now)-1]
	}
	paint(row, f.now, f.width)
	if err == errRow && f.err != nil {
		return f.ended()
	}
	if err == errRow && f.kind == compG3 && f.resync() {
		return errRow
	}
	if err == errRow {
		return corrupt("its facsimile data holds a code that makes no sense")
	}
	return err
}

// ended is the error for data that is used up.
func (f *fax) ended() error {
	if f.err != nil && f.err != io.EOF {
		return f.err
	}
	return io.ErrUnexpectedEOF
}

func (f *fax) row() error {
	switch f.kind {
	case compCCITT:
		f.take(f.nbits % 8)
		return f.oneDimension()
	case compG4:
		return f.twoDimensions()
	}
	found := f.endOfLine()
	if f.beyond > f.nbits {
		return f.ended()
	}
	if !f.two {
		if found && f.peek(12) == 1 { // two in a row: the end of the page
			return io.ErrUnexpectedEOF
		}
		return f.oneDimension()
	}
	if !found {
		return errRow
	}
	one := f.peek(1) == 1
	f.take(1)
	if one && f.peek(12) == 1 {
		return io.ErrUnexpectedEOF
	}
	if one {
		return f.oneDimension()
	}
	return f.twoDimensions()
}

// endOfLine passes over fill bits and the code that ends a line, if it is
// there.
func (f *fax) endOfLine() bool {
	for f.peek(12) == 0 && f.beyond <= f.nbits {
		f.take(1)
	}
	if f.peek(12) != 1 {
		return false
	}
	f.take(12)
	return true
}

// resync looks for the next end of a line and stops before it.
func (f *fax) resync() bool {
	for f.beyond <= f.nbits {
		if f.peek(12) == 1 {
			return true
		}
		f.take(1)
	}
	return false
}

// peek gives the next n bits, at most faxBits, without taking them. After the
// end come zeros.
func (f *fax) peek(n uint) int {
	for f.nbits < n {
		var b byte
		if f.err == nil {
			b, f.err = f.src.ReadByte()
		}
		if f.err != nil {
			b = 0
			f.beyond += 8
		}
		f.bits = f.bits<<8 | uint64(b)
		f.nbits += 8
	}
	return int(f.bits >> (f.nbits - n) & (1<<n - 1))
}

func (f *fax) take(n uint) {
	f.peek(n)
	f.nbits -= n
}

// run reads the length of a run of one colour: any number of make-up codes
// and a terminating one.
func (f *fax) run(t *faxTable) (int, error) {
	for sum := 0; ; {
		c := t[f.peek(faxBits)]
		if c.length == 0 {
			return 0, errRow
		}
		f.take(uint(c.length))
		sum += int(c.value)
		if sum > f.width {
			return 0, errRow
		}
		if c.value < 64 {
			return sum, nil
		}
	}
}

// change notes where the colour changes. A run of no length is no change.
func (f *fax) change(at int) {
	if n := len(f.now); n > 0 && f.now[n-1] == at {
		f.now = f.now[:n-1]
		return
	}
	f.now = append(f.now, at)
}

func (f *fax) oneDimension() error {
	t, other := f.white, f.black
	for at := 0; at < f.width; {
		n, err := f.run(t)
		if err != nil {
			return err
		}
		if at += n; at > f.width {
			return errRow
		}
		f.change(at)
		t, other = other, t
	}
	return nil
}

func (f *fax) twoDimensions() error {
	at, colour := -1, 0
	for at < f.width {
		mode, err := f.mode()
		if err != nil {
			return err
		}
		b1, b2 := f.above(at, colour)
		switch mode {
		case modePass:
			at = b2
			continue
		case modeHorizontal:
			if at, err = f.twoRuns(max(at, 0), colour); err != nil {
				return err
			}
			continue
		}
		next := b1 + vertical(mode)
		if next < max(at, 0) || next > f.width {
			return errRow
		}
		at, colour = next, 1-colour
		f.change(at)
	}
	return nil
}

// mode reads how the next change is coded.
func (f *fax) mode() (int, error) {
	c := f.modes[f.peek(faxBits)]
	if c.length == 0 && f.kind == compG4 && f.peek(12) == 1 { // the end of the block
		return 0, io.ErrUnexpectedEOF
	}
	if c.length == 0 {
		return 0, errRow
	}
	f.take(uint(c.length))
	return int(c.value), nil
}

// vertical is the distance that a vertical mode stands for, right positive.
func vertical(mode int) int {
	if mode <= modeVR3 {
		return mode - modeV0
	}
	return modeVR3 - mode
}

// twoRuns reads the two runs of horizontal mode.
func (f *fax) twoRuns(at, colour int) (int, error) {
	t, other := f.white, f.black
	if colour == 1 {
		t, other = other, t
	}
	for _, t := range []*faxTable{t, other} {
		n, err := f.run(t)
		if err != nil {
			return 0, err
		}
		if at += n; at > f.width {
			return 0, errRow
		}
		f.change(at)
	}
	return at, nil
}

// above gives the first change of the row above to the right of a place, away
// from the present colour, and the one after it.
func (f *fax) above(at, colour int) (b1, b2 int) {
	i := f.at
	for i > 0 && f.changeAbove(i-1) > at {
		i--
	}
	for i < len(f.ref) && f.ref[i] <= at {
		i++
	}
	if i&1 != colour {
		i++
	}
	f.at = i
	return f.changeAbove(i), f.changeAbove(i + 1)
}

func (f *fax) changeAbove(i int) int {
	if i < len(f.ref) {
		return f.ref[i]
	}
	return f.width
}
