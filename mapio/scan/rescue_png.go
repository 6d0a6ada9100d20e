package scan

import (
	"bufio"
	"compress/zlib"
	"context"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"slices"
)

// rescuePNG decodes what can be had of a PNG that is cut off or damaged: its
// data is unpacked as far as it goes, filled up with zeros and packed again
// without compression, row by row, for the ordinary decoder. It returns the
// first decoder's error if there is nothing to be had.
func rescuePNG(ctx context.Context, f *file, first error, s *Scan) (image.Image, error) {
	if isUnsupported(first) {
		return nil, first
	}
	r := pngRescue{in: f.section()}
	if err := r.collect(); err != nil {
		return nil, first
	}
	pr, pw := io.Pipe()
	go func() { pw.CloseWithError(r.write(ctx, pw)) }()
	img, err := guarded(func() (image.Image, error) { return png.Decode(bufio.NewReaderSize(pr, 256<<10)) })
	pr.CloseWithError(io.ErrClosedPipe)
	if cause := context.Cause(ctx); cause != nil {
		return nil, cause
	}
	if err != nil || r.good == 0 {
		return nil, first
	}
	s.Truncated = r.good < r.total
	switch {
	case !s.Truncated:
		s.warn("a checksum of this PNG is wrong: parts of the picture may be damaged; hold it against the original")
	case s.Header.Progressive:
		s.warn("this PNG is cut off or damaged: %d %% of its data are shown; copy it again from where it came", 100*r.good/r.total)
	default:
		s.warn("this PNG is cut off or damaged: the upper %d of %d rows are shown, the rest is blank; copy it again from where it came",
			r.good, r.total)
	}
	return img, nil
}

type pngRescue struct {
	in          *io.SectionReader
	ihdr        []byte
	keep        []byte // PLTE and tRNS, packed as chunks
	data        int64  // where the first IDAT begins
	good, total int    // rows of data, of all passes
}

// collect reads the chunks before the data.
func (r *pngRescue) collect() error {
	at := int64(8)
	for range maxSegments {
		c, err := nextChunk(r.in, at)
		if err != nil {
			return err
		}
		if c.name == "IDAT" {
			r.data = at
			return nil
		}
		if c.name == "IHDR" || c.name == "PLTE" || c.name == "tRNS" {
			if c.size > 1024 {
				return ErrCorrupt
			}
			b := make([]byte, c.size)
			if _, err := r.in.ReadAt(b, c.at); err != nil {
				return err
			}
			if c.name == "IHDR" {
				r.ihdr = b
			} else {
				r.keep = appendChunk(r.keep, c.name, b)
			}
		}
		at = c.next()
	}
	return ErrCorrupt
}

func appendChunk(to []byte, name string, content []byte) []byte {
	to = binary.BigEndian.AppendUint32(to, uint32(len(content)))
	start := len(to)
	to = append(append(to, name...), content...)
	return binary.BigEndian.AppendUint32(to, crc32.ChecksumIEEE(to[start:]))
}

// write makes the mended PNG. It fails when the decoder has gone away.
func (r *pngRescue) write(ctx context.Context, w io.Writer) error {
	if len(r.ihdr) != 13 {
		return ErrCorrupt
	}
	head := appendChunk([]byte("\x89PNG\r\n\x1a\n"), "IHDR", r.ihdr)
	if _, err := w.Write(append(head, r.keep...)); err != nil {
		return err
	}
	z, err := zlib.NewWriterLevel(chunkWriter{w}, zlib.NoCompression)
	if err != nil {
		return err
	}
	unpacked, err := zlib.NewReader(contextReader{ctx, &dataReader{in: r.in, at: r.data}})
	broken := err != nil
	var buf []byte
	for n := range pngRows(r.ihdr) {
		buf = slices.Grow(buf[:0], n)
		row := buf[:n]
		if !broken {
			_, err := io.ReadFull(unpacked, row)
			broken = err != nil || row[0] > 4
		}
		if broken {
			clear(row)
		} else {
			r.good++
		}
		r.total++
		if _, err := z.Write(row); err != nil {
			return err
		}
	}
	if err := z.Close(); err != nil {
		return err
	}
	_, err = w.Write(appendChunk(nil, "IEND", nil))
	return err
}

// pngRows yields the length in bytes, filter byte included, of every row of
// data a PNG holds, pass by pass where it is interlaced.
func pngRows(ihdr []byte) func(yield func(int) bool) {
	w := int(binary.BigEndian.Uint32(ihdr))
	h := int(binary.BigEndian.Uint32(ihdr[4:]))
	bits := int(ihdr[8]) * map[byte]int{0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[ihdr[9]]
	passes := [][4]int{{0, 0, 1, 1}} // first column, first row, steps
	if ihdr[12] == 1 {
		passes = [][4]int{{0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4}, {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2}}
	}
	return func(yield func(int) bool) {
		for _, p := range passes {
			cols, rows := (w-p[0]+p[2]-1)/p[2], (h-p[1]+p[3]-1)/p[3]
			if cols <= 0 {
				continue
			}
			for range rows {
				if !yield(1 + (cols*bits+7)/8) {
					return
				}
			}
		}
	}
}

// chunkWriter packs each write into an IDAT chunk.
type chunkWriter struct{ w io.Writer }

func (c chunkWriter) Write(p []byte) (int, error) {
	if _, err := c.w.Write(appendChunk(nil, "IDAT", p)); err != nil {
		return 0, err
	}
	return len(p), nil
}

// dataReader reads the contents of consecutive IDAT chunks, taking no notice
// of checksums.
type dataReader struct {
	in  *io.SectionReader
	at  int64 // next chunk
	now *io.SectionReader
}

func (d *dataReader) Read(p []byte) (int, error) {
	for {
		if d.now != nil {
			n, err := d.now.Read(p)
			if n > 0 || err != io.EOF {
				return n, err
			}
		}
		c, err := nextChunk(d.in, d.at)
		if err != nil || c.name != "IDAT" {
			return 0, io.ErrUnexpectedEOF
		}
		d.now, d.at = io.NewSectionReader(d.in, c.at, c.size), c.next()
	}
}
