package tool

// Kind is one of the tools.
type Kind int

const (
	// Sight drags a bearing from one position to another.
	Sight Kind = iota
	// Calibrate points at control points and drags those that exist.
	Calibrate
	// Move drags marks and the ends of legs and sights.
	Move
	// Shape drags the points of hazards, havens, lines and areas, and leaves all else alone.
	Shape
	// Pan drags the sheet.
	Pan
	// Select picks what is drawn; dragging pans.
	Select
)

// String names the tool as in menus.
func (k Kind) String() string {
	switch k {
	case Sight:
		return "Sight"
	case Calibrate:
		return "Calibrate"
	case Move:
		return "Move"
	case Shape:
		return "Shape"
	case Pan:
		return "Pan"
	case Select:
		return "Select"
	}
	return "unknown tool"
}

// Button is a mouse button.
type Button int

// The mouse buttons.
const (
	NoButton Button = iota
	Left
	Middle
	Right
)
