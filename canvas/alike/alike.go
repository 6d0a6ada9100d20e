package alike

import (
	"errors"
	"image"
	"math"
	"slices"
)

const (
	// Half is half the side of the patch of the first picture, in pixels.
	Half = 40
	// Search is how far the feature of the second picture may lie from the middle of
	// its patch, in pixels: two clicks are not exact, and a print is not either.
	Search = 3
	// Least is the likeness from which two patches show the same ground.
	Least = 0.45
)

const (
	tiles   = 5                // along each side of the patch
	tile    = 2 * Half / tiles // pixels along each side of a tile
	drawn   = 4.0              // grey levels, standard deviation: a tile with less is bare paper
	fewest  = tiles * tiles * 3 / 5
	quarter = 4
)

var (
	// ErrBlank is returned where one of the patches is bare paper or lies beyond the
	// picture.
	ErrBlank = errors.New("too little is drawn here to compare")
	// ErrSize is returned for patches of another size than Side and SideOther.
	ErrSize = errors.New("the patches have the wrong size")
)

// Side and SideOther are the sides of the two patches, in pixels.
const (
	Side      = 2 * Half
	SideOther = 2 * (Half + Search)
)

// Likeness returns how much a patch of Side pixels of one picture looks like one of
// SideOther pixels of another: 1 is the same, 0 nothing in common. The error is
// ErrBlank or ErrSize.
func Likeness(one, other *image.RGBA) (float64, error) {
	if one.Rect.Size() != image.Pt(Side, Side) || other.Rect.Size() != image.Pt(SideOther, SideOther) {
		return 0, ErrSize
	}
	a, okA := greyOf(one)
	b, okB := greyOf(other)
	if !okA || !okB {
		return 0, ErrBlank
	}
	list := a.drawnTiles()
	if len(list) < fewest || len(b.drawnTiles()) < fewest {
		return 0, ErrBlank
	}
	best := math.Inf(-1)
	for dy := 0; dy <= 2*Search; dy++ {
		for dx := 0; dx <= 2*Search; dx++ {
			best = math.Max(best, lowerQuartile(a, b, list, image.Pt(dx, dy)))
		}
	}
	return best, nil
}

func lowerQuartile(a, b grey, list []image.Point, shift image.Point) float64 {
	all := make([]float64, len(list))
	for i, p := range list {
		all[i] = correlation(a, b, p, p.Add(shift))
	}
	slices.Sort(all)
	return all[len(all)/quarter]
}

// correlation is the normalised cross-correlation of a tile of a with one of b.
func correlation(a, b grey, p, q image.Point) float64 {
	var sa, sb, saa, sbb, sab float64
	for y := range tile {
		for x := range tile {
			u, v := a.at(p.X+x, p.Y+y), b.at(q.X+x, q.Y+y)
			sa, sb, saa, sbb, sab = sa+u, sb+v, saa+u*u, sbb+v*v, sab+u*v
		}
	}
	const n = tile * tile
	va, vb := saa-sa*sa/n, sbb-sb*sb/n
	if va <= 0 || vb <= 0 {
		return 0
	}
	return (sab - sa*sb/n) / math.Sqrt(va*vb)
}
