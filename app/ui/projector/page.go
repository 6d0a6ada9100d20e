package projector

import (
	"legwright/app/lettering"
	"legwright/app/ui/look"
)

// Written is a text of the board where it stands, in units of the window: its left end and
// the line it stands on, and how high its figures are.
type Written struct {
	Text    string
	X, Line float32
	High    float32
	Wide    float32
	Set     bool // it is the figure to set
	Struck  bool // it stands in a frame and struck through: nobody may walk on it
	style   lettering.Style
	ink     look.Role
}

// bar is a filled rectangle.
type bar struct {
	x, y, w, h float32
	ink        look.Role
}

// page is the board set out for a size.
type page struct {
	words              []Written
	bars               []bar
	faceX, faceY, side float32 // of the dial's face or the compass; side 0: none
}
