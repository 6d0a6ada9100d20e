package pdf

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// maxDictionaryFile is the largest document, in bytes, of which the
// dictionaries are read: their reader keeps all of it in memory.
const maxDictionaryFile = 256 << 20

// errDictionary stands for a dictionary that cannot be read.
var errDictionary = errors.New("the PDF's structure cannot be read")

// dictionary is the structure of a document.
type dictionary struct{ table *model.XRefTable }

// readDictionary reads the structure of a document. No settings of pdfcpu are
// read from or made on this machine.
func readDictionary(ctx context.Context, r *io.SectionReader) (d *dictionary, err error) {
	defer containDictionary(&err)
	if r.Size() > maxDictionaryFile {
		return nil, fmt.Errorf("%w: the file has %d MB, at most %d", errDictionary, r.Size()>>20, maxDictionaryFile>>20)
	}
	limits := model.DefaultResourceLimits()
	limits.MaxStreamBytes, limits.MaxDecodeBytes = maxDictionaryFile, maxDictionaryFile
	limits.MaxObjectCount, limits.MaxXRefEntries = 1_000_000, 1_000_000
	c, err := pdfcpu.ReadWithContext(ctx, contextSection{ctx, r}, &model.Configuration{
		Reader15: true, ValidationMode: model.ValidationRelaxed, Offline: true, Limits: limits,
		Eol: types.EolLF, Cmd: model.LISTINFO,
	})
	if err != nil {
		return nil, fmt.Errorf("%w (%w)", errDictionary, err)
	}
	if err := c.EnsurePageCount(); err != nil {
		return nil, fmt.Errorf("%w (%w)", errDictionary, err)
	}
	return &dictionary{c.XRefTable}, nil
}

// containDictionary turns a panic of the dictionary's reader into an error.
func containDictionary(err *error) {
	if v := recover(); v != nil {
		*err = fmt.Errorf("%w (%v)", errDictionary, v)
	}
}

// page reads a page's boxes and frames.
func (d *dictionary) page(number int) (p Page, err error) {
	defer containDictionary(&err)
	dict, _, inherited, err := d.table.PageDict(number, false)
	if err != nil {
		return p, fmt.Errorf("%w (%w)", errDictionary, err)
	}
	p.Rotate = ((inherited.Rotate % 360) + 360) % 360
	if p.Rotate%90 != 0 {
		return p, fmt.Errorf("the page is turned by %d°, which is no quarter turn", p.Rotate)
	}
	if inherited.MediaBox == nil {
		return p, errors.New("the page has no media box")
	}
	p.Box = boxOf(inherited.MediaBox)
	if crop := inherited.CropBox; crop != nil {
		p.Box = p.Box.within(boxOf(crop))
	}
	if w, h := p.Size(); !(w > 0 && h > 0) {
		return p, fmt.Errorf("its boxes make the page %g × %g points, which is nothing", w, h)
	}
	p.UserUnit = 1
	if u, ok := d.number(dict["UserUnit"]); ok && u >= 1 && u <= 75000 {
		p.UserUnit = u
	}
	d.readFrames(dict, &p)
	return p, nil
}

func boxOf(r *types.Rectangle) Box {
	return Box{
		math.Min(r.LL.X, r.UR.X), math.Min(r.LL.Y, r.UR.Y),
		math.Max(r.LL.X, r.UR.X), math.Max(r.LL.Y, r.UR.Y),
	}
}

// within is the part of b inside c, or b where they do not meet.
func (b Box) within(c Box) Box {
	r := Box{math.Max(b.X0, c.X0), math.Max(b.Y0, c.Y0), math.Min(b.X1, c.X1), math.Min(b.Y1, c.Y1)}
	if r.X0 >= r.X1 || r.Y0 >= r.Y1 {
		return b
	}
	return r
}

// readFrames reads both kinds of statement. The largest map comes first, and of
// maps as large the OGC's statement, as GDAL takes that. One that states no
// edge is the whole page.
func (d *dictionary) readFrames(page types.Dict, p *Page) {
	lgi, doubts := d.readLGI(page["LGIDict"])
	p.Doubts = append(p.Doubts, doubts...)
	iso, doubts := d.readViewports(page["VP"])
	p.Doubts = append(p.Doubts, doubts...)
	p.Frames = append(lgi, iso...)
	for i := range p.Frames {
		if f := &p.Frames[i]; f.Outline == nil {
			b := p.Box
			f.Outline = [][2]float64{{b.X0, b.Y0}, {b.X1, b.Y0}, {b.X1, b.Y1}, {b.X0, b.Y1}}
		}
	}
	slices.SortStableFunc(p.Frames, func(a, b Frame) int { return cmp.Compare(b.Area(), a.Area()) })
}
