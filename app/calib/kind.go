package calib

import "fmt"

// Kind is the kind of map between picture and grid.
type Kind int

// The kinds of fit. Auto takes the simplest kind that a freer one does not
// clearly better (see propose); from two or three points, a similarity. Given
// is a matrix that came with the picture, such as a world file's. Perspective
// is for photographs of flat paper and needs four points, Smooth for paper that
// is folded or stretched and needs nine.
const (
	Auto Kind = iota
	Similarity
	Affine
	Given
	Perspective
	Smooth
)

// kinds lists all kinds.
func kinds() []Kind { return []Kind{Auto, Similarity, Affine, Given, Perspective, Smooth} }

// Known reports whether k is one of the kinds above.
func (k Kind) Known() bool { return k >= Auto && k <= Smooth }

// Linear reports whether a fit of the kind is a matrix, the same everywhere in
// the picture.
func (k Kind) Linear() bool { return k != Perspective && k != Smooth }

// atLeast is how many control points a kind needs.
func atLeast(k Kind) int {
	switch k {
	case Affine:
		return 3
	case Perspective:
		return 4
	case Smooth:
		return minSmooth
	}
	return 2
}

// String returns "auto", "similarity", "affine", "given", "perspective" or
// "smooth".
func (k Kind) String() string {
	switch k {
	case Auto:
		return "auto"
	case Similarity:
		return "similarity"
	case Affine:
		return "affine"
	case Given:
		return "given"
	case Perspective:
		return "perspective"
	case Smooth:
		return "smooth"
	}
	return fmt.Sprintf("kind %d", int(k))
}

// ParseKind reads what String writes. The error names the words allowed.
func ParseKind(text string) (Kind, error) {
	for _, k := range kinds() {
		if text == k.String() {
			return k, nil
		}
	}
	return Auto, fmt.Errorf("fit %q is not known: use auto, similarity, affine, given, perspective or smooth", text)
}

// Options choose how Fit works. The zero value is the usual choice.
type Options struct {
	Kind Kind    // any but Given
	DPI  float64 // pixels to the inch of paper; 0 where unknown

	Width, Height int  // of the picture in pixels; 0 where unknown
	Photo         bool // the picture was taken by a camera, so that paper may lie askew in it
	Medium        Medium
	Focal         float64 // of the camera, in diagonals of the picture; 0 where unknown

	// SharedM is the σ per axis, in metres, of an error that all the points
	// have in common, such as a datum shift's; 0 where there is none. No fit
	// shows it and none averages it away: it is added to every position.
	SharedM float64
}
