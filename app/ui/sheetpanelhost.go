package ui

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"image"
	"image/draw"
	"path/filepath"
	"slices"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/sheetpanel"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// sheetHost is the window as the Sheet panel knows it.
type sheetHost struct{ b *Bench }

func newSheetPanel(b *Bench) *sheetpanel.Panel {
	return sheetpanel.New(sheetpanel.Needs{
		Session: b.s, Foot: b.foot, Later: b.later, Canvas: b.window.Canvas(),
		Ask: sheetAsk{b}, Map: b.view, Pictures: sheetPictures{b}, Host: sheetHost{b},
		Reveal: func(o fyne.CanvasObject) { b.panel.reveal(o) },
	})
}

// ShowPanel brings the Sheet panel to the front.
func (h sheetHost) ShowPanel() {
	if h.b.post != postSheet {
		h.b.goTo(postSheet)
	}
}

// AddSheet asks for a picture that becomes another sheet.
func (h sheetHost) AddSheet() { h.b.askSheet() }

// ShowSheet shows another sheet of the plan.
func (h sheetHost) ShowSheet(id plan.ID) { h.b.showSheet(id, nil) }

// RemoveSheet deletes a sheet from the plan.
func (h sheetHost) RemoveSheet(id plan.ID) { h.b.removeSheet(id) }

// sheetAsk asks the Sheet panel's questions.
type sheetAsk struct{ b *Bench }

// Tell shows a text until it is closed.
func (a sheetAsk) Tell(title, text string) { a.b.tell(title, text) }

// Refuse shows why something was not done.
func (a sheetAsk) Refuse(title string, err error) { a.b.refuse(title, err) }

// Question asks whether to do something.
func (a sheetAsk) Question(title string, body fyne.CanvasObject, yes string, do func()) {
	a.b.dialogs.QuestionOver(title, body, nil, answer{Text: "Cancel"}, answer{Text: yes, Default: true, Do: do})
}

// Grid asks for a grid.
func (a sheetAsk) Grid(title, text string, then func(geodesy.Code)) {
	a.b.dialogs.Grid(title, text, filepath.Dir(a.b.suggest("")), then)
}

// GridWords say which grid was chosen.
func (a sheetAsk) GridWords(code geodesy.Code) string { return ask.GridChosen(code) }

// sheetPictures is what the Sheet panel knows of pictures.
type sheetPictures struct{ b *Bench }

// Pyramid is the picture that can be worked on.
func (p sheetPictures) Pyramid() *pyramid.Pyramid { return p.b.picture.pyramid }

// Preview says that the picture shown can only be looked at.
func (p sheetPictures) Preview() bool { return p.b.glimpsed() }

// Withheld says that a picture may not be opened unasked.
func (p sheetPictures) Withheld(path string) bool { return slices.Contains(p.b.outside.ask, path) }

// Look is how pictures are shown.
func (p sheetPictures) Look() pyramid.Look { return p.b.set.pictureLook() }

// Around reads a part of a sheet's picture.
func (p sheetPictures) Around(ctx context.Context, sheet plan.Sheet, at calib.PicturePt) (image.Image, view.PicPt, error) {
	return p.b.picture.source.around(ctx, sheet, at)
}

// around reads the picture of a sheet around a place: from the store, or else from its
// file, whose hash must be the sheet's. at is the place in what is returned.
func (s *source) around(ctx context.Context, sheet plan.Sheet, place calib.PicturePt) (img image.Image, at view.PicPt, err error) {
	raw, err := hex.DecodeString(sheet.SHA256)
	if err != nil || len(raw) != sha256.Size {
		return nil, at, errors.New("the plan does not say which picture it is")
	}
	corner := image.Pt(int(place.Col)-pyramid.MaxCrop/2, int(place.Row)-pyramid.MaxCrop/2)
	box := image.Rectangle{Min: corner, Max: corner.Add(image.Pt(pyramid.MaxCrop, pyramid.MaxCrop))}
	at = view.PicPt{X: place.Col - float64(corner.X), Y: place.Row - float64(corner.Y)}
	key := pageKey([32]byte(raw), sheet.Page)
	if s.store != nil {
		if kept, err := s.store.Open(key, pyramid.Options{}); err == nil {
			defer kept.Close()
			return kept.Crop(box), at, nil
		}
	}
	whole, err := s.again(ctx, sheet.Picture, sheet.Page, key)
	if err != nil {
		return nil, at, err
	}
	part := image.NewRGBA(image.Rectangle{Max: box.Size()})
	in := box.Intersect(whole.Bounds())
	draw.Draw(part, in.Sub(corner), whole, in.Min, draw.Src)
	return part, at, nil
}
