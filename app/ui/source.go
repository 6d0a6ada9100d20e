package ui

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"strings"
	"sync/atomic"
	"time"

	"legwright/app/plan"
	"legwright/assets/demo"
	"legwright/canvas/pyramid"
	"legwright/mapio/openfile"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// source is what every opening of this bench draws on. Its opener never holds
// two decodes in memory; its store, where there is one, knows pictures from
// earlier openings. Pictures tell the bench of their changes through it, once
// there is a bench.
type source struct {
	opener   *scan.Opener
	store    *pyramid.Store
	flowFrom int // see scan.Options
	bench    atomic.Pointer[Bench]
	reach    atomic.Pointer[planfile.Reach] // of the open plan's pictures; nil while there is none
}

// tell passes something on to the bench, on its main thread.
func (s *source) tell(do func(*Bench)) {
	if b := s.bench.Load(); b != nil {
		b.later(func() { do(b) })
	}
}

// again reads a picture again that the store has lost.
func (s *source) again(ctx context.Context, path string, want plan.Page, key [32]byte) (pyramid.Source, error) {
	fsys, name := s.pictureFS(path, want)
	read, err := s.opener.Open(ctx, fsys, name, scan.Options{Page: want.Number, DPI: want.DPI})
	switch {
	case err != nil:
		return nil, err
	case pageKey(read.SHA256, pageOf(read.Header)) != key:
		return nil, fmt.Errorf("%s has been changed since it was opened; open it again", name)
	}
	return read.Image, nil
}

// hashOf is the SHA-256 of a file.
func hashOf(ctx context.Context, fsys fs.FS, name string) (sum [32]byte, err error) {
	f, err := fsys.Open(name)
	if err != nil {
		return sum, err
	}
	defer f.Close()
	h := sha256.New()
	buf := make([]byte, 1<<20)
	for {
		n, err := f.Read(buf)
		h.Write(buf[:n])
		switch {
		case ctx.Err() != nil:
			return sum, ctx.Err()
		case err == io.EOF:
			return [32]byte(h.Sum(nil)), nil
		case err != nil:
			return sum, err
		}
	}
}

// pictureFS is the file system that a picture and its world file are in: of a
// KML file that of the picture it lays over the ground. A picture that the plan
// names inside its folder opens only there, whatever links lead out of it.
func (s *source) pictureFS(path string, want plan.Page) (fs.FS, string) {
	if strings.HasPrefix(path, embeddedScan) {
		return openfile.InMemory(demo.ScanName, demo.Scan(), time.Time{}), demo.ScanName
	}
	dir, name := openfile.Picked(path)
	if r := s.reach.Load(); r != nil && r.Inside[path] {
		if rel, err := filepath.Rel(r.Folder, path); err == nil {
			dir, name = openfile.Inside(r.Folder), filepath.ToSlash(rel)
		}
	}
	fsys, inner, err := scan.Inside(dir, name, want.Number)
	if err != nil {
		return failing{err}, "picture"
	}
	return fsys, inner
}

// failing is a file system of which it is known why nothing opens.
type failing struct{ err error }

// Open gives the error.
func (f failing) Open(string) (fs.File, error) { return nil, f.err }

// pictureName is what a picture is called in sentences.
func pictureName(path string) string {
	return filepath.Base(strings.TrimPrefix(path, plan.EmbeddedPrefix))
}
