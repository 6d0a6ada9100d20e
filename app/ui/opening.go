package ui

import (
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"io/fs"
	"sync"
	"sync/atomic"

	"legwright/app/plan"
	"legwright/canvas/pyramid"
	"legwright/mapio/georef"
	"legwright/mapio/scan"
)

// loaded is a picture that can be shown: whole, or sharp at the size of the
// window while the rest is on its way. With err there is none.
type loaded struct {
	path    string
	header  scan.Header
	key     [32]byte // hash of the file
	picture [32]byte // hash of what is shown: the file, or a page as it was drawn
	mark    [32]byte // of the file when it was opened, see scan.Mark
	pyramid *pyramid.Pyramid
	stored  bool // from the store; the file is being compared
	err     error
}

func (l loaded) page() plan.Page { return pageOf(l.header) }

func (l loaded) sha() string { return hex.EncodeToString(l.key[:]) }

// ending is how an opening ended whose picture was shown.
type ending struct {
	scan    *scan.Scan // nil from the store
	world   *georef.World
	file    string // the world file's name
	place   *georef.Georeference
	err     error // the rest could not be read
	changed bool  // the file is not what the store holds
}

// arrival is one thing an opening tells: something to look at whose hash is not
// known yet, something to work on, or its end.
type arrival struct {
	glimpse *loaded
	first   *loaded
	end     *ending
}

// step is how far an opening has come.
type step struct {
	stage       string
	done, total int64
}

// opening is a picture on its way, from header to the last level. It runs on
// goroutines of its own; what it tells comes through its channel, first what
// can be shown and then the end.
type opening struct {
	from     *source
	path     string
	want     plan.Page          // zero: the first, as it suits
	side     int                // of a preview, in pixels
	afresh   bool               // the store is not asked
	cancel   context.CancelFunc // ends run
	arrivals chan arrival
	at       atomic.Pointer[step]

	mu      sync.Mutex
	glimpse *loaded // what was sent ahead of first
	first   *loaded // what was sent; nothing is sent after over
	over    bool
}

// open begins to open a picture.
func (s *source) open(path string, want plan.Page, side int, afresh bool) *opening {
	if path != embeddedScan {
		keepMemoryLow()
	}
	o := &opening{from: s, path: path, want: want, side: side, afresh: afresh, arrivals: make(chan arrival, 3)}
	ctx, cancel := context.WithCancel(context.Background())
	o.cancel = cancel
	go o.run(ctx)
	return o
}

func (o *opening) run(ctx context.Context) {
	defer close(o.arrivals)
	fsys, name := o.from.pictureFS(o.path, o.want)
	mark, err := scan.Mark(fsys, name)
	if err == nil && !o.afresh && o.known(ctx, fsys, name, mark) {
		return
	}
	o.decode(ctx, fsys, name, mark)
}

// known shows a picture that the store knows by its file's mark, and then
// compares the whole file with it. It reports whether there was one.
func (o *opening) known(ctx context.Context, fsys fs.FS, name string, mark [32]byte) bool {
	if o.from.store == nil {
		return false
	}
	if o.hasPages(fsys, name) {
		return o.knownPage(ctx, fsys, name, mark)
	}
	key, size, ok := o.from.store.Find(mark)
	if !ok {
		return false
	}
	h, err := scan.ReadHeader(fsys, name)
	if err != nil || image.Pt(h.Width, h.Height) != size {
		return false
	}
	p, err := o.from.store.Open(key, o.options(key))
	if err != nil {
		return false
	}
	o.show(loaded{path: o.path, header: h, key: key, picture: key, mark: mark, pyramid: p, stored: true})
	sum, err := hashOf(ctx, fsys, name)
	end := ending{err: err, changed: err == nil && sum != key}
	if err == nil {
		data, _ := o.from.opener.Look(ctx, fsys, name, scan.Options{})
		found := georef.Find(data) // what is wrong with its world file was said when it was opened first
		end.world, end.file, end.place = found.World, found.WorldFile, found.Georeference
	}
	o.end(end)
	return true
}

