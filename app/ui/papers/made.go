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
	reader *leg.Reader
	saved  time.Time
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

// work makes a paper, unless it is there already, and draws one of its pages.
type work struct {
	engine   *pdf.Engine
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
	tell(jobs.Progress{Stage: "Drawing the page. The first takes some seconds."})
	return w.draw(ctx)
}

// make makes the paper.
func (w *work) make(ctx context.Context) (*made, error) {
	s := card.Source{Reader: w.of.reader.Judged(), Saved: w.of.saved}
	if w.of.omit != "" {
		s.Omit = strings.Split(w.of.omit, ",")
	}
	c, bytes, err := card.Make(ctx, s, w.of.order, card.Beside{Open: func(ctx context.Context, x plan.Sheet) (card.Picture, error) {
		cut, grey, err := w.pictures.Open(ctx, x)
		return card.Picture{Cut: cut, Grey: grey}, err
	}})
	if err != nil {
		return nil, err
	}
	return &made{of: w.of, pdf: bytes, stops: c.Stops}, nil
}

// draw draws the page, or the last one where there are fewer.
func (w *work) draw(ctx context.Context) error {
	doc, err := w.engine.Open(ctx, bytes.NewReader(w.made.pdf), int64(len(w.made.pdf)))
	if err != nil {
		return unseen(ctx, err)
	}
	defer doc.Close()
	w.made.pages = doc.Pages()
	page := min(max(w.page, 1), doc.Pages())
	img, err := doc.Render(ctx, page, w.px.X, w.px.Y, nil)
	if err != nil {
		return unseen(ctx, err)
	}
	w.drawn = &drawn{of: w.made, page: page, img: img}
	return nil
}

// unseen is the error for pages that were made but cannot be drawn.
func unseen(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return fmt.Errorf("the page cannot be shown: %w", err)
}
