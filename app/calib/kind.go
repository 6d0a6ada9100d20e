package calib

import "fmt"

// Kind is the kind of map between picture and grid.
type Kind int

// The kinds of fit. Auto takes a similarity from two points, and from more
// points too unless an affine fit is clearly justified (see justifiesAffine).
// Given is a matrix that came with the picture, such as a world file's.
const (
	Auto Kind = iota
	Similarity
	Affine
	Given
)

// String returns "auto", "similarity", "affine" or "given".
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
	}
	return fmt.Sprintf("kind %d", int(k))
}

// ParseKind reads what String writes. The error names the words allowed.
func ParseKind(text string) (Kind, error) {
	for _, k := range []Kind{Auto, Similarity, Affine, Given} {
		if text == k.String() {
			return k, nil
		}
	}
	return Auto, fmt.Errorf("fit %q is not known: use auto, similarity, affine or given", text)
}

// Options choose how Fit works. The zero value is the usual choice.
type Options struct {
	Kind Kind    // Auto, Similarity or Affine
	DPI  float64 // pixels to the inch of paper; 0 where unknown
}
