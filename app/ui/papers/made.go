package papers

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"strings"
	"time"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/files"
	"legwright/app/ui/jobs"
	"legwright/mapio/card"
	"legwright/mapio/pdf"
)

// wish is the paper that is wanted. Two equal ones give the same bytes.
type wish struct {
	order  card.Order
	omit   string // the names of escapes to leave out, between commas
	home   *home  // of a base sheet; nil of other forms
	reader *leg.Reader
	saved  time.Time
	file   string // of the plan
}

// made is a paper.
type made struct {
	of    wish
	pdf   []byte
	pages int
	stops []string // what every page carries
}

// drawn is a page of a paper as a picture.
type drawn struct {
	of   *made
	page int // from 1
	img  *image.RGBA
}

// work makes a paper, unless it is made already, and draws one of its pages.
type work struct {
	drawPage Draw
	pictures *files.SheetPictures
	of       wish
	page     int
	px       image.Point

	made  *made // what is there, or was made
	drawn *drawn
}

// do does the work beside the window.
func (w *work) do(ctx context.Context, tell func(jobs.Progress)) (err error) {
	defer w.pictures.Close()
	if w.made == nil || w.made.of != w.of {
		tell(jobs.Progress{Stage: "Making the pages…"})
		if w.made, err = w.make(ctx); err != nil {
			return err
		}
	}
	tell(jobs.Progress{Stage: "Drawing the page. The first one takes a few seconds."})
	return w.draw(ctx)
}

// make makes the paper.
func (w *work) make(ctx context.Context) (*made, error) {
	s := card.Source{Reader: w.of.reader.Judged(), Saved: w.of.saved, File: w.of.file}
	if w.of.omit != "" {
		s.Omit = strings.Split(w.of.omit, ",")
	}
	c, file, err := card.Make(ctx, s, w.of.order, card.Beside{Home: w.of.home.of, Open: func(ctx context.Context, x plan.Sheet) (card.Picture, error) {
		cut, grey, err := w.pictures.Open(ctx, x)
		return card.Picture{Cut: cut, Grey: grey}, err
	}})
	if err != nil {
		return nil, err
	}
	return &made{of: w.of, pdf: file, stops: c.Stops}, nil
}

// draw draws the page.
func (w *work) draw(ctx context.Context) error {
	page, err := w.drawPage(ctx, w.made.pdf, w.page, w.px)
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		return fmt.Errorf("the page cannot be shown: %w", err)
	}
	w.made.pages = page.Pages
	w.drawn = &drawn{of: w.made, page: page.Number, img: page.Picture}
	return nil
}

// Page is a page of a PDF as a picture.
type Page struct {
	Number, Pages int // from 1, and of how many
	Picture       *image.RGBA
}

// Draw draws a page of a PDF, counted from 1, or the last one where there are fewer, in a size in
// pixels.
type Draw func(ctx context.Context, file []byte, page int, px image.Point) (Page, error)

// byPDFium is the Draw of an engine.
func byPDFium(e *pdf.Engine) Draw {
	return func(ctx context.Context, file []byte, page int, px image.Point) (Page, error) {
		doc, err := e.Open(ctx, bytes.NewReader(file), int64(len(file)))
		if err != nil {
			return Page{}, err
		}
		defer doc.Close()
		page = min(max(page, 1), doc.Pages())
		img, err := doc.Render(ctx, page, px.X, px.Y, nil)
		return Page{page, doc.Pages(), img}, err
	}
}
