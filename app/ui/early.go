package ui

import (
	"context"
	"path/filepath"
	"slices"
	"strings"

	"legwright/mapio/scan"
)

// early is a picture whose opening began before there was a window: making
// the window takes as long as decoding a scan, on another core.
type early struct {
	path   string
	opener *scan.Opener
	done   chan loaded
}

// openEarly begins to open the picture that the bench will show first: the
// one on the command line, or that of the demo.
func openEarly(args []string) *early {
	path := embeddedScan
	if len(args) > 0 {
		abs, err := filepath.Abs(args[0])
		if err != nil || !slices.Contains(pictureEndings(), strings.ToLower(filepath.Ext(abs))) {
			return nil
		}
		path = abs
	}
	e := &early{path: path, opener: scan.NewOpener(), done: make(chan loaded, 1)}
	go func() {
		fsys, name := pictureFS(path)
		s, err := e.opener.Open(context.Background(), fsys, name, scan.Options{})
		e.done <- loaded{scan: s, path: path, err: err}
	}()
	return e
}

// take hands the picture over once, where it is the one that is wanted. The
// context gives up waiting for it.
func (e *early) take(ctx context.Context, path string) (loaded, bool) {
	if e == nil || e.path != path {
		return loaded{}, false
	}
	select {
	case l := <-e.done:
		return l, true
	case <-ctx.Done():
		return loaded{err: ctx.Err()}, true
	}
}
