package tiff

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"io"

	"github.com/gen2brain/jpegn"

	"legwright/mapio/jpg"
)

// maxJPEGExtra is what a JPEG chunk may take beyond six bytes a sample: more
// is a count that lies.
const maxJPEGExtra = 4 << 20

// jpeg decodes a chunk that is a JPEG stream of its own (Technical Note 2).
func (w *worker) jpeg(ctx context.Context, j job, at, n int64) error {
	p := w.u.p
	data, err := p.jpegStream(at, min(n, maxJPEGExtra+6*p.need(j.Dy())))
	if err != nil {
		return err
	}
	m, err := p.decodeJPEG(ctx, j.chunk, data)
	if err != nil {
		return err
	}
	if b := m.Bounds(); b.Dx() < min(j.Max.X, p.Width)-j.Min.X || b.Dy() < j.to-j.Min.Y {
		return corrupt("%s %d is a JPEG of %d × %d pixels, but should be %d × %d", p.chunkName(), j.n, b.Dx(), b.Dy(), j.Dx(), j.Dy())
	}
	w.u.sink.jpeg(j.chunk, m)
	return nil
}

// jpegStream puts together what a decoder wants: the tables that all chunks
// share, a marker that says which kind of colours it is, then the chunk.
func (p *Page) jpegStream(at, n int64) ([]byte, error) {
	tables, err := p.jpegTables()
	if err != nil {
		return nil, err
	}
	if n < 4 || at > p.d.in.size-n {
		return nil, truncated("a JPEG in it should have %d bytes at byte %d", n, at)
	}
	data := append([]byte{0xff, 0xd8}, p.colourMarker()...)
	data = append(data, tables...)
	head := len(data)
	data = append(data, make([]byte, n-2)...)
	in := section{in: p.d.in, at: at, left: n}
	var start [2]byte
	if _, err := io.ReadFull(&in, start[:]); err != nil {
		return nil, err
	}
	if start != [2]byte{0xff, 0xd8} {
		return nil, corrupt("a JPEG in it begins with % x", start)
	}
	if _, err := io.ReadFull(&in, data[head:]); err != nil {
		return nil, err
	}
	return data, nil
}

// colourMarker makes the segment by which decoders know colours that are to
// be left as they are from those stored as brightness and differences. A
// stream of one part needs none.
func (p *Page) colourMarker() []byte {
	if p.perChunk() == 1 {
		return nil
	}
	transform := byte(0)
	if p.photometric == photoYCbCr {
		transform = 1
	}
	return []byte{0xff, 0xee, 0, 14, 'A', 'd', 'o', 'b', 'e', 0, 100, 0, 0, 0, 0, transform}
}

// jpegTables gives the segments of the tag JPEGTables without the markers
// around them.
func (p *Page) jpegTables() ([]byte, error) {
	const most = 1 << 16
	b, _, err := p.d.raw(tagJPEGTables, most)
	if err != nil || len(b) < 4 {
		return nil, err
	}
	b = bytes.TrimPrefix(b, []byte{0xff, 0xd8})
	if i := bytes.LastIndex(b, []byte{0xff, 0xd9}); i >= 0 {
		b = b[:i]
	}
	return b, nil
}

// jpegSub gives the subsampling of the first JPEG chunk of a window: the
// field in the directory is often wrong.
func (p *Page) jpegSub(r image.Rectangle) image.Point {
	for c := range p.chunks(r) {
		at, n, ok := p.place(c)
		if !ok {
			continue
		}
		data, err := p.jpegStream(at, min(n, 1<<16))
		if err != nil {
			break
		}
		if f, ok := frameOf(data); ok {
			return f.sub
		}
		break
	}
	return p.sub
}

// decodeJPEG decodes a chunk after checking that its frame matches the directory
// and its data is sound: the decoders ignore damage silently.
func (p *Page) decodeJPEG(ctx context.Context, c chunk, data []byte) (image.Image, error) {
	f, ok := frameOf(data)
	if !ok {
		return nil, corrupt("%s %d contains no JPEG frame", p.chunkName(), c.n)
	}
	const slack = 16 // some writers fill up to whole blocks
	if f.size.X > c.Dx()+slack || f.size.Y > c.Dy()+slack || f.parts != p.perChunk() || f.size.X < 1 || f.size.Y < 1 {
		return nil, corrupt("%s %d is a JPEG of %d × %d pixels of %d samples, but should be %d × %d of %d",
			p.chunkName(), c.n, f.size.X, f.size.Y, f.parts, c.Dx(), c.Dy(), p.perChunk())
	}
	if err := jpg.Check(ctx, bytes.NewReader(data)); err != nil {
		return nil, err
	}
	if f.parts < 4 { // the fast decoder takes four untransformed parts for three
		m, err := guarded(func() (image.Image, error) { return jpegn.Decode(bytes.NewReader(data)) })
		if err == nil && m.Bounds().Size() == f.size {
			return m, nil
		}
	}
	m, err := guarded(func() (image.Image, error) { return jpeg.Decode(bytes.NewReader(data)) })
	if err != nil {
		return nil, corrupt("the JPEG of %s %d cannot be decoded (%v)", p.chunkName(), c.n, err)
	}
	return m, nil
}

// guarded turns a decoder's panic into an error.
func guarded(decode func() (image.Image, error)) (m image.Image, err error) {
	defer func() {
		if v := recover(); v != nil {
			m, err = nil, fmt.Errorf("the decoder failed: %v", v)
		}
	}()
	return decode()
}
