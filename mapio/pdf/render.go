package pdf

import (
	"context"
	"fmt"
	"image"

	"github.com/klippa-app/go-pdfium/enums"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
)

// bandArea is how many pixels are drawn at a time: 32 MB in the renderer.
const bandArea = 8 << 20

// Render draws a page, counted from 1, as a picture of the given size on
// white, with its notes but without forms. It tells how many rows are done
// after every band; progress may be nil. When ctx ends, its cause is returned
// and the document is closed. The caller bounds the size.
func (d *Document) Render(ctx context.Context, page, width, height int, progress func(done, total int)) (*image.RGBA, error) {
	if err := d.checkPage(page); err != nil {
		return nil, err
	}
	if width < 1 || height < 1 {
		return nil, fmt.Errorf("%w: a picture of %d × %d pixels is not possible", ErrTooLarge, width, height)
	}
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	err := d.do(ctx, func() error { return d.draw(page, out, progress) })
	if err != nil {
		return nil, err
	}
	return out, nil
}

// draw runs in the document's turn.
func (d *Document) draw(page int, out *image.RGBA, progress func(done, total int)) error {
	loaded, err := d.inst.FPDF_LoadPage(&requests.FPDF_LoadPage{Document: d.ref, Index: page - 1})
	if err != nil {
		return fmt.Errorf("%w: page %d cannot be read; copy the file again from the original", ErrDamaged, page)
	}
	defer func() { _, _ = d.inst.FPDF_ClosePage(&requests.FPDF_ClosePage{Page: loaded.Page}) }()
	size := out.Rect.Size()
	rows := min(size.Y, max(16, bandArea/size.X))
	bitmap, err := d.inst.FPDFBitmap_Create(&requests.FPDFBitmap_Create{Width: size.X, Height: rows})
	if err != nil {
		return d.drawFault(page, err)
	}
	defer func() { _, _ = d.inst.FPDFBitmap_Destroy(&requests.FPDFBitmap_Destroy{Bitmap: bitmap.Bitmap}) }()
	b := band{d: d, page: loaded.Page, bitmap: bitmap.Bitmap, size: size, rows: rows}
	for y := 0; y < size.Y; y += rows {
		if err := b.draw(y, out); err != nil {
			return d.drawFault(page, err)
		}
		if progress != nil {
			progress(min(y+rows, size.Y), size.Y)
		}
	}
	return nil
}

func (d *Document) drawFault(page int, err error) error {
	return fmt.Errorf("%w: page %d could not be drawn (%w); it may need too much memory: try a lower resolution", ErrEngine, page, err)
}

// band draws a few rows of a page at a time.
type band struct {
	d      *Document
	page   references.FPDF_PAGE
	bitmap references.FPDF_BITMAP
	size   image.Point
	rows   int
}

func (b band) draw(y int, out *image.RGBA) error {
	inst := b.d.inst
	if _, err := inst.FPDFBitmap_FillRect(&requests.FPDFBitmap_FillRect{
		Bitmap: b.bitmap, Width: b.size.X, Height: b.rows, Color: 0xffffffff,
	}); err != nil {
		return err
	}
	if _, err := inst.FPDF_RenderPageBitmap(&requests.FPDF_RenderPageBitmap{
		Bitmap: b.bitmap, Page: requests.Page{ByReference: &b.page}, StartY: -y, SizeX: b.size.X, SizeY: b.size.Y,
		Flags: enums.FPDF_RENDER_FLAG_REVERSE_BYTE_ORDER | enums.FPDF_RENDER_FLAG_ANNOT,
	}); err != nil {
		return err
	}
	return b.copy(y, out)
}

// copy takes the band over, opaque as a page of paper is.
func (b band) copy(y int, out *image.RGBA) error {
	view, err := b.d.inst.FPDFBitmap_GetBuffer(&requests.FPDFBitmap_GetBuffer{Bitmap: b.bitmap})
	if err != nil {
		return err
	}
	n := min(b.rows, b.size.Y-y) * out.Stride
	if len(view.Buffer) < n {
		return fmt.Errorf("the band has %d bytes but needs %d", len(view.Buffer), n)
	}
	to := out.Pix[y*out.Stride:][:n]
	copy(to, view.Buffer)
	for i := 3; i < len(to); i += 4 {
		to[i] = 0xff
	}
	return nil
}
