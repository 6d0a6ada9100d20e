package opening

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io/fs"
	"sync"
	"sync/atomic"

	"legwright/app/plan"
	"legwright/app/ui/jobs"
	"legwright/canvas/pyramid"
	"legwright/mapio/georef"
	"legwright/mapio/scan"
)

// errReadWhileChanged is the end of a reading during which the file was replaced.
var errReadWhileChanged = errors.New("the picture's file changed while it was being read; open it again")

// wanted says what a reading reads.
type wanted struct {
	path   string
	page   plan.Page   // zero: the first, at the resolution that suits it
	sheet  *plan.Sheet // the sheet whose picture this is: where the file is gone, a stored copy serves; or nil
	side   int         // of a preview, in pixels
	afresh bool        // the store is not asked
}

// arrival is a picture that can be shown: a preview, or one to work on.
type arrival struct {
	picture *Picture
	usable  bool
}

// outcome is how a reading ended. Without err the picture that was shown is whole.
type outcome struct {
	found   georef.Found
	notes   []string // sentences for people about faults of the file
	err     error
	changed bool // the file is not what the store holds: read it afresh
	missing bool // the file is not there; a copy may have been shown
}

// reading is one picture on its way from header to last level, on goroutines of
// its own. It sends what can be shown through arrivals, at most a preview and a
// picture, and closes that when it has ended; then outcome is set.
type reading struct {
	from *Source
	wanted
	cancel   context.CancelFunc
	arrivals chan arrival
	outcome  *outcome                            // set before arrivals is closed
	tell     atomic.Pointer[func(jobs.Progress)] // nil until somebody follows
	at       atomic.Pointer[jobs.Progress]       // how far it has come

	mu      sync.Mutex
	preview *Picture // what was sent ahead of its hash
	usable  *Picture // what was sent to be worked on
}

// read begins to read a picture.
func (s *Source) read(w wanted) *reading {
	if s.Begins != nil {
		s.Begins(w.path)
	}
	r := &reading{from: s, wanted: w, arrivals: make(chan arrival, 2)} // there is room for all of it
	ctx, cancel := context.WithCancel(context.Background())
	r.cancel = cancel
	go r.run(ctx)
	return r
}

// follow passes on what a reading brings, until it has ended. When ctx ends it
// cancels the reading and closes what still comes.
func (r *reading) follow(ctx context.Context, tell func(jobs.Progress), pass func(arrival)) error {
	r.tell.Store(&tell)
	if at := r.at.Load(); at != nil { // what was told before anybody followed
		tell(*at)
	}
	stop := context.AfterFunc(ctx, r.cancel)
	defer stop()
	defer r.cancel() // the context's resources
	for a := range r.arrivals {
		if ctx.Err() != nil {
			a.picture.Pyramid.Close()
			continue
		}
		pass(a)
	}
	return r.outcome.err
}

// abandon cancels a reading that nobody follows, and waits until it has ended.
func (r *reading) abandon() {
	r.cancel()
	for a := range r.arrivals {
		a.picture.Pyramid.Close()
	}
}

func (r *reading) run(ctx context.Context) {
	defer close(r.arrivals)
	fsys, name := r.from.folder(r.path, r.page)
	mark, err := scan.Mark(fsys, name)
	switch {
	case r.sheet != nil && errors.Is(err, fs.ErrNotExist):
		r.showCopy()
		r.outcome = &outcome{err: err, missing: true}
	case err == nil && !r.afresh && r.known(ctx, fsys, name, mark):
	default:
		r.decode(ctx, fsys, name, mark)
	}
}

