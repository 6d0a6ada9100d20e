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
// after every band, from a goroutine of its own and never after it has
// returned; progress may be nil. When ctx ends, its cause is returned at once;
// drawing stops at the next object of the page. The caller bounds the size.
func (d *Document) Render(ctx context.Context, page, width, height int, progress func(done, total int)) (*image.RGBA, error) {
	if err := d.checkPage(page); err != nil {
		return nil, err
	}
	if width < 1 || height < 1 {
		return nil, fmt.Errorf("%w: a picture of %d × %d pixels", ErrTooLarge, width, height)
	}
	told := make(chan int)
	var out *image.RGBA
	res := make(chan error, 1)
	go func() {
		res <- d.do(ctx, func() error {
			img, err := d.draw(ctx, page, image.Pt(width, height), told)
			out = img
			return err
		})
	}()
	for {
		select {
		case done := <-told:
			if progress != nil {
				progress(done, height)
			}
		case err := <-res:
			if err != nil {
				return nil, err
			}
			return out, nil
		}
	}
}

// draw runs in the document's turn.
func (d *Document) draw(ctx context.Context, page int, size image.Point, told chan<- int) (*image.RGBA, error) {
	loaded, err := d.inst.FPDF_LoadPage(&requests.FPDF_LoadPage{Document: d.ref, Index: page - 1})
	if err != nil {
		return nil, fmt.Errorf("%w: page %d cannot be read; copy the file again from where it came", ErrDamaged, page)
	}
	defer func() { _, _ = d.inst.FPDF_ClosePage(&requests.FPDF_ClosePage{Page: loaded.Page}) }()
	rows := min(size.Y, max(16, bandArea/size.X))
	bitmap, err := d.inst.FPDFBitmap_Create(&requests.FPDFBitmap_Create{Width: size.X, Height: rows})
	if err != nil {
		return nil, d.drawFault(page, err)
	}
	defer func() { _, _ = d.inst.FPDFBitmap_Destroy(&requests.FPDFBitmap_Destroy{Bitmap: bitmap.Bitmap}) }()
	out := image.NewRGBA(image.Rectangle{Max: size})
	b := band{d: d, page: loaded.Page, bitmap: bitmap.Bitmap, size: size, rows: rows}
	for y := 0; y < size.Y; y += rows {
		if err := b.draw(ctx, y, out); err != nil {
			if ctx.Err() != nil {
				return nil, context.Cause(ctx)
			}
			return nil, d.drawFault(page, err)
		}
		select {
		case told <- min(y+rows, size.Y):
		case <-ctx.Done():
			return nil, context.Cause(ctx)
		}
	}
	return out, nil
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

func (b band) draw(ctx context.Context, y int, out *image.RGBA) error {
	inst := b.d.inst
	if _, err := inst.FPDFBitmap_FillRect(&requests.FPDFBitmap_FillRect{
		Bitmap: b.bitmap, Width: b.size.X, Height: b.rows, Color: 0xffffffff,
	}); err != nil {
		return err
	}
	page := requests.Page{ByReference: &b.page}
	defer func() { _, _ = inst.FPDF_RenderPage_Close(&requests.FPDF_RenderPage_Close{Page: page}) }()
	r, err := inst.FPDF_RenderPageBitmap_Start(&requests.FPDF_RenderPageBitmap_Start{
		Bitmap: b.bitmap, Page: page, StartY: -y, SizeX: b.size.X, SizeY: b.size.Y,
		Flags:                  enums.FPDF_RENDER_FLAG_REVERSE_BYTE_ORDER | enums.FPDF_RENDER_FLAG_ANNOT,
		NeedToPauseNowCallback: func() bool { return ctx.Err() != nil },
	})
	switch {
	case err != nil:
		return err
	case ctx.Err() != nil:
		return context.Cause(ctx)
	case r.RenderStatus != enums.FPDF_RENDER_STATUS_DONE:
		return fmt.Errorf("drawing ended with state %d", r.RenderStatus)
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
		return fmt.Errorf("the band holds %d bytes, needs %d", len(view.Buffer), n)
	}
	to := out.Pix[y*out.Stride:][:n]
	copy(to, view.Buffer)
	for i := 3; i < len(to); i += 4 {
		to[i] = 0xff
	}
	return nil
}
