package scan

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"io"
	"io/fs"
	"math"

	"legwright/app/calib"

	"legwright/mapio/pdf"
)

const (
	formatPDF = "PDF"
	// DefaultPageDPI is the resolution of a drawn page of which nothing else
	// was asked, in pixels per inch.
	DefaultPageDPI = 200
	// MinPageDPI and MaxPageDPI bound what may be asked for.
	MinPageDPI, MaxPageDPI = 10, 4800
	// lookFor is how far into a file the mark of a PDF is looked for.
	lookFor = 1024
	// previewAbove is the size of a page, in pixels, above which it is drawn
	// small first.
	previewAbove = 4_000_000
)

// isPDF looks for the mark of a PDF, which may have something before it.
func isPDF(r io.ReaderAt) bool {
	head := make([]byte, lookFor)
	n, _ := r.ReadAt(head, 0)
	head = head[:n]
	return bytes.Contains(head, []byte("%PDF-")) && readerFor(head) == nil
}

// Look reads what can be known of a picture before it is decoded: its header,
// as ReadHeader does, and what its file carries about where it lies. For a PDF both
// are those of the page at the resolution that opening with the same options gives.
// With an error the header may still be known.
func (o *Opener) Look(ctx context.Context, fsys fs.FS, name string, opt Options) (d GeoData, err error) {
	fsys, name, err = Inside(fsys, name, opt.Page)
	if err != nil {
		return d, err
	}
	f, err := openFile(fsys, name)
	if err != nil {
		return d, err
	}
	defer f.close()
	switch {
	case !isPDF(f.at):
		d.Header, err = f.header(f.at, opt.Page)
		if err == nil {
			d = geoData(fsys, name, f.at, f.size, d.Header)
		}
	case f.over != nil:
		err = errOverlaidPDF()
	default:
		var s sheetOfPDF
		if s, err = o.openPDF(ctx, f, opt); err == nil {
			s.doc.Close()
			d = GeoData{Header: s.header, Folder: fsys, Name: name, Page: &s.page}
		}
	}
	if err != nil {
		return d, fmt.Errorf("%s: %w", name, err)
	}
	return d, nil
}

func errOverlaidPDF() error {
	return fmt.Errorf("%w: the overlay is a PDF, not a picture; open the PDF itself", ErrUnsupported)
}

// sheetOfPDF is a page that is about to be drawn.
type sheetOfPDF struct {
	doc    *pdf.Document
	page   pdf.Page
	header Header
	notes  []string
}

// openPDF opens a document and chooses page and resolution.
func (o *Opener) openPDF(ctx context.Context, f *file, opt Options) (s sheetOfPDF, err error) {
	s.doc, err = o.pdf.Open(ctx, f.at, f.size)
	if err != nil {
		return s, pdfFault(err)
	}
	defer func() {
		if err != nil {
			s.doc.Close()
		}
	}()
	number := max(1, opt.Page)
	if s.page, err = s.doc.Page(ctx, number); err != nil {
		return s, pdfFault(err)
	}
	native, err := s.doc.NativeDPI(ctx, number, s.page)
	if err != nil {
		return s, pdfFault(err)
	}
	dpi, err := s.pageDPI(number, opt.DPI, native)
	if err != nil {
		return s, err
	}
	w, h := s.page.Pixels(dpi)
	s.header = Header{
		Format: formatPDF, Width: w, Height: h, Orientation: 1, DPI: cleanDPI(dpi), Channels: 4, BitDepth: 8,
		Page: number, Pages: s.doc.Pages(), PageDPI: dpi,
	}
	if native == 0 {
		s.header.Medium = calib.Drawn
	}
	return s, checkLimits(s.header)
}

