package tiff

import (
	"cmp"
	"image"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Format is how the samples of a page are to be read.
type Format int

// The sample formats of TIFF 6.0, section 19.
const (
	Unsigned Format = 1
	Signed   Format = 2
	Float    Format = 3
)

// Page is one picture of a file: its size, its form and where its pixels are.
// Nothing of it is turned by the orientation.
type Page struct {
	// Width and Height are the stored size in pixels. They are as the file
	// claims them; Check says whether they make sense.
	Width, Height int
	// Orientation is 1 (as stored) to 8, 1 where absent or outside.
	Orientation int
	// DPI is the resolution in pixels per inch along the stored rows, DPIDown
	// along the columns; 0 where the file gives none in inches or centimetres.
	DPI, DPIDown float64
	// Channels is the number of samples per pixel, BitDepth the bits of each,
	// Format how to read them.
	Channels, BitDepth int
	Format             Format
	// Paletted says that pixels are indices into a list of colours.
	Paletted bool
	// Compression is the encoding's name: "none", "LZW", "JPEG"…
	Compression string
	// Tiled says whether the pixels are in tiles, of ChunkWidth × ChunkHeight
	// pixels, or in strips of that size.
	Tiled                   bool
	ChunkWidth, ChunkHeight int
	// Overviews are the reduced copies, the largest first.
	Overviews []*Page

	d           *directory
	compression int
	photometric int
	predictor   int
	planes      int // 1, or Channels where each has its own chunks
	reversed    bool
	extra       []int // meaning of the extra samples, TIFF 6.0 ExtraSamples
	sub         image.Point
	problem     error

	once  sync.Once
	index index
	fault error // of the index
}

// Bounds is the rectangle of the stored pixels, from (0, 0).
func (p *Page) Bounds() image.Rectangle { return image.Rect(0, 0, p.Width, p.Height) }

// Check says whether the page is of a kind that can be decoded, before any
// pixel is read: nil, or an error that wraps ErrCorrupt, ErrUnsupported or
// ErrTooLarge.
func (p *Page) Check() error { return p.problem }

// NoData gives the value that stands for "nothing known here" in terrain, by
// the text tag GDAL_NODATA (42113); ok is false where there is none.
func (p *Page) NoData() (value float64, ok bool) {
	s := strings.TrimSpace(p.d.text(tagNoData, 64))
	if s == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil && !math.IsInf(v, 0) {
		return 0, false
	}
	return v, true
}

func newPage(d *directory) *Page {
	p := &Page{
		d:           d,
		Width:       d.number(tagImageWidth, 0),
		Height:      d.number(tagImageLength, 0),
		Orientation: d.number(tagOrientation, 1),
		Channels:    d.number(tagSamplesPerPixel, 1),
		Format:      Unsigned,
		compression: d.number(tagCompression, compNone),
		photometric: d.number(tagPhotometric, photoBlackIsZero),
		predictor:   d.number(tagPredictor, 1),
		planes:      1,
		reversed:    d.number(tagFillOrder, 1) == 2,
		sub:         image.Pt(1, 1),
	}
	if p.Orientation < 1 || p.Orientation > 8 {
		p.Orientation = 1
	}
	p.Compression = compressionName(p.compression)
	p.Paletted = p.photometric == photoPalette
	p.DPI, p.DPIDown = dpi(d, tagXResolution), dpi(d, tagYResolution)
	p.problem = p.read()
	return p
}

// dpi reads a resolution in pixels per inch; the unit is the inch unless the
// file says otherwise. Values that no scan has count as absent.
func dpi(d *directory, tag uint16) float64 {
	v, err := d.floats(tag, 1)
	if err != nil || len(v) == 0 {
		return 0
	}
	switch d.number(tagResolutionUnit, 2) {
	case 2:
	case 3:
		v[0] *= 2.54
	default: // a ratio only
		return 0
	}
	const finest = 30000
	if !(v[0] >= 1 && v[0] <= finest) {
		return 0
	}
	return v[0]
}

// read takes the fields that can be wrong, in the order in which they depend
// on each other.
func (p *Page) read() error {
	const most = math.MaxInt32 - 1
	if p.Width < 1 || p.Height < 1 || p.Width > most || p.Height > most {
		return corrupt("its size is given as %d × %d pixels", p.Width, p.Height)
	}
	for _, step := range []func() error{p.readSamples, p.readExtra, p.readColour, p.readLayout, p.readCoding} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// maxChannels bounds the samples of a pixel.
const maxChannels = 512

// readSamples reads number, width and format of the samples.
func (p *Page) readSamples() error {
	if p.Channels < 1 || p.Channels > maxChannels {
		return corrupt("it has %d samples per pixel, but only 1 to %d are allowed", p.Channels, maxChannels)
	}
	bits, err := p.same(tagBitsPerSample, 1)
	if err != nil {
		return err
	}
	form, err := p.same(tagSampleFormat, 1)
	if err != nil {
		return err
	}
	p.BitDepth, p.Format = bits, Format(form)
	switch p.Format {
	case 4: // undefined: as unsigned
		p.Format = Unsigned
	case Unsigned, Signed:
	case Float:
		if bits != 32 && bits != 64 {
			return unsupported("its floating-point samples have %d bits, but only 32 or 64 can be read", bits)
		}
	default:
		return unsupported("its samples are of format %d, but only 1 to 4 can be read", form)
	}
	if bits < 1 || bits > 64 || bits > 32 && bits != 64 {
		return unsupported("its samples have %d bits, but only 1 to 32 and 64 can be read", bits)
	}
	return nil
}

// same reads a field that has a value for each sample and wants them equal.
func (p *Page) same(tag uint16, absent int) (int, error) {
	v, err := p.d.whole(tag, p.Channels)
	if err != nil {
		return 0, err
	}
	for _, x := range v {
		if x != v[0] {
			return 0, unsupported("its samples differ in form (%d and %d of tag %d)", v[0], x, tag)
		}
	}
	if len(v) == 0 {
		return absent, nil
	}
	return int(min(v[0], math.MaxInt32)), nil
}

// readExtra reads what the samples beyond the colours mean.
func (p *Page) readExtra() error {
	v, err := p.d.whole(tagExtraSamples, p.Channels)
	if err != nil {
		return err
	}
	for _, x := range v {
		p.extra = append(p.extra, int(min(x, math.MaxInt32)))
	}
	return nil
}

// addOverview attaches a reduced copy if it is smaller and of the same shape,
// within a pixel or a twentieth.
func (p *Page) addOverview(o *Page) {
	if p.problem != nil || o.problem != nil || o.Width > p.Width || o.Height > p.Height || o.Bounds() == p.Bounds() {
		return
	}
	want := float64(p.Height) * float64(o.Width) / float64(p.Width)
	if math.Abs(want-float64(o.Height)) > 1.5+want/20 {
		return
	}
	i, _ := slices.BinarySearchFunc(p.Overviews, o, func(a, b *Page) int { return cmp.Compare(b.Width, a.Width) })
	p.Overviews = slices.Insert(p.Overviews, i, o)
}