// decode reads the picture from its file.
func (r *reading) decode(ctx context.Context, fsys fs.FS, name string, mark [32]byte) {
	s, err := r.from.Opener.Open(ctx, fsys, name, scan.Options{
		Progress: r.progress,
		Page:     r.page.Number,
		DPI:      r.page.DPI,
		Side:     r.side,
		Preview:  func(v scan.Preview) { r.show(v, mark) },
		Hash:     r.hashed,
		Flow:     r.flow,
		FlowFrom: r.from.FlowFrom,
	})
	if err != nil {
		r.outcome = &outcome{err: err}
		return
	}
	shown := r.shown()
	p := &Picture{Path: r.path, Page: PageOf(s.Header), Header: s.Header, mark: mark}
	p.hashed(s.SHA256)
	switch {
	case shown == nil:
		p.Pyramid = pyramid.New(s.Image, r.options(p.key))
		r.send(p)
	case shown.SHA256 != p.SHA256:
		r.outcome = &outcome{err: errReadWhileChanged}
		return
	case !s.Flowed:
		shown.Pyramid.Fill(s.Image)
	}
	s.Image = nil // the pyramid frees it once it has its levels
	found, notes := georef.Find(s.Geo), s.Notes
	s.Geo = scan.GeoData{} // it may hold an archive
	if found.WorldFault != nil {
		notes = append(notes, fmt.Sprintf("%v; the picture opens without it", found.WorldFault))
	}
	if r.from.Store != nil && len(notes) == 0 { // else they must be reported again
		r.from.Store.Note(pageKey(mark, p.Page), p.key)
	}
	r.outcome = &outcome{found: found, notes: notes}
}

// progress passes on how far the decoder has come.
func (r *reading) progress(stage string, done, total int64) {
	at := jobs.Progress{Stage: stage, Done: done, Total: total}
	r.at.Store(&at)
	if tell := r.tell.Load(); tell != nil {
		(*tell)(at)
	}
}

// show sends the preview of a decoding: to be worked on if its hash is known.
func (r *reading) show(v scan.Preview, mark [32]byte) {
	p := &Picture{Path: r.path, Page: PageOf(v.Header), Header: v.Header, mark: mark}
	if v.Hashed {
		p.hashed(v.SHA256)
	}
	p.Pyramid = pyramid.NewPending(image.Pt(v.Header.Width, v.Header.Height), r.options(p.key))
	p.Pyramid.Preview(v.Level, v.Image)
	if v.Hashed {
		r.send(p)
		return
	}
	r.mu.Lock()
	r.preview = p
	r.mu.Unlock()
	r.arrivals <- arrival{picture: p}
}

// hashed makes of the preview a picture that can be worked on.
func (r *reading) hashed(sum [32]byte) {
	r.mu.Lock()
	preview := r.preview
	r.mu.Unlock()
	if preview == nil {
		return
	}
	p := *preview
	p.hashed(sum)
	p.Pyramid.SetKey(p.key, r.reload(p.key))
	r.send(&p)
}

// send sends a picture to be worked on.
func (r *reading) send(p *Picture) {
	r.mu.Lock()
	r.usable = p
	r.mu.Unlock()
	r.arrivals <- arrival{p, true}
}

// shown returns the picture that was sent to be worked on, or nil.
func (r *reading) shown() *Picture {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.usable
}

// flow gives the pyramid its picture while that is still being decoded.
func (r *reading) flow(f *scan.Flow) error {
	shown := r.shown()
	if shown == nil {
		return pyramid.ErrNoFlow
	}
	return shown.Pyramid.Flow(f.Image, f)
}

// options are those of a picture's pyramid; a key of zero is set later.
func (r *reading) options(key [32]byte) pyramid.Options {
	from, path := r.from, r.path
	opt := pyramid.Options{OnChange: func(level int) { from.tell(func(m *machine) { m.sharper(level) }) }}
	if from.Store == nil {
		return opt
	}
	opt.Store, opt.Key, opt.Reload = from.Store, key, r.reload(key)
	opt.OnFault = func(err error) { from.tell(func(m *machine) { m.storeFault(path, err) }) }
	return opt
}

// reload reads the picture of that key again.
func (r *reading) reload(key [32]byte) func(context.Context) (pyramid.Source, error) {
	from, path, page := r.from, r.path, r.page
	return func(ctx context.Context) (pyramid.Source, error) { return from.again(ctx, path, page, key) }
}
