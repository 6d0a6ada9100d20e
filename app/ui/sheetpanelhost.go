package ui

import (
	"context"
	"image"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/ui/sheetpanel"
	"legwright/app/ui/sheetview"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// sheetHost is the window as the Sheet panel knows it.
type sheetHost struct{ b *Bench }

func newSheetPanel(b *Bench) *sheetpanel.Panel {
	return sheetpanel.New(sheetpanel.Needs{
		Session: b.s, Foot: b.foot, Later: b.program.later, Canvas: b.window.Canvas(),
		Ask: b.dialogs, Map: b.view, Pictures: sheetPictures{b}, Host: sheetHost{b},
		Reveal:  func(o fyne.CanvasObject) { b.frame.panel.reveal(o) },
		InSight: func(top, bottom float32) bool { return b.frame.panel.inSight(top, bottom) },
	})
}

// ShowPanel brings the Sheet panel to the front.
func (h sheetHost) ShowPanel() {
	if h.b.frame.panel.front != panelSheet {
		h.b.goTo(panelSheet)
	}
}

// AddSheet asks for a picture that becomes another sheet.
func (h sheetHost) AddSheet() { h.b.files.Pictures.AddSheet() }

// ShowSheet shows another sheet of the plan.
func (h sheetHost) ShowSheet(id plan.ID) { h.b.showSheet(id, "") }

// RemoveSheet deletes a sheet from the plan.
func (h sheetHost) RemoveSheet(id plan.ID) { h.b.files.Pictures.RemoveSheet(id) }

// sheetPictures is what the Sheet panel knows of pictures.
type sheetPictures struct{ b *Bench }

// Pyramid is the picture that can be worked on.
func (p sheetPictures) Pyramid() *pyramid.Pyramid { return p.b.desk.Pyramid() }

// Preview says that the picture shown can only be looked at.
func (p sheetPictures) Preview() bool { return p.b.desk.Preview() != nil }

// Withheld says that a picture may not be opened unasked.
func (p sheetPictures) Withheld(path string) bool { return p.b.desk.Withheld(path) }

// Look is how pictures are shown.
func (p sheetPictures) Look() pyramid.Look { return p.b.program.set.pictureLook() }

// Around reads a part of a sheet's picture.
func (p sheetPictures) Around(ctx context.Context, sheet plan.Sheet, at calib.PicturePt) (image.Image, view.PicPt, error) {
	img, in, err := p.b.desk.Source().Around(ctx, sheet, at)
	return img, sheetview.ViewPt(in), err
}