// pageDPI is the resolution asked for, or the one that suits a page whose
// pictures have the resolution native.
func (s *sheetOfPDF) pageDPI(number int, asked, native float64) (float64, error) {
	largest := s.page.LargestDPI(MaxSide, min(MaxPixels, MaxBytes/4))
	switch {
	case largest < MinPageDPI:
		w, h := s.page.Size()
		return 0, fmt.Errorf("%w: page %d is %.0f × %.0f inches; cut it into pieces or print it smaller",
			ErrTooLarge, number, w*s.page.UserUnit/72, h*s.page.UserUnit/72)
	case asked != 0 && !(asked >= MinPageDPI && asked <= MaxPageDPI):
		return 0, fmt.Errorf("%w: type a resolution from %d to %d pixels per inch, not %g",
			ErrUnsupported, MinPageDPI, MaxPageDPI, asked)
	case asked > largest:
		w, h := s.page.Pixels(asked)
		return 0, fmt.Errorf("%w: at %g pixels per inch page %d has %d × %d pixels; choose %g or fewer",
			ErrTooLarge, asked, number, w, h, largest)
	case asked != 0:
		return asked, nil
	}
	suits := s.tidy(native)
	if native < MinPageDPI || native > MaxPageDPI {
		suits = DefaultPageDPI
	}
	if suits > largest {
		s.notes = append(s.notes, fmt.Sprintf("the page is so large that it is drawn at %g instead of %.0f pixels per inch", largest, suits))
		suits = largest
	}
	return suits, nil
}

// tidy rounds a resolution, which comes from figures of single precision, to
// hundredths where that leaves the picture as large as it is.
func (s *sheetOfPDF) tidy(dpi float64) float64 {
	round := math.Round(dpi*100) / 100
	w, h := s.page.Pixels(dpi)
	if rw, rh := s.page.Pixels(round); rw != w || rh != h {
		return dpi
	}
	return round
}

// pdfFault maps an error of package pdf to one of this package.
func pdfFault(err error) error {
	return among(
		err,
		[2]error{pdf.ErrEncrypted, ErrUnsupported}, [2]error{pdf.ErrNoPages, ErrCorrupt}, [2]error{pdf.ErrNoPage, ErrNoPage},
		[2]error{pdf.ErrDamaged, ErrCorrupt}, [2]error{pdf.ErrTooLarge, ErrTooLarge}, [2]error{pdf.ErrEngine, ErrUnsupported},
	)
}

// loadPDF draws a page, with its hash on a goroutine beside the drawing, and
// hands a smaller drawing out first.
func (o *Opener) loadPDF(ctx context.Context, f *file, opt Options, t *teller, g *gate) (*Scan, error) {
	t.tell(StageStart, 0, 0)
	p, err := o.openPDF(ctx, f, opt)
	if err != nil {
		return nil, err
	}
	defer p.doc.Close()
	s := &Scan{Header: p.header, Notes: p.notes}
	w := &work{ctx: ctx, opt: opt, f: f, t: t, s: s, h: p.header, gate: g, hashed: make(chan struct{})}
	go func() {
		defer close(w.hashed)
		w.hashErr = hashInto(ctx, f, &s.SHA256)
	}()
	img, err := w.drawPage(p)
	<-w.hashed
	w.giving.Wait()
	if cause := context.Cause(ctx); cause != nil {
		return nil, cause
	}
	if w.hashErr != nil {
		err = w.hashErr
	}
	if err = w.fileChanged(err); err != nil {
		return nil, err
	}
	s.Image = img
	s.Geo = GeoData{Header: p.header, Page: &p.page}
	return s, nil
}

func (w *work) drawPage(p sheetOfPDF) (image.Image, error) {
	width, height := w.h.Width, w.h.Height
	if level := w.previewLevel(); level > 0 {
		small, err := p.doc.Render(w.ctx, w.h.Page, shrunk(width, level), shrunk(height, level), nil)
		if err != nil {
			return nil, pdfFault(err)
		}
		w.give(level, small)
	}
	img, err := p.doc.Render(w.ctx, w.h.Page, width, height, func(done, total int) {
		w.t.tell(StageDecode, int64(done), int64(total))
	})
	if err != nil {
		return nil, pdfFault(err)
	}
	return img, nil
}

// previewLevel is how often the page is halved for the drawing that is handed
// out first; 0 for none.
func (w *work) previewLevel() int {
	if w.opt.Preview == nil || w.h.Width*w.h.Height < previewAbove {
		return 0
	}
	side := w.opt.Side
	if side == 0 {
		side = DefaultSide
	}
	return max(0, int(math.Log2(float64(max(w.h.Width, w.h.Height))/float64(side))))
}

// shrunk is a side at 1/2^level, rounded up.
func shrunk(n, level int) int { return (n + 1<<level - 1) >> level }
