package tiff

import (
	"bufio"
	"compress/zlib"
	"errors"
	"io"
	"math/bits"
)

// rows yields the rows of a chunk, one after the other.
type rows interface {
	next(row []byte) error
}

// stream turns what is stored for a chunk into rows. Each goroutine has its
// own and uses it again for every chunk.
type stream struct {
	page *Page
	src  section
	buf  *bufio.Reader
	zip  io.ReadCloser
	lzw  *lzw
	fax  *fax
}

const streamBuffer = 128 << 10

func newStream(p *Page) *stream {
	s := &stream{page: p}
	s.buf = bufio.NewReaderSize(&s.src, streamBuffer)
	return s
}

// open begins a chunk stored at a place.
func (s *stream) open(at, n int64) (rows, error) {
	s.src = section{in: s.page.d.in, at: at, left: n, reversed: s.page.reversed}
	s.buf.Reset(&s.src)
	switch s.page.compression {
	case compPackBits:
		return plain{&packBits{src: s.buf}}, nil
	case compLZW:
		if s.lzw == nil {
			s.lzw = new(lzw)
		}
		s.lzw.reset(s.buf)
		return plain{s.lzw}, nil
	case compDeflate, compOldDeflate:
		if err := s.unzip(); err != nil {
			return nil, err
		}
		return plain{s.zip}, nil
	case compCCITT, compG3, compG4:
		if s.fax == nil {
			s.fax = newFax(s.page)
		}
		s.fax.reset(s.buf)
		return s.fax, nil
	}
	return plain{s.buf}, nil
}

func (s *stream) unzip() (err error) {
	if s.zip == nil {
		s.zip, err = zlib.NewReader(s.buf)
		return err
	}
	return s.zip.(zlib.Resetter).Reset(s.buf, nil)
}

// checked reads on after the last row of a whole chunk, where the checksum
// is.
func (s *stream) checked() error {
	if s.zip == nil {
		return nil
	}
	var b [1]byte
	if _, err := s.zip.Read(b[:]); errors.Is(err, zlib.ErrChecksum) {
		return err
	}
	return nil
}

// plain reads rows that stand one after the other.
type plain struct{ r io.Reader }

func (p plain) next(row []byte) error {
	_, err := io.ReadFull(p.r, row)
	return err
}

// section reads a part of the file, with the bits of each byte turned round
// where FillOrder says so.
type section struct {
	in       *input
	at, left int64
	reversed bool
}

func (s *section) Read(p []byte) (int, error) {
	if s.left <= 0 {
		return 0, io.EOF
	}
	p = p[:min(int64(len(p)), s.left, 1<<20)]
	n, err := s.in.r.ReadAt(p, s.at)
	if n > 0 && err == io.EOF {
		err = nil
	}
	s.at, s.left = s.at+int64(n), s.left-int64(n)
	if s.reversed {
		for i, b := range p[:n] {
			p[i] = bits.Reverse8(b)
		}
	}
	return n, err
}
