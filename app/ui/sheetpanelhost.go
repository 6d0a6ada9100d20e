package ui

import (
	"context"
	"image"
	"path/filepath"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/sheetpanel"
	"legwright/app/ui/sheetview"
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
func (h sheetHost) ShowSheet(id plan.ID) { h.b.showSheet(id, "") }

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
func (p sheetPictures) Pyramid() *pyramid.Pyramid { return p.b.desk.Pyramid() }

// Preview says that the picture shown can only be looked at.
func (p sheetPictures) Preview() bool { return p.b.desk.Preview() != nil }

// Withheld says that a picture may not be opened unasked.
func (p sheetPictures) Withheld(path string) bool { return p.b.desk.Withheld(path) }

// Look is how pictures are shown.
func (p sheetPictures) Look() pyramid.Look { return p.b.set.pictureLook() }

// Around reads a part of a sheet's picture.
func (p sheetPictures) Around(ctx context.Context, sheet plan.Sheet, at calib.PicturePt) (image.Image, view.PicPt, error) {
	img, in, err := p.b.desk.Source().Around(ctx, sheet, at)
	return img, sheetview.ViewPt(in), err
}
