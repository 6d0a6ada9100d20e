package scan

import (
	"context"
	"crypto/sha256"
	"fmt"
	"image"
	"io"
	"io/fs"
	"runtime/debug"

	"legwright/mapio/pdf"
)

// Progress is called with how far opening has come: done of total, in bytes while
// the stage is StageRead and in rows while it is StageDecode; of StageStart total is 0, for
// nobody knows it. It is called from a goroutine of the opening, never after Open has returned.
type Progress func(stage string, done, total int64)

// Options say what an opening is to tell on its way. The zero value tells
// nothing.
type Options struct {
	// Progress is called with how far the opening has come; it may be nil.
	Progress Progress
	// Page is the page of a PDF or TIFF, counted from 1; 0 means the first.
	// Pictures of other formats have one page.
	Page int
	// DPI is the resolution in pixels per inch at which a page is drawn; 0
	// means that of the pictures it is made of, or DefaultPageDPI for a
	// drawing, and less where that would be too large. Pictures that are
	// stored as such have their own.
	DPI float64
	// Side is what the longer side of the preview should at least have, in
	// pixels; 0 means DefaultSide.
	Side int
	// Preview is handed a smaller picture ahead of the whole one, at most
	// once, from a goroutine of the opening and before Open returns. It may
	// be nil, and it is not called for formats that give no smaller picture
	// sooner than the whole.
	Preview func(Preview)
	// Hash is called with the hash of the file if the preview was handed out without
	// waiting for it: once, after Preview, from the same goroutine and before
	// Open returns. Where it is nil, Preview waits for the hash.
	Hash func(sum [32]byte)
	// Flow, where it is set, may be handed a large picture while it is decoded,
	// after its preview and hash, on a goroutine of the opening. It returns nil
	// only after Flow.Await has given it all rows, and then the picture is its
	// own: Scan.Flowed says so, and there is no Image. An error, of its own or of
	// Flow.Await, means that it has nothing of the picture; the whole then comes
	// as if it had not been asked.
	Flow func(*Flow) error
	// FlowFrom is the least number of pixels for that; 0 means DefaultFlowFrom.
	FlowFrom int
}

// DefaultSide is the longer side, in pixels, of a preview of which nothing
// else was asked: about that of a window.
const DefaultSide = 1600

// Preview is the picture at a fraction of its size, sharp at the size of a
// window, while the whole is still being decoded.
type Preview struct {
	// Header is that of the Scan that will follow, and SHA256 too where Hashed
	// says so; else it is zero, and Options.Hash tells it later. Until then
	// nothing may be kept that stands by the hash.
	Header Header
	SHA256 [32]byte
	Hashed bool
	// Level says that Image is the picture as shown at 1/2^Level of its
	// size, sides rounded up.
	Level int
	Image image.Image
}

// The stages of opening.
const (
	StageRead   = "reading"
	StageDecode = "decoding"
	StageStart  = "starting" // what draws pages, which takes seconds the first time
)

// Scan is an opened picture.
type Scan struct {
	Header Header
	// Image is the picture as shown, its bounds beginning at (0, 0). Its type
	// is *image.Gray, *image.YCbCr, *image.RGBA, *image.NRGBA or
	// *image.Paletted; palettes always have 256 colours, so that no index,
	// even a damaged one, leads outside.
	Image image.Image
	// Geo is what the file carries about where the picture lies.
	Geo GeoData
	// SHA256 is the hash of the picture's file.
	SHA256 [32]byte
	// Notes are sentences for people about faults in the file; the picture
	// itself is sound.
	Notes []string
	// Flowed says that Options.Flow has taken the picture, and Image is nil.
	Flowed bool
}

// Opener opens pictures one at a time: an opening that was cancelled and still
// runs out keeps the next one waiting before it takes memory.
type Opener struct {
	slot chan struct{}
	pdf  *pdf.Engine // starts with the first PDF
}

// NewOpener gives an Opener that is free.
func NewOpener() *Opener {
	return &Opener{make(chan struct{}, 1), pdf.NewEngine(pdf.DefaultFolder())}
}

// Open opens a picture with an Opener of its own; see Opener.Open.
func Open(ctx context.Context, fsys fs.FS, name string, opt Options) (*Scan, error) {
	return NewOpener().Open(ctx, fsys, name, opt)
}

