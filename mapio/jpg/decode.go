package jpg

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io"
)

var (
	// ErrUnsupported: a JPEG, but of a kind that this package does not read.
	ErrUnsupported = errors.New("this kind of JPEG is not supported")
	// ErrDamaged: the content violates the format.
	ErrDamaged = errors.New("the JPEG data is inconsistent")
	// ErrTooLarge: more than MaxPixels.
	ErrTooLarge = errors.New("the JPEG is too large")
	// ErrPanicked: the decoder broke down; the panic is contained.
	ErrPanicked = errors.New("the JPEG decoder failed")
)

// MaxPixels is the largest area that is decoded, in pixels.
const MaxPixels = 400_000_000

// Options say what is wanted besides the picture.
type Options struct {
	// Level asks for a small picture at 1/2^Level, 1 to 3, sides rounded up;
	// 0 asks for none, and progressive pictures have none. Each of its pixels is
	// the mean of a square of the picture; at the right and lower border the
	// squares reach into the blocks' padding.
	Level int
	// Small is handed that picture once, from a goroutine of the decoder and
	// before Decode returns. It must return soon: decoding waits for it.
	Small func(image.Image)
	// SmallOnly leaves the picture itself out: Decode returns the small one
	// of level 3. Progressive pictures are ErrUnsupported then.
	SmallOnly bool
	// Rows is called with how many of all rows have been decoded, in each pass over
	// the data; it may be nil. Decoding waits for it to return.
	Rows func(done, all int)
	// Begin, where it is set, is handed the picture before its first row, once.
	// Only pictures that come in one pass from top to bottom can be had so;
	// others are ErrUnsupported.
	Begin func(image.Image)
	// Room, where it is set, gives memory of so many bytes for a plane of a
	// picture that is handed to Begin. It may hold anything.
	Room func(bytes int) []uint8
	// Pixels is called, after Begin and from a goroutine of the decoder, with the
	// row down to which the picture has all its pixels, which are not written again. It
	// must return soon. Rows is ahead of it.
	Pixels func(rows int)
}

// Decode decodes the JPEG that r holds: a grey picture gives *image.Gray,
// colour gives *image.YCbCr in its own sampling. Errors are those of r other
// than io.EOF, the cause of an ended context, and the ones of this package;
// io.ErrUnexpectedEOF where the data ends before the picture does. With an
// error there is no picture. A picture that lacks only its end mark is complete,
// unless it is progressive: then a pass may be missing.
func Decode(ctx context.Context, r io.Reader, opt Options) (image.Image, error) {
	if opt.SmallOnly {
		opt.Level = 3
	}
	d := &decoder{in: newBits(r), ctx: ctx, opt: opt, z: zigzag()}
	return d.run()
}

// Check walks the data of any Huffman-coded sequential JPEG, four inks too,
// without making pixels; of other kinds it looks at the markers only. Errors
// are those of Decode, nil for a sound picture.
func Check(ctx context.Context, r io.Reader) error {
	d := &decoder{in: newBits(r), ctx: ctx, check: true, z: zigzag()}
	_, err := d.run()
	return err
}

type decoder struct {
	in    *bits
	ctx   context.Context
	opt   Options
	check bool // walk only
	z     [128]uint8

	frame    *frame
	dc, ac   [4]*huffman
	q        [4]*[64]int16
	interval int  // restart interval in units, 0 for none
	adobeRGB bool // three components are red, green, blue
	begun    bool // a scan has been decoded in part
}

func (d *decoder) run() (img image.Image, err error) {
	defer func() {
		if v := recover(); v != nil {
			img, err = nil, fmt.Errorf("%w: %v", ErrPanicked, v)
		}
	}()
	err = d.markers()
	whole := d.frame != nil && d.frame.allSeen()
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF) && whole && d.frame.kind != 0xc2: // the end mark alone is missing
	case err != nil:
		return nil, err
	case d.check && d.frame != nil && d.frame.kind > 0xc1: // its passes are not walked
	case !whole:
		return nil, fmt.Errorf("%w: it ends before the picture has all its colours", ErrDamaged)
	}
	if d.check {
		return nil, nil
	}
	return d.finish()
}

// markers reads up to the end mark, which gives nil.
func (d *decoder) markers() error {
	for {
		m, err := d.in.nextMarker()
		if err != nil {
			return err
		}
		switch {
		case m == 0xd9:
			return nil
		case m == 0xd8 || m == 0x01 || m >= 0xd0 && m <= 0xd7:
			continue
		}
		if err := context.Cause(d.ctx); err != nil {
			return err
		}
		body, err := d.in.segment()
		if err == nil {
			err = d.segment(m, body)
		}
		if err != nil {
			return err
		}
	}
}

func (d *decoder) segment(m byte, b []byte) error {
	switch m {
	case 0xc4:
		return d.huffmanTables(b)
	case 0xdb:
		return d.steps(b)
	case 0xdd:
		if len(b) < 2 {
			return ErrDamaged
		}
		d.interval = int(b[0])<<8 | int(b[1])
	case 0xee:
		if len(b) >= 12 && string(b[:5]) == "Adobe" {
			d.adobeRGB = b[11] == 0
		}
	case 0xc0, 0xc1, 0xc2, 0xc3, 0xc5, 0xc6, 0xc7, 0xc9, 0xca, 0xcb, 0xcd, 0xce, 0xcf:
		return d.startFrame(m, b)
	case 0xda:
		return d.scan(b)
	}
	return nil
}

func (d *decoder) huffmanTables(b []byte) error {
	for len(b) >= 17 {
		t, used := newHuffman(b[1:])
		if t == nil || b[0]&15 > 3 || b[0]>>4 > 1 {
			return ErrDamaged
		}
		if b[0]>>4 == 0 {
			d.dc[b[0]&15] = t
		} else {
			d.ac[b[0]&15] = t
		}
		b = b[1+used:]
	}
	if len(b) != 0 {
		return ErrDamaged
	}
	return nil
}

// steps reads quantization tables, in coded order (T.81, B.2.4.1).
func (d *decoder) steps(b []byte) error {
	for len(b) > 0 {
		wide := int(b[0] >> 4)
		if wide > 1 || b[0]&15 > 3 || len(b) < 1+64*(1+wide) {
			return ErrDamaged
		}
		q := new([64]int16)
		for k := range q {
			v := int(b[1+k*(1+wide)])
			if wide == 1 {
				v = v<<8 | int(b[2+2*k])
			}
			q[k] = int16(min(v, 1<<15-1))
		}
		d.q[b[0]&15] = q
		b = b[1+64*(1+wide):]
	}
	return nil
}

// scan decodes one scan.
func (d *decoder) scan(b []byte) error {
	f := d.frame
	if f == nil {
		return ErrDamaged
	}
	if d.check && f.kind > 0xc1 {
		d.in.startScan()
		return d.in.skipScan()
	}
	p, err := d.plan(b)
	if err != nil {
		return err
	}
	several := d.begun || f.kind == 0xc2 || len(p.parts) != len(f.comps)
	if d.opt.Begin != nil && several || d.opt.SmallOnly && f.kind == 0xc2 {
		return fmt.Errorf("%w: it is stored in several passes", ErrUnsupported)
	}
	if err := d.allocate(); err != nil {
		return err
	}
	d.begun = true
	if d.opt.Begin != nil {
		d.opt.Begin(f.whole())
	}
	d.in.startScan()
	if f.kind == 0xc2 {
		return d.progressive(p)
	}
	return d.sequential(p)
}
