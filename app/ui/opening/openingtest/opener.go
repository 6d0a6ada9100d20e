// Package openingtest lets a test drive the reading of pictures by hand, step by step:
// preview, hash, end. It stands for the decoder only; files, hashes and the store are
// real.
package openingtest

import (
	"context"
	"crypto/sha256"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"legwright/mapio/scan"
)

// Patience is how long a test waits for what must come.
const Patience = 60 * time.Second

// Opener is an opening.Opener whose readings wait for the test.
type Opener struct{ begun chan *Reading }

// NewOpener makes an Opener.
func NewOpener() *Opener { return &Opener{make(chan *Reading, 64)} }

// Reading is a picture that is being read.
type Reading struct {
	Header scan.Header // what the picture will have; a test may change it first
	sum    [32]byte
	opt    scan.Options
	ctx    context.Context
	end    chan end
}

type end struct {
	s   *scan.Scan
	err error
}

// Open waits until the test ends the reading.
func (o *Opener) Open(ctx context.Context, fsys fs.FS, name string, opt scan.Options) (*scan.Scan, error) {
	raw, err := fs.ReadFile(fsys, name)
	if err != nil {
		return nil, err
	}
	r := &Reading{
		Header: scan.Header{Format: "PNG", Width: 80, Height: 60, Orientation: 1},
		sum:    sha256.Sum256(raw), opt: opt, ctx: ctx, end: make(chan end, 1),
	}
	if opt.Page > 0 {
		r.Header.Page, r.Header.Pages = opt.Page, max(2, opt.Page)
	}
	if opt.DPI > 0 {
		r.Header.PageDPI, r.Header.DPI = opt.DPI, opt.DPI
	}
	o.begun <- r
	select {
	case e := <-r.end:
		return e.s, e.err
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
}

// Look knows nothing: every picture is opened.
func (o *Opener) Look(context.Context, fs.FS, string, scan.Options) (scan.GeoData, error) {
	return scan.GeoData{}, errors.New("not to be looked at")
}

// Next returns the next reading that begins. Readings that were cancelled meanwhile are
// passed over.
func (o *Opener) Next(t testing.TB) *Reading {
	t.Helper()
	for limit := time.After(Patience); ; {
		select {
		case r := <-o.begun:
			if r.ctx.Err() == nil {
				return r
			}
		case <-limit:
			t.Fatal("no picture is read")
		}
	}
}

// Begun brings each reading that begins, those that were cancelled since among them. Next
// waits on it.
func (o *Opener) Begun() <-chan *Reading { return o.begun }

// Cancelled reports whether nobody waits for the reading any more.
func (r *Reading) Cancelled() bool { return r.ctx.Err() != nil }

// WaitCancelled waits until nobody waits for the reading any more.
func (r *Reading) WaitCancelled(t testing.TB) {
	t.Helper()
	select {
	case <-r.ctx.Done():
	case <-time.After(Patience):
		t.Error("the reading goes on")
	}
}

// Tell tells how far the reading has come.
func (r *Reading) Tell(stage string, done, total int64) { r.opt.Progress(stage, done, total) }

// Preview sends the picture at half its size, without its hash.
func (r *Reading) Preview() { r.opt.Preview(r.preview(false)) }

// PreviewHashed sends the picture at half its size, with its hash.
func (r *Reading) PreviewHashed() { r.opt.Preview(r.preview(true)) }

func (r *Reading) preview(hashed bool) scan.Preview {
	v := scan.Preview{Header: r.Header, Level: 1, Image: grey((r.Header.Width+1)/2, (r.Header.Height+1)/2), Hashed: hashed}
	if hashed {
		v.SHA256 = r.sum
	}
	return v
}

// Hash tells the hash of the file, after Preview.
func (r *Reading) Hash() { r.opt.Hash(r.sum) }

// Finish ends the reading with the whole picture.
func (r *Reading) Finish(notes ...string) {
	r.end <- end{s: &scan.Scan{
		Header: r.Header, Image: grey(r.Header.Width, r.Header.Height), SHA256: r.sum, Notes: notes, Geo: scan.GeoData{Header: r.Header},
	}}
}

// Fail ends the reading with an error.
func (r *Reading) Fail(err error) { r.end <- end{err: err} }

func grey(w, h int) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, w, h))
	for i := range m.Pix {
		m.Pix[i] = 200
	}
	return m
}

// Picture writes a PNG of 80 × 60 pixels into a folder and returns its path. Pictures of
// different tones have different hashes.
func Picture(t testing.TB, dir, name string, tone uint8) string {
	t.Helper()
	m := grey(80, 60)
	m.SetGray(0, 0, color.Gray{Y: tone})
	path := filepath.Join(dir, name)
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	err = png.Encode(f, m)
	if err = errors.Join(err, f.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}
