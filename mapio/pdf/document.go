package pdf

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
)

// MaxFile is the largest document that is read, in bytes.
const MaxFile = 1 << 30

// Document is an open document. Its methods may be called from several
// goroutines, which wait for each other.
type Document struct {
	inst  pdfium.Pdfium
	ref   references.FPDF_DOCUMENT
	pages int
	dict  *dictionary // nil where it could not be read
	doubt string      // then why
	turn  chan struct{}
}

// Open opens the document of size bytes in r, which must stay readable until
// Close. It starts the engine where that has not happened. When ctx ends, its
// cause is returned at once and what was begun runs out behind it.
func (e *Engine) Open(ctx context.Context, r io.ReaderAt, size int64) (*Document, error) {
	if size > MaxFile {
		return nil, fmt.Errorf("%w: %d MB, at most %d; take the page you need out of it first", ErrTooLarge, size>>20, MaxFile>>20)
	}
	if size == 0 {
		return nil, fmt.Errorf("%w: the file is empty", ErrDamaged)
	}
	type opened struct {
		d   *Document
		err error
	}
	res := make(chan opened)
	go func() {
		d, err := e.open(ctx, r, size)
		select {
		case res <- opened{d, err}:
		case <-ctx.Done():
			if d != nil {
				d.Close()
			}
		}
	}()
	select {
	case o := <-res:
		return o.d, o.err
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
}

func (e *Engine) open(ctx context.Context, r io.ReaderAt, size int64) (d *Document, err error) {
	defer contain(&err)
	pool, err := e.start()
	if err != nil {
		return nil, err
	}
	inst, err := pool.GetInstanceWithContext(ctx)
	if err != nil {
		return nil, instanceFault(ctx, err)
	}
	d = &Document{inst: inst, turn: make(chan struct{}, 1)}
	if err := d.load(ctx, r, size); err != nil {
		d.Close()
		return nil, err
	}
	d.dict, err = readDictionary(ctx, io.NewSectionReader(r, 0, size))
	if err != nil {
		d.doubt = err.Error()
	}
	return d, nil
}

func instanceFault(ctx context.Context, err error) error {
	if cause := context.Cause(ctx); cause != nil {
		return cause
	}
	return fmt.Errorf("%w to start: %w", ErrEngine, err)
}

func (d *Document) load(ctx context.Context, r io.ReaderAt, size int64) error {
	in := contextSection{ctx, io.NewSectionReader(r, 0, size)}
	doc, err := d.inst.OpenDocument(&requests.OpenDocument{FileReader: in, FileReaderSize: size})
	if cause := context.Cause(ctx); cause != nil {
		return cause
	}
	if err != nil {
		return explainOpen(err)
	}
	d.ref = doc.Document
	n, err := d.inst.FPDF_GetPageCount(&requests.FPDF_GetPageCount{Document: d.ref})
	switch {
	case err != nil:
		return fmt.Errorf("%w: its pages cannot be counted (%w)", ErrDamaged, err)
	case n.PageCount <= 0:
		return fmt.Errorf("%w: there is nothing to show; copy it again from where it came", ErrNoPages)
	}
	d.pages = n.PageCount
	return nil
}

// Pages is the number of pages, at least 1.
func (d *Document) Pages() int { return d.pages }

// Close lets the document go. What still runs in it runs out first, in the
// background.
func (d *Document) Close() {
	go func() {
		d.turn <- struct{}{}
		defer func() { _ = recover() }() // a renderer that broke down is let go of all the same
		_ = d.inst.Close()
	}()
}

// do runs something in the renderer. When ctx ends it returns its cause at
// once; what was begun runs out and keeps the next one waiting.
func (d *Document) do(ctx context.Context, f func() error) error {
	select {
	case d.turn <- struct{}{}:
	case <-ctx.Done():
		return context.Cause(ctx)
	}
	res := make(chan error, 1)
	go func() {
		defer func() { <-d.turn }()
		var err error
		defer func() { res <- err }()
		defer contain(&err)
		err = f()
	}()
	select {
	case err := <-res:
		if cause := context.Cause(ctx); cause != nil {
			return cause
		}
		return err
	case <-ctx.Done():
		return context.Cause(ctx)
	}
}

func (d *Document) checkPage(page int) error {
	if page < 1 || page > d.pages {
		return fmt.Errorf("%w: page %d, it has pages 1 to %d", ErrNoPage, page, d.pages)
	}
	return nil
}

// Page tells the size of a page, counted from 1, and what the document says
// about where it lies.
func (d *Document) Page(ctx context.Context, page int) (Page, error) {
	if err := d.checkPage(page); err != nil {
		return Page{}, err
	}
	var wPt, hPt float64
	err := d.do(ctx, func() error {
		r, err := d.inst.FPDF_GetPageSizeByIndexF(&requests.FPDF_GetPageSizeByIndexF{Document: d.ref, Index: page - 1})
		if err != nil {
			return fmt.Errorf("%w: page %d cannot be read", ErrDamaged, page)
		}
		wPt, hPt = float64(r.Size.Width), float64(r.Size.Height)
		return nil
	})
	if err != nil {
		return Page{}, err
	}
	if !(wPt > 0 && hPt > 0 && wPt < maxPoints && hPt < maxPoints) {
		return Page{}, fmt.Errorf("%w: page %d says it is %.4g × %.4g points", ErrDamaged, page, wPt, hPt)
	}
	return d.pageOf(page, wPt, hPt), nil
}

// pageOf is the page as its dictionary says, or bare where that and the
// renderer disagree.
func (d *Document) pageOf(page int, wPt, hPt float64) Page {
	bare := Page{Box: Box{X1: wPt, Y1: hPt}, UserUnit: 1}
	if d.dict == nil {
		bare.Doubts = []string{"what the PDF says about where it lies cannot be read: " + d.doubt}
		return bare
	}
	p, err := d.dict.page(page)
	if err == nil && !p.agrees(wPt, hPt) {
		w, h := p.Size()
		err = fmt.Errorf("its boxes make the page %.1f × %.1f points, drawn it is %.1f × %.1f", w, h, wPt, hPt)
	}
	if err != nil {
		bare.Doubts = []string{"what the PDF says about where it lies cannot be read: " + err.Error()}
		return bare
	}
	return p
}

// contextSection fails once its context has ended, so that reading stops too.
type contextSection struct {
	ctx context.Context
	*io.SectionReader
}

// errEnded stands for the end of the context inside the renderer.
var errEnded = errors.New("given up")

func (c contextSection) Read(p []byte) (int, error) {
	if c.ctx.Err() != nil {
		return 0, errEnded
	}
	return c.SectionReader.Read(p)
}
