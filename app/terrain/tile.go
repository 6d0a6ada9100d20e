package terrain

import (
	"fmt"
	"math"

	"legwright/app/geodesy"
)

// MaxPosts is how many posts all tiles of a model may have together: 128 MB of
// whole heights, or 256 MB of others.
const MaxPosts = 64_000_000

// Highest and Lowest bound the heights of posts in metres: no dry ground lies below
// the Dead Sea's shore at about −440 m, none above 8,849 m.
const (
	Lowest  = -500
	Highest = 9000
)

// NoHeight is a post without a height among whole ones.
const NoHeight = math.MinInt16

// Tile is one block of posts. Fill it in, hand it to NewModel, and do not
// change it afterwards.
type Tile struct {
	Name         string          // of the file, for people
	System       *geodesy.System // the grid that columns and rows are square to
	NorthWest    geodesy.Grid    // of the first post
	StepE, StepN float64         // metres on the grid between posts, both positive
	Cols, Rows   int
	Heights      []float32 // row by row from the north-west post, NaN for none
	Whole        []int16   // in place of Heights where all are whole numbers, which halves the memory; NoHeight for none
	UnitM        float64   // metres in one unit of the heights
}

// BadTile is the error of a tile that cannot be used.
type BadTile struct{ Name, Reason string }

func (e *BadTile) Error() string {
	return fmt.Sprintf("the terrain %s cannot be used: %s", e.Name, e.Reason)
}

// check refuses a tile whose fields contradict each other.
func (t *Tile) check() error {
	reason := ""
	switch {
	case t.System == nil:
		reason = "it names no grid"
	case t.Cols < 2 || t.Rows < 2:
		reason = fmt.Sprintf("it has %d × %d heights, but needs at least 2 × 2", t.Cols, t.Rows)
	case t.Posts() != t.Cols*t.Rows, t.Heights != nil && t.Whole != nil:
		reason = fmt.Sprintf("it has %d heights for a grid of %d × %d", t.Posts(), t.Cols, t.Rows)
	case !t.NorthWest.IsFinite() || !positive(t.StepE) || !positive(t.StepN):
		reason = "its corner or the spacing of its heights is not a usable number"
	case !positive(t.UnitM):
		reason = "the unit of its heights is not a usable number"
	default:
		return nil
	}
	return &BadTile{t.Name, reason}
}

// Posts is how many posts the tile has, with and without heights.
func (t *Tile) Posts() int { return len(t.Heights) + len(t.Whole) }

// Height is that of a post by its place in the list, in the tile's unit; NaN for none.
func (t *Tile) Height(i int) float64 {
	if t.Whole == nil {
		return float64(t.Heights[i])
	}
	if h := t.Whole[i]; h != NoHeight {
		return float64(h)
	}
	return math.NaN()
}

func positive(v float64) bool { return v > 0 && !math.IsInf(v, 1) }

// SouthEast is the position of the last post.
func (t *Tile) SouthEast() geodesy.Grid {
	return geodesy.Grid{E: t.NorthWest.E + t.StepE*float64(t.Cols-1), N: t.NorthWest.N - t.StepN*float64(t.Rows-1)}
}

// Range returns the lowest and the highest post in metres, and how many posts are voids.
// Without any height both are NaN.
func (t *Tile) Range() (lowM, highM float64, voids int) {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range t.Posts() {
		h := t.Height(i)
		if h != h {
			voids++
			continue
		}
		low, high = min(low, h), max(high, h)
	}
	if voids == t.Posts() {
		return math.NaN(), math.NaN(), voids
	}
	return low * t.UnitM, high * t.UnitM, voids
}
