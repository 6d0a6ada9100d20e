package pdf

import (
	"context"
	"math"

	"github.com/klippa-app/go-pdfium/enums"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
)

const (
	// mostPictures is how many objects of a page are looked at: a page of more
	// is a drawing, not a scan.
	mostPictures = 4096
	// covering is the part of a page that pictures must cover to be the page.
	covering = 0.9
)

// NativeDPI is the resolution at which the pictures that make up a page are
// stored, in pixels per inch, so that drawing it neither loses nor invents
// detail; 0 where the page is not made of pictures, or of pictures of
// different resolutions.
func (d *Document) NativeDPI(ctx context.Context, page int, p Page) (dpi float64, err error) {
	if err := d.checkPage(page); err != nil {
		return 0, err
	}
	err = d.do(ctx, func() error {
		loaded, err := d.inst.FPDF_LoadPage(&requests.FPDF_LoadPage{Document: d.ref, Index: page - 1})
		if err != nil {
			return nil // drawing says what is wrong
		}
		defer func() { _, _ = d.inst.FPDF_ClosePage(&requests.FPDF_ClosePage{Page: loaded.Page}) }()
		dpi = d.picturesDPI(loaded.Page, p)
		return nil
	})
	return dpi, err
}

// picturesDPI looks at the pictures of a page.
func (d *Document) picturesDPI(ref references.FPDF_PAGE, p Page) float64 {
	page := requests.Page{ByReference: &ref}
	n, err := d.inst.FPDFPage_CountObjects(&requests.FPDFPage_CountObjects{Page: page})
	if err != nil || n.Count > mostPictures {
		return 0
	}
	var area, first float64
	for i := range n.Count {
		per, covers := d.pictureDPI(page, i)
		switch {
		case covers == 0:
			continue
		case first == 0:
			first = per
		case math.Abs(per-first) > 0.01*first:
			return 0
		}
		area += covers
	}
	w, h := p.Size()
	if first == 0 || area < covering*w*h {
		return 0
	}
	return first / p.UserUnit
}

// pictureDPI is the resolution of a page's object in pixels a 72 units and
// the area it covers; 0 where it is not a picture or stands askew.
func (d *Document) pictureDPI(page requests.Page, i int) (dpi, area float64) {
	o, err := d.inst.FPDFPage_GetObject(&requests.FPDFPage_GetObject{Page: page, Index: i})
	if err != nil {
		return 0, 0
	}
	kind, err := d.inst.FPDFPageObj_GetType(&requests.FPDFPageObj_GetType{PageObject: o.PageObject})
	if err != nil || kind.Type != enums.FPDF_PAGEOBJ_IMAGE {
		return 0, 0
	}
	size, err := d.inst.FPDFImageObj_GetImagePixelSize(&requests.FPDFImageObj_GetImagePixelSize{ImageObject: o.PageObject})
	if err != nil || size.Width == 0 || size.Height == 0 {
		return 0, 0
	}
	m, err := d.inst.FPDFPageObj_GetMatrix(&requests.FPDFPageObj_GetMatrix{PageObject: o.PageObject})
	if err != nil {
		return 0, 0
	}
	a, b, c, e := float64(m.Matrix.A), float64(m.Matrix.B), float64(m.Matrix.C), float64(m.Matrix.D)
	w, h := math.Hypot(a, b), math.Hypot(c, e)
	area = math.Abs(a*e - b*c)
	if !(area > 0) || area < 0.999*w*h {
		return 0, 0
	}
	return 72 * max(float64(size.Width)/w, float64(size.Height)/h), area
}