// Open decodes a picture. When ctx
// ends, Open returns its cause within milliseconds, whatever the decoder is
// doing, and drops what has been decoded. Errors wrap one of the sentinels of
// this package or come from the file system. A picture that is damaged or cut
// off, or whose file changed while it was read, is an error, even where a
// preview of it was handed out.
func (o *Opener) Open(ctx context.Context, fsys fs.FS, name string, opt Options) (*Scan, error) {
	fsys, name, err := Inside(fsys, name, opt.Page)
	if err != nil {
		return nil, err
	}
	f, err := openFile(fsys, name)
	if err != nil {
		return nil, err
	}
	s, err := o.open(ctx, f, name, opt)
	if err != nil {
		return nil, err
	}
	if s.Header.Format == formatPDF {
		s.Geo.Folder, s.Geo.Name = fsys, name
		return s, nil
	}
	if again, err := openFile(fsys, name); err == nil {
		s.Geo = geoData(fsys, name, again.at, again.size, s.Header)
		again.close()
	}
	return s, nil
}

func (s *Scan) note(format string, a ...any) {
	s.Notes = append(s.Notes, fmt.Sprintf(format, a...))
}

// open takes over f and closes it when the work has ended, which may be after
// it has returned.
func (o *Opener) open(ctx context.Context, f *file, name string, opt Options) (*Scan, error) {
	select {
	case o.slot <- struct{}{}:
	case <-ctx.Done():
		f.close()
		return nil, context.Cause(ctx)
	}
	t, g := newTeller(opt.Progress), &gate{}
	type result struct {
		s   *Scan
		err error
	}
	res := make(chan result, 1)
	go func() {
		defer func() { <-o.slot }()
		defer f.close()
		s, err := o.load(ctx, f, opt, t, g)
		if context.Cause(ctx) != nil {
			s = nil
			debug.FreeOSMemory() // the caller no longer wants the picture
		}
		res <- result{s, err}
	}()
	defer t.end()
	defer g.close()
	select {
	case r := <-res:
		if cause := context.Cause(ctx); cause != nil {
			return nil, cause
		}
		if r.err != nil {
			return nil, fmt.Errorf("%s: %w", name, r.err)
		}
		return r.s, nil
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
}

// load reads header, content and hash, the hash on a goroutine beside the
// decoder.
func (o *Opener) load(ctx context.Context, f *file, opt Options, t *teller, g *gate) (s *Scan, err error) {
	defer contain(&err)
	if isPDF(f.at) {
		if f.over != nil {
			return nil, errOverlaidPDF()
		}
		return o.loadPDF(ctx, f, opt, t, g)
	}
	in := &driveAt{ctx: ctx, at: f.at}
	h, err := f.header(in, opt.Page)
	s = &Scan{Header: h}
	w := &work{ctx: ctx, opt: opt, f: f, t: t, s: s, h: h, gate: g, hashed: make(chan struct{})}
	switch {
	case in.fault != nil:
		return nil, w.fileChanged(readFault(in.fault))
	case err != nil:
		return nil, w.fileChanged(err)
	}
	go func() {
		defer close(w.hashed)
		w.hashErr = hashInto(ctx, f, &s.SHA256)
	}()
	img, err := w.decode()
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
	if !s.Flowed {
		s.Image = normalize(img, h)
	}
	return s, nil
}

func hashInto(ctx context.Context, f *file, sum *[32]byte) (err error) {
	defer contain(&err)
	hash := sha256.New()
	n, err := io.Copy(hash, contextReader{ctx, f.section()})
	switch {
	case context.Cause(ctx) != nil:
		return context.Cause(ctx)
	case err != nil:
		return readFault(err)
	case n < f.size:
		return fmt.Errorf("%w: it became shorter; open it again", ErrChanged)
	}
	hash.Sum(sum[:0])
	return nil
}

// contain turns a panic into an error: on a goroutine of ours one would end
// the program and take the plan with it.
func contain(err *error) {
	if v := recover(); v != nil {
		*err = fmt.Errorf("%w: %w: %v; copy the file again from the original", ErrCorrupt, errPanicked, v)
	}
}