// decode reads the picture from its file.
func (o *opening) decode(ctx context.Context, fsys fs.FS, name string, mark [32]byte) {
	s, err := o.from.opener.Open(ctx, fsys, name, scan.Options{
		Progress: func(stage string, done, total int64) { o.at.Store(&step{stage, done, total}) },
		Page:     o.want.Number,
		DPI:      o.want.DPI,
		Side:     o.side,
		Preview:  func(v scan.Preview) { o.preview(v, mark) },
		Hash:     o.hashed,
		Flow:     o.flow,
		FlowFrom: o.from.flowFrom,
	})
	shown := o.shown()
	switch {
	case err != nil && shown == nil:
		o.show(loaded{path: o.path, err: err})
	case err != nil:
		o.end(ending{err: err})
	case shown != nil && shown.key != s.SHA256:
		o.end(ending{err: errors.New("the picture's file changed while it was read")})
	default:
		o.fill(shown, s, mark)
		s.Image = nil // the pyramid frees it once it has its levels
		found := georef.Find(s.Geo)
		s.Geo = scan.GeoData{} // it may hold an archive
		if found.WorldFault != nil {
			s.Warnings = append(s.Warnings, fmt.Sprintf("%v; the picture opens without it", found.WorldFault))
		}
		o.note(s, mark)
		o.end(ending{scan: s, world: found.World, file: found.WorldFile, place: found.Georeference})
	}
}

// fill gives the picture to the one shown, or shows it.
func (o *opening) fill(shown *loaded, s *scan.Scan, mark [32]byte) {
	switch {
	case shown == nil:
		key := pageKey(s.SHA256, pageOf(s.Header))
		p := pyramid.New(s.Image, o.options(key))
		o.show(loaded{path: o.path, header: s.Header, key: s.SHA256, picture: key, mark: mark, pyramid: p})
	case !s.Flowed:
		shown.pyramid.Fill(s.Image)
	}
}

// note lets the store recognise the picture by its file's mark when it is opened
// again, unless it has cautions to show again.
func (o *opening) note(s *scan.Scan, mark [32]byte) {
	if o.from.store != nil && len(s.Warnings) == 0 {
		page := pageOf(s.Header)
		o.from.store.Note(pageMark(mark, page), pageKey(s.SHA256, page))
	}
}

// flow hands the pyramid its picture while that is still being decoded.
func (o *opening) flow(f *scan.Flow) error {
	shown := o.shown()
	if shown == nil || shown.pyramid == nil {
		return pyramid.ErrNoFlow
	}
	return shown.pyramid.Flow(f.Image, f)
}

// show tells what can be shown, once.
func (o *opening) show(l loaded) {
	o.mu.Lock()
	late := o.over || o.first != nil
	if !late {
		o.first = &l
		o.arrivals <- arrival{first: &l} // there is room for it
	}
	o.mu.Unlock()
	if late && l.pyramid != nil {
		l.pyramid.Close()
	}
}

// shown returns what was shown, nil if nothing was, and lets nothing be shown
// any more where that is an error's.
func (o *opening) shown() *loaded {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.first
}

// end tells the end.
func (o *opening) end(e ending) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if !o.over && o.first != nil {
		o.arrivals <- arrival{end: &e}
	}
	o.over = true
}

// options are those of a picture's pyramid; a key of zero is set later.
func (o *opening) options(key [32]byte) pyramid.Options {
	from, path := o.from, o.path
	opt := pyramid.Options{
		OnChange: func(level int) { from.tell(func(b *Bench) { b.pictureChanged(level) }) },
	}
	if from.store == nil {
		return opt
	}
	opt.Store, opt.Key, opt.Reload = from.store, key, o.reload(key)
	opt.OnFault = func(err error) { from.tell(func(b *Bench) { b.storeFault(path, err) }) }
	return opt
}

// reload reads the picture of that key again.
func (o *opening) reload(key [32]byte) func(context.Context) (pyramid.Source, error) {
	from, path, want := o.from, o.path, o.want
	return func(ctx context.Context) (pyramid.Source, error) { return from.again(ctx, path, want, key) }
}
