package pdf

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
)

// readPage reads the dictionary of a page, counted from 1.
func readPage(ctx context.Context, r *io.SectionReader, number int) (_ Page, err error) {
	defer contain(&err)
	d, err := readDictionary(ctx, r)
	if err != nil {
		return Page{}, err
	}
	return d.page(number)
}

// inherited holds the values that a page without its own takes from the nodes above
// it (ISO 32000-2, 7.7.3.4).
type inherited struct{ mediaBox, cropBox, rotate object }

// leaf finds a page, counted from 1, in the tree of pages.
func (d *dictionary) leaf(number int) (dictObject, inherited, error) {
	var from inherited
	root, _ := d.dict(d.trailer["Root"])
	node, ok := d.dict(root["Pages"])
	left := int64(number)
	for depth := 0; ok && depth < maxNesting; depth++ {
		for key, to := range map[nameObject]*object{"MediaBox": &from.mediaBox, "CropBox": &from.cropBox, "Rotate": &from.rotate} {
			if o := d.resolve(node[key]); o != nil {
				*to = o
			}
		}
		kids, inner := d.resolve(node["Kids"]).(arrayObject)
		if !inner {
			return node, from, d.fault
		}
		node, ok = d.kid(kids, &left)
	}
	return nil, from, cmpError(d.fault, fmt.Sprintf("page %d is not in the document's list of pages", number))
}

// kid returns the child node with the page that is left pages away, and reduces
// left to the page's number within it.
func (d *dictionary) kid(kids arrayObject, left *int64) (dictObject, bool) {
	for _, o := range kids {
		node, ok := d.dict(o)
		if !ok {
			continue
		}
		pages := int64(1)
		if node["Kids"] != nil {
			pages, _ = d.resolve(node["Count"]).(int64)
		}
		if *left <= pages {
			return node, true
		}
		*left -= max(pages, 0)
	}
	return nil, false
}

// page reads a page's boxes and frames.
func (d *dictionary) page(number int) (p Page, err error) {
	dict, from, err := d.leaf(number)
	if err != nil {
		return p, err
	}
	turn, _ := d.number(from.rotate)
	p.Rotate = ((int(turn) % 360) + 360) % 360
	if p.Rotate%90 != 0 {
		return p, fmt.Errorf("the page is turned by %d°, which is not a multiple of 90°", p.Rotate)
	}
	media, ok := d.box(from.mediaBox)
	if !ok {
		return p, errors.New("the page has no media box")
	}
	p.Box = media
	if crop, ok := d.box(from.cropBox); ok {
		p.Box = p.Box.within(crop)
	}
	if w, h := p.Size(); !(w > 0 && h > 0) {
		return p, fmt.Errorf("according to its boxes the page is %g × %g points, so it has no area", w, h)
	}
	p.UserUnit = 1
	if u, ok := d.number(dict["UserUnit"]); ok && u >= 1 && u <= 75000 {
		p.UserUnit = u
	}
	d.readFrames(dict, &p)
	return p, d.fault
}

func (d *dictionary) box(o object) (Box, bool) {
	v, ok := d.numbers(o)
	if !ok || len(v) != 4 {
		return Box{}, false
	}
	return Box{math.Min(v[0], v[2]), math.Min(v[1], v[3]), math.Max(v[0], v[2]), math.Max(v[1], v[3])}, true
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
func (d *dictionary) readFrames(page dictObject, p *Page) {
	lgi, notes := d.readLGI(page["LGIDict"])
	p.Notes = append(p.Notes, notes...)
	iso, notes := d.readViewports(page["VP"])
	p.Notes = append(p.Notes, notes...)
	p.Frames = append(lgi, iso...)
	for i := range p.Frames {
		if f := &p.Frames[i]; f.Outline == nil {
			b := p.Box
			f.Outline = [][2]float64{{b.X0, b.Y0}, {b.X1, b.Y0}, {b.X1, b.Y1}, {b.X0, b.Y1}}
		}
	}
	slices.SortStableFunc(p.Frames, func(a, b Frame) int { return cmp.Compare(b.Area(), a.Area()) })
}
