package jpg

import (
	"fmt"
	"image"
)

// frame is what the frame header says (T.81, B.2.2).
type frame struct {
	kind       byte // the marker's code
	w, h       int
	comps      []*component
	hmax, vmax int
	ratio      image.YCbCrSubsampleRatio
}

// component is one plane of the picture.
type component struct {
	id, h, v, tq byte
	index        int
	// perRow and rows count its blocks; acrossUnits and downUnits count them
	// rounded up to whole units of interleaved scans.
	perRow, rows           int
	acrossUnits, downUnits int

	pix         []uint8 // downUnits·8 rows of stride
	stride      int
	small       []uint8
	smallStride int
	coefs       []int16 // progressive: 64 a block, acrossUnits a row
	lasts       []uint8 // progressive: place of the last coefficient of each block
	seen        bool    // its DC coefficients have been decoded, or all of a sequential one's
}

func up(a, b int) int { return (a + b - 1) / b }

func (d *decoder) startFrame(kind byte, b []byte) error {
	if d.frame != nil || len(b) < 6 || len(b) < 6+3*int(b[5]) || b[5] < 1 || b[5] > 4 {
		return ErrDamaged
	}
	f := &frame{kind: kind, h: int(b[1])<<8 | int(b[2]), w: int(b[3])<<8 | int(b[4])}
	if f.w == 0 || f.h == 0 {
		return ErrDamaged
	}
	if f.w*f.h > MaxPixels {
		return fmt.Errorf("%w: %d × %d pixels, but at most %d megapixels can be read", ErrTooLarge, f.w, f.h, MaxPixels/1_000_000)
	}
	for i := range int(b[5]) {
		s := b[6+3*i:]
		c := &component{id: s[0], h: s[1] >> 4, v: s[1] & 15, tq: s[2], index: i}
		if c.h < 1 || c.h > 4 || c.v < 1 || c.v > 4 || c.tq > 3 {
			return ErrDamaged
		}
		f.comps = append(f.comps, c)
		f.hmax, f.vmax = max(f.hmax, int(c.h)), max(f.vmax, int(c.v))
	}
	if !d.check {
		if err := d.supported(f, b[0]); err != nil {
			return err
		}
	}
	f.measure()
	d.frame = f
	return nil
}

// supported also finds the sampling ratio.
func (d *decoder) supported(f *frame, precision byte) error {
	if f.kind > 0xc2 || precision != 8 {
		return fmt.Errorf("%w: its frame is of kind %x with %d bits per sample", ErrUnsupported, f.kind, precision)
	}
	switch len(f.comps) {
	case 1: // its sampling has no meaning
		f.comps[0].h, f.comps[0].v, f.hmax, f.vmax = 1, 1, 1, 1
		return nil
	case 3:
	default:
		return fmt.Errorf("%w: it has %d components", ErrUnsupported, len(f.comps))
	}
	y, cb, cr := f.comps[0], f.comps[1], f.comps[2]
	if d.adobeRGB || y.id == 'R' && cb.id == 'G' && cr.id == 'B' {
		return fmt.Errorf("%w: its colours are stored as red, green and blue", ErrUnsupported)
	}
	ratio, ok := ratios()[[2]byte{y.h, y.v}]
	if !ok || cb.h != 1 || cb.v != 1 || cr.h != 1 || cr.v != 1 {
		return fmt.Errorf("%w: its colours are sampled %d×%d, %d×%d, %d×%d", ErrUnsupported, y.h, y.v, cb.h, cb.v, cr.h, cr.v)
	}
	f.ratio = ratio
	return nil
}

func ratios() map[[2]byte]image.YCbCrSubsampleRatio {
	return map[[2]byte]image.YCbCrSubsampleRatio{
		{1, 1}: image.YCbCrSubsampleRatio444, {2, 1}: image.YCbCrSubsampleRatio422,
		{2, 2}: image.YCbCrSubsampleRatio420, {1, 2}: image.YCbCrSubsampleRatio440,
		{4, 1}: image.YCbCrSubsampleRatio411, {4, 2}: image.YCbCrSubsampleRatio410,
	}
}

// measure counts the blocks of each component (T.81, A.1.1, A.2).
func (f *frame) measure() {
	across, down := up(f.w, 8*f.hmax), up(f.h, 8*f.vmax)
	for _, c := range f.comps {
		c.perRow = up(up(f.w*int(c.h), f.hmax), 8)
		c.rows = up(up(f.h*int(c.v), f.vmax), 8)
		c.acrossUnits, c.downUnits = across*int(c.h), down*int(c.v)
	}
}

// allocate takes the memory of the picture when the first scan begins.
func (d *decoder) allocate() error {
	if d.check || d.begun {
		return nil
	}
	for _, c := range d.frame.comps {
		c.stride = 8 * c.acrossUnits
		n := c.stride * 8 * c.downUnits
		if d.frame.kind == 0xc2 {
			c.coefs = make([]int16, n)
			c.lasts = make([]uint8, n/64)
		} else if d.opt.Begin != nil && d.opt.Room != nil {
			c.pix = d.opt.Room(n)
		} else if !d.opt.SmallOnly {
			c.pix = make([]uint8, n)
		}
		if l := d.opt.Level; l > 0 && d.frame.kind != 0xc2 {
			c.smallStride = c.stride >> l
			c.small = make([]uint8, c.smallStride*(8*c.downUnits>>l))
		}
	}
	return nil
}

// whole puts the planes together.
func (f *frame) whole() image.Image {
	y := f.comps[0]
	r := image.Rect(0, 0, f.w, f.h)
	if len(f.comps) == 1 {
		return &image.Gray{Pix: y.pix, Stride: y.stride, Rect: r}
	}
	return &image.YCbCr{
		Y: y.pix, Cb: f.comps[1].pix, Cr: f.comps[2].pix,
		YStride: y.stride, CStride: f.comps[1].stride, SubsampleRatio: f.ratio, Rect: r,
	}
}

// smaller puts the small planes together.
func (f *frame) smaller(level int) image.Image {
	y := f.comps[0]
	r := image.Rect(0, 0, up(f.w, 1<<level), up(f.h, 1<<level))
	if len(f.comps) == 1 {
		return &image.Gray{Pix: y.small, Stride: y.smallStride, Rect: r}
	}
	return &image.YCbCr{
		Y: y.small, Cb: f.comps[1].small, Cr: f.comps[2].small,
		YStride: y.smallStride, CStride: f.comps[1].smallStride, SubsampleRatio: f.ratio, Rect: r,
	}
}

// giveSmall hands the small picture out.
func (d *decoder) giveSmall() {
	if d.opt.Level > 0 && !d.check && d.opt.Small != nil {
		d.opt.Small(d.frame.smaller(d.opt.Level))
	}
}

// allSeen says that every component has its DC coefficients.
func (f *frame) allSeen() bool {
	for _, c := range f.comps {
		if !c.seen {
			return false
		}
	}
	return true
}

// finish makes what is left to make, and the picture.
func (d *decoder) finish() (image.Image, error) {
	if d.opt.SmallOnly {
		return d.frame.smaller(3), nil
	}
	if d.frame.kind == 0xc2 {
		if err := d.transform(); err != nil {
			return nil, err
		}
	}
	return d.frame.whole(), nil
}
