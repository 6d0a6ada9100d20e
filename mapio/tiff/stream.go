package tiff

import (
	"bufio"
	"compress/zlib"
	"errors"
	"io"
	"math/bits"

	"golang.org/x/image/ccitt"
	"golang.org/x/image/tiff/lzw"
)

// stream unpacks the stored data of a chunk row by row. Each goroutine has its own
// and reuses it for every chunk.
type stream struct {
	page *Page
	src  section
	buf  *bufio.Reader
	zip  io.ReadCloser
}

const streamBuffer = 128 << 10

func newStream(p *Page) *stream {
	s := &stream{page: p}
	s.buf = bufio.NewReaderSize(&s.src, streamBuffer)
	return s
}

// open begins a chunk stored at a place.
func (s *stream) open(c chunk, at, n int64) (io.Reader, error) {
	s.src = section{in: s.page.d.in, at: at, left: n, reversed: s.page.reversed}
	s.buf.Reset(&s.src)
	switch s.page.compression {
	case compPackBits:
		return &packBits{src: s.buf}, nil
	case compLZW:
		return s.lzw()
	case compDeflate, compOldDeflate:
		err := s.unzip()
		return s.zip, err
	case compG3:
		return s.fax(c, ccitt.Group3), nil
	case compG4:
		return s.fax(c, ccitt.Group4), nil
	}
	return s.buf, nil
}

// lzw unpacks the LZW of TIFF 6.0, section 13. Files from before that have the
// least significant bit first: they are known by how their first code, a clear,
// looks.
func (s *stream) lzw() (io.Reader, error) {
	if head, _ := s.buf.Peek(2); len(head) == 2 && head[0] == 0 && head[1]&1 == 1 {
		return nil, unsupported("its LZW data is of the kind written before 1988")
	}
	return lzw.NewReader(s.buf, lzw.MSB, 8), nil
}

// fax unpacks facsimile data: group 3 in one dimension (ITU-T T.4) or group 4
// (ITU-T T.6). A row is packed eight pixels a byte, 1 for what the codes call
// black.
func (s *stream) fax(c chunk, kind ccitt.SubFormat) io.Reader {
	return ccitt.NewReader(s.buf, ccitt.MSB, kind, c.Dx(), c.Dy(), &ccitt.Options{Invert: true})
}

func (s *stream) unzip() (err error) {
	if s.zip == nil {
		s.zip, err = zlib.NewReader(s.buf)
		return err
	}
	return s.zip.(zlib.Resetter).Reset(s.buf, nil)
}

// checked reads on after the last row of a whole chunk up to the checksum. Damage
// may leave more rows than the chunk has; so may some writers, in the last strip.
func (s *stream) checked(c chunk) error {
	if s.zip == nil {
		return nil
	}
	_, err := io.CopyN(io.Discard, s.zip, s.page.need(s.page.ChunkHeight))
	switch {
	case err == nil:
		return corrupt("%s %d has more data than its pixels need", s.page.chunkName(), c.n)
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF): // all rows are there
		return nil
	}
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
	switch {
	case n > 0 && err == io.EOF:
		err = nil
	case err != nil && err != io.EOF:
		err = &readError{err}
	}
	s.at, s.left = s.at+int64(n), s.left-int64(n)
	if s.reversed {
		for i, b := range p[:n] {
			p[i] = bits.Reverse8(b)
		}
	}
	return n, err
}
