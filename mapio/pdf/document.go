package pdf

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
)

// MaxFile is the largest document that is read, in bytes.
const MaxFile = 1 << 30

// Document is an open document. Its methods may be called from several
// goroutines, which wait for each other.
type Document struct {
	engine *Engine
	inst   pdfium.Pdfium
	memory *linear // of inst
	data   *io.SectionReader
	file   *lent // data, for the renderer
	ref    references.FPDF_DOCUMENT
	pages  int
	turn   chan struct{}
	closed bool // used only by the holder of the turn
}

// lent is the file of an open document. It is emptied at the end, because the
// renderer keeps it for longer.
type lent struct{ *io.SectionReader }

// Open opens the document of size bytes in r, which must stay readable until
// Close. It starts the engine where that has not happened, and waits while
// another document is open in it: who opens two at once waits for ever. When
// ctx ends, its cause is returned.
func (e *Engine) Open(ctx context.Context, r io.ReaderAt, size int64) (*Document, error) {
	if size > MaxFile {
		return nil, fmt.Errorf("%w: %d MB, but at most %d MB can be read; save the page you need by itself first", ErrTooLarge, size>>20, MaxFile>>20)
	}
	if size == 0 {
		return nil, fmt.Errorf("%w: the file is empty", ErrDamaged)
	}
	pool, err := e.started(ctx)
	if err != nil {
		return nil, err
	}
	select {
	case e.place <- struct{}{}:
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
	d, err := e.instance(ctx, pool)
	if err != nil {
		<-e.place
		return nil, err
	}
	d.data = io.NewSectionReader(r, 0, size)
	d.file = &lent{io.NewSectionReader(r, 0, size)}
	if err := d.do(ctx, func() error { return d.load(size) }); err != nil {
		d.Close()
		return nil, err
	}
	return d, nil
}

// instance starts an instance of the renderer. The caller holds the engine's
// place, so the newest memory belongs to the instance.
func (e *Engine) instance(ctx context.Context, pool pdfium.Pool) (_ *Document, err error) {
	defer contain(&err)
	inst, err := pool.GetInstanceWithContext(ctx)
	if err != nil {
		if cause := context.Cause(ctx); cause != nil {
			return nil, cause
		}
		return nil, fmt.Errorf("%w to start: %w", ErrEngine, err)
	}
	return &Document{engine: e, inst: inst, memory: e.memory.newest, turn: make(chan struct{}, 1)}, nil
}

func (d *Document) load(size int64) error {
	doc, err := d.inst.OpenDocument(&requests.OpenDocument{FileReader: d.file, FileReaderSize: size})
	if err != nil {
		return explainOpen(err)
	}
	d.ref = doc.Document
	n, err := d.inst.FPDF_GetPageCount(&requests.FPDF_GetPageCount{Document: d.ref})
	switch {
	case err != nil:
		return fmt.Errorf("%w: its pages cannot be counted (%w)", ErrDamaged, err)
	case n.PageCount <= 0:
		return fmt.Errorf("%w; copy it again from the original", ErrNoPages)
	}
	d.pages = n.PageCount
	return nil
}

// Pages is the number of pages, at least 1.
func (d *Document) Pages() int { return d.pages }

// Close ends the document and frees its memory. It waits for a running call, which
// ends with its own context.
func (d *Document) Close() {
	d.turn <- struct{}{}
	defer func() { <-d.turn }()
	d.end()
}

// end is Close for a caller that has the turn.
func (d *Document) end() {
	if d.closed {
		return
	}
	d.closed = true
	var err error // ignored: the renderer is discarded
	func() {
		defer contain(&err)
		// Kill frees the memory as it is; Close would walk through it.
		err = d.inst.Kill()
	}()
	d.memory.Free() // where the instance did not
	d.file.SectionReader = nil
	<-d.engine.place
}

// errClosed is the error of a call after the document was closed.
var errClosed = fmt.Errorf("%w: the document is closed", ErrEngine)

// do runs f in the renderer, in the document's turn. When ctx ends, the renderer
// stops at once, the document is closed and the cause is returned. A page that
// needs more memory than the limit closes it too: its drawing may be wrong even if
// the renderer reports no error.
func (d *Document) do(ctx context.Context, f func() error) error {
	select {
	case d.turn <- struct{}{}:
	case <-ctx.Done():
		return context.Cause(ctx)
	}
	defer func() { <-d.turn }()
	if d.closed {
		return errClosed
	}
	unhook := context.AfterFunc(ctx, d.memory.stop)
	err := contained(f)
	switch {
	case !unhook():
		d.end()
		return context.Cause(ctx)
	case d.memory.wasShort():
		d.end()
		return fmt.Errorf("%w: this page needs more than %d MB of memory to draw; save it as a picture in the program that made it, and open that", ErrTooLarge, rendererMemory>>20)
	}
	return err
}

func contained(f func() error) (err error) {
	defer contain(&err)
	return f()
}

func (d *Document) checkPage(page int) error {
	if page < 1 || page > d.pages {
		return fmt.Errorf("%w (%d): choose a page from 1 to %d", ErrNoPage, page, d.pages)
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
			return fmt.Errorf("%w: page %d cannot be read; copy the file again from the original", ErrDamaged, page)
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
	return d.pageOf(ctx, page, wPt, hPt)
}

// pageOf returns the page as its dictionary describes it. If that cannot be read,
// or the renderer disagrees, it returns the size alone, with a caution.
func (d *Document) pageOf(ctx context.Context, page int, wPt, hPt float64) (Page, error) {
	p, err := readPage(ctx, d.data, page)
	if ctx.Err() != nil {
		return Page{}, context.Cause(ctx)
	}
	if err == nil && !p.agrees(wPt, hPt) {
		w, h := p.Size()
		err = fmt.Errorf("according to its boxes the page is %.1f × %.1f points, but it is drawn as %.1f × %.1f", w, h, wPt, hPt)
	}
	if err != nil {
		p = Page{
			Box: Box{X1: wPt, Y1: hPt}, UserUnit: 1,
			Notes: []string{unread(err)},
		}
	}
	return p, nil
}

// unread says that the PDF's georeference cannot be read, why, and what to do.
func unread(err error) string {
	const what = "the PDF's georeference cannot be read: "
	if errors.Is(err, errProtected) {
		return what + "the document is protected; print it to an unprotected PDF, or calibrate the sheet by hand"
	}
	return what + strings.TrimPrefix(err.Error(), errDictionary.Error()+": ") + "; calibrate the sheet by hand"
}
