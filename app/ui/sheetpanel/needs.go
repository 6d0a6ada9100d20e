package sheetpanel

import (
	"context"
	"image"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetview"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// Needs is what the panel works with. All of it belongs to the main thread.
type Needs struct {
	Session  *session.Session
	Foot     *foot.Line
	Ask      *ask.Dialogs
	Map      *sheetview.View
	Pictures Pictures
	Host     Host
	Canvas   fyne.Canvas  // of the window, for the focus and its scale
	Later    func(func()) // runs a function on the main thread
	// Reveal scrolls the panel until a part of it shows.
	Reveal func(fyne.CanvasObject)
	// InSight reports whether anything of the panel's body between two heights is seen.
	InSight func(top, bottom float32) bool
}

// Host is what the panel asks of the window around it.
type Host interface {
	ShowPanel()             // brings the Sheet panel to the front
	AddSheet()              // asks for a picture that becomes another sheet
	ShowSheet(id plan.ID)   // shows another sheet of the plan
	RemoveSheet(id plan.ID) // deletes a sheet from the plan
}

// Pictures knows the picture that is shown, and finds those of other sheets.
type Pictures interface {
	// Pyramid is the picture that can be worked on, nil while there is none.
	Pyramid() *pyramid.Pyramid
	// Preview says that the picture shown can only be looked at.
	Preview() bool
	// Around reads a part of a sheet's picture about a point, and where in it that
	// point lies. It may be called from any goroutine.
	Around(ctx context.Context, sheet plan.Sheet, at calib.PicturePt) (image.Image, view.PicPt, error)
	// Withheld says that a picture lies outside the plan's folder and nobody has agreed
	// yet that it may be opened.
	Withheld(path string) bool
	// Look is how pictures are shown.
	Look() pyramid.Look
}
