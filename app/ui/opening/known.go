package opening

import (
	"context"
	"errors"
	"image"
	"io/fs"
	"path/filepath"
	"strings"

	"legwright/app/plan"
	"legwright/mapio/georef"
	"legwright/mapio/scan"
)

// known shows a picture that the store recognises by the mark of its file, and then
// compares the whole file with it. It reports whether there was one.
func (r *reading) known(ctx context.Context, fsys fs.FS, name string, mark [32]byte) bool {
	if r.from.Store == nil {
		return false
	}
	if r.hasPages(fsys, name) {
		return r.knownPage(ctx, fsys, name, mark)
	}
	key, size, ok := r.from.Store.Find(mark)
	if !ok {
		return false
	}
	h, err := scan.ReadHeader(fsys, name)
	if err != nil || image.Pt(h.Width, h.Height) != size {
		return false
	}
	p := &Picture{Path: r.path, Header: h, mark: mark, stored: true}
	p.hashed(key)
	if !r.sendStored(p) {
		return false
	}
	sum, err := hashOf(ctx, fsys, name)
	r.outcome = &outcome{err: err, changed: err == nil && sum != key}
	if err == nil {
		data, _ := r.from.Opener.Look(ctx, fsys, name, scan.Options{})
		r.outcome.found = georef.Find(data) // faults of its world file were reported when it was opened first
	}
	return true
}

// sendStored opens a picture from the store and sends it, and reports whether it is
// there.
func (r *reading) sendStored(p *Picture) bool {
	stored, err := r.from.Store.Open(p.key, r.options(p.key))
	if err != nil {
		return false
	}
	if stored.Size() != image.Pt(p.Header.Width, p.Header.Height) {
		stored.Close()
		return false
	}
	p.Pyramid = stored
	r.send(p)
	return true
}

// hasPages reports that a file holds pages of which one must be chosen.
func (r *reading) hasPages(fsys fs.FS, name string) bool {
	if isDocument(r.path) || r.page != (plan.Page{}) {
		return true
	}
	if ext := strings.ToLower(filepath.Ext(name)); ext != ".tif" && ext != ".tiff" && !scan.IsOverlay(r.path) {
		return false
	}
	h, err := scan.ReadHeader(fsys, name)
	return err == nil && h.Pages > 1
}

// knownPage is known for the page of a document: the document must be looked at
// before it is clear which drawing of the page is meant.
func (r *reading) knownPage(ctx context.Context, fsys fs.FS, name string, mark [32]byte) bool {
	if isDocument(r.path) {
		r.progress(scan.StageStart, 0, 0)
	}
	data, err := r.from.Opener.Look(ctx, fsys, name, scan.Options{Page: r.page.Number, DPI: r.page.DPI})
	if errors.Is(err, scan.ErrTooLarge) { // decoding would fill the memory a second time
		r.outcome = &outcome{err: err}
		return true
	}
	if err != nil {
		return false // decoding says why
	}
	h := data.Header
	page := PageOf(h)
	key, _, ok := r.from.Store.Find(pageKey(mark, page))
	if !ok {
		return false
	}
	sum, err := hashOf(ctx, fsys, name)
	if err != nil || pageKey(sum, page) != key {
		return false
	}
	p := &Picture{Path: r.path, Page: page, Header: h, mark: mark, stored: true}
	p.hashed(sum)
	if !r.sendStored(p) {
		return false
	}
	r.outcome = &outcome{found: georef.Find(data)}
	return true
}

// showCopy sends what the store keeps of a sheet's picture whose file is not there.
func (r *reading) showCopy() {
	key, ok := sheetKey(*r.sheet)
	if !ok || r.from.Store == nil {
		return
	}
	s := r.sheet
	r.sendStored(&Picture{
		Path: r.path, Page: s.Page, SHA256: s.SHA256, key: key, Copy: true, stored: true,
		Header: scan.Header{
			Format: "stored copy", Width: s.Width, Height: s.Height, DPI: s.DPI,
			Page: s.Page.Number, Pages: s.Page.Number, PageDPI: s.Page.DPI,
		},
	})
}
