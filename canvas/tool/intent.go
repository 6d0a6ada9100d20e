package tool

// Act is what a person means to do.
type Act int

// The acts, with the fields of the Intent that belong to each.
const (
	// Hover: the pointer is over To; To.Target is what is under it.
	Hover Act = iota
	// Live: a bearing is being dragged from From to To.
	Live
	// Offer: a bearing was dragged from From to To and released.
	Offer
	// Cancelled: a drag ended without effect.
	Cancelled
	// Click: a click at To; To.Target is what was hit.
	Click
	// DoubleClick: a double click at To.
	DoubleClick
	// Secondary: a click with the right button at To.
	Secondary
	// Moving: From.Target is being dragged, and is at To now.
	Moving
	// Moved: From.Target was dragged to To and released.
	Moved
	// PanBy: the sheet is to move by DX, DY screen pixels.
	PanBy
)

// Intent is one act with its places.
type Intent struct {
	Act      Act
	From, To Spot
	DX, DY   float64
}
