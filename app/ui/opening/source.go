package opening

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"io"
	"io/fs"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/assets/demo"
	"legwright/canvas/pyramid"
	"legwright/mapio/openfile"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// DemoPicture is the path of the demo's picture, which is in the program itself.
const DemoPicture = plan.EmbeddedPrefix + demo.ScanName

// DemoTerrain is the path of the demo's terrain, which is in the program itself.
const DemoTerrain = plan.EmbeddedPrefix + demo.TerrainName

// Opener decodes pictures. scan.Opener is the one; it never holds two decodes in
// memory.
type Opener interface {
	Open(ctx context.Context, fsys fs.FS, name string, opt scan.Options) (*scan.Scan, error)
	Look(ctx context.Context, fsys fs.FS, name string, opt scan.Options) (scan.GeoData, error)
}

// Source is what every opening draws on. It may be used from any goroutine.
type Source struct {
	Opener   Opener
	Store    *pyramid.Store    // knows pictures from earlier openings; nil: there is none
	FlowFrom int               // see scan.Options
	Begins   func(path string) // called when a reading begins; may be nil

	desk  atomic.Pointer[machine] // nil before the window is made
	reach atomic.Pointer[planfile.Reach]
	ahead *reading          // begun before the desk; main thread
	drive func(fs.FS) fs.FS // between the program and its files, for tests; nil: nothing

	closing sync.WaitGroup // pictures that are being closed
}

// tell passes something on to the desk, on its main thread.
func (s *Source) tell(do func(*machine)) {
	if m := s.desk.Load(); m != nil {
		m.opt.Later(func() { do(m) })
	}
}

// close closes a picture beside the window: that waits for what is drawn of it.
func (s *Source) close(p *Picture) { s.closing.Go(p.Pyramid.Close) }

// awaitFinest tells when the finest level of the picture that is worked on is there.
// The pyramid itself tells only of levels that were shown coarser before.
func (s *Source) awaitFinest(p *pyramid.Pyramid) {
	if p.Ready(0) {
		return
	}
	s.closing.Go(func() {
		if p.Wait(0) != nil {
			return // closed
		}
		s.tell(func(m *machine) {
			if m.shown != nil && m.shown.Pyramid == p {
				m.sharper(0)
			}
		})
	})
}

// Around reads the picture of a sheet around a point, as Read does. at is the point in what is
// returned.
func (s *Source) Around(ctx context.Context, sheet plan.Sheet, place calib.PicturePt) (img *image.RGBA, at calib.PicturePt, err error) {
	kept, whole, err := s.Read(ctx, sheet)
	if err != nil {
		return nil, at, err
	}
	corner := image.Pt(int(place.Col)-pyramid.MaxCrop/2, int(place.Row)-pyramid.MaxCrop/2)
	box := image.Rectangle{Min: corner, Max: corner.Add(image.Pt(pyramid.MaxCrop, pyramid.MaxCrop))}
	at = calib.PicturePt{Col: place.Col - float64(corner.X), Row: place.Row - float64(corner.Y)}
	if kept != nil {
		defer kept.Close()
		return kept.Crop(box), at, nil
	}
	img = image.NewRGBA(image.Rectangle{Max: box.Size()})
	in := box.Intersect(whole.Bounds())
	draw.Draw(img, in.Sub(corner), whole, in.Min, draw.Src)
	return img, at, nil
}

// Read opens the picture of a sheet: from the store, to be closed, or else as a whole from its
// file, whose hash must be the sheet's. A picture that Desk.Withheld names must not be asked for.
func (s *Source) Read(ctx context.Context, sheet plan.Sheet) (kept *pyramid.Pyramid, whole pyramid.Source, err error) {
	key, ok := sheetKey(sheet)
	if !ok {
		return nil, nil, errors.New("the plan does not say which picture the sheet was made from")
	}
	if s.Store != nil {
		if kept, err := s.Store.Open(key, pyramid.Options{}); err == nil {
			return kept, nil, nil
		}
	}
	whole, err = s.again(ctx, sheet.Picture, sheet.Page, key)
	return nil, whole, err
}

// again reads a picture that the store has lost.
func (s *Source) again(ctx context.Context, path string, want plan.Page, key [32]byte) (pyramid.Source, error) {
	fsys, name := s.folder(path, want)
	read, err := s.Opener.Open(ctx, fsys, name, scan.Options{Page: want.Number, DPI: want.DPI})
	switch {
	case err != nil:
		return nil, err
	case pageKey(read.SHA256, PageOf(read.Header)) != key:
		return nil, fmt.Errorf("%s has been changed since it was opened; open it again", name)
	}
	return read.Image, nil
}

// File is the file system that a file of the plan is in, with its name there. One that the plan
// names inside its folder opens only there, whatever links lead out of it. It may be called from any
// goroutine.
func (s *Source) File(path string) (fs.FS, string) {
	if path == DemoTerrain {
		return openfile.InMemory(demo.TerrainName, demo.Terrain(), time.Time{}), demo.TerrainName
	}
	dir, name := openfile.Picked(path)
	if r := s.reach.Load(); r != nil && r.Inside[path] {
		if rel, err := filepath.Rel(r.Folder, path); err == nil {
			dir, name = openfile.Inside(r.Folder), filepath.ToSlash(rel)
		}
	}
	return dir, name
}

// folder is the file system that a picture and its world file are in: of a KML file
// that of the picture it lays over the ground. A picture that the plan names inside
// its folder opens only there, whatever links lead out of it.
func (s *Source) folder(path string, want plan.Page) (fs.FS, string) {
	fsys, name := s.inside(path, want)
	if s.drive != nil {
		fsys = s.drive(fsys)
	}
	return fsys, name
}

func (s *Source) inside(path string, want plan.Page) (fs.FS, string) {
	if strings.HasPrefix(path, DemoPicture) {
		return openfile.InMemory(demo.ScanName, demo.Scan(), time.Time{}), demo.ScanName
	}
	dir, name := s.File(path)
	fsys, inner, err := scan.Inside(dir, name, want.Number)
	if err != nil {
		return failing{err}, "picture"
	}
	return fsys, inner
}

// failing is a file system of which it is known why nothing opens.
type failing struct{ err error }

// Open returns the error.
func (f failing) Open(string) (fs.File, error) { return nil, f.err }

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
