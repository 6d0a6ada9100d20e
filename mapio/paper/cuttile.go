package paper

import (
	"fmt"
	"math"
)

// OverlapMM is how much of the ground two neighbouring tiles have in common, millimetres on
// paper.
const OverlapMM = 20

// MostTiles bounds how many pages a cut may take.
const MostTiles = 60

// Tile is the part of a cut that stands on one page.
type Tile struct {
	Ground   Ground
	col, row int // from the north-west
}

// Side is a side of a tile.
type Side int

// The sides of a tile.
const (
	NorthSide Side = iota
	EastSide
	SouthSide
	WestSide
)

// Tiles splits a cut into parts that fit on maps of at most wMM × hMM. A cut is never
// shrunk. The tiles stand row by row from the north-west; those on which none of the plan's
// legs, escapes, marks and havens lie are left out, unless nothing lies on any. The error says
// why the cut cannot be printed, or with which scale it takes fewer pages.
func (c *Cut) Tiles(wMM, hMM float64) ([]Tile, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	const least = 2 * OverlapMM
	if wMM < least || hMM < least {
		return nil, fmt.Errorf("the page has room for a map of %.0f × %.0f mm, but a map needs at least %d × %d: choose larger paper", wMM, hMM, least, least)
	}
	cols, rows := partsOf(c.mm(c.Ground.wide()), wMM), partsOf(c.mm(c.Ground.high()), hMM)
	if cols*rows > 100*MostTiles {
		return nil, c.tooMany(cols * rows)
	}
	var all, used []Tile
	for row := range rows {
		for col := range cols {
			t := c.tile(col, row, cols, rows, wMM, hMM)
			if all = append(all, t); c.Things.LieOn(t.Ground) {
				used = append(used, t)
			}
		}
	}
	if len(used) == 0 {
		used = all
	}
	if len(used) > MostTiles {
		return nil, c.tooMany(len(used))
	}
	return used, nil
}

func (c *Cut) tooMany(n int) error {
	return fmt.Errorf("the map would take %d pages at 1:%s, and at most %d are possible: choose a smaller scale or larger paper", n, thousands(c.Scale), MostTiles)
}

// partsOf is how many parts of a length, each overlapping the one before, cover all of it.
func partsOf(all, most float64) int {
	const exact = 1e-6 // millimetres that rounding may add
	if all <= most+exact {
		return 1
	}
	return int(math.Ceil((all - OverlapMM - exact) / (most - OverlapMM)))
}

// tile is one of the tiles. All have the size of the map, and lie about the middle of the
// cut: what room is left shows more of the ground around it.
func (c *Cut) tile(col, row, cols, rows int, wMM, hMM float64) Tile {
	west, wide := partOf(c.Ground.West, c.Ground.East, c.metres(wMM), c.metres(OverlapMM), col, cols)
	south, high := partOf(c.Ground.South, c.Ground.North, c.metres(hMM), c.metres(OverlapMM), rows-1-row, rows)
	return Tile{Ground: Ground{west, south, west + wide, south + high}, col: col, row: row}
}

// partOf is where the i-th of n parts begins, and how long it is.
func partOf(from, to, most, overlap float64, i, n int) (at, length float64) {
	all := most*float64(n) - overlap*float64(n-1)
	return (from+to-all)/2 + float64(i)*(most-overlap), most
}

// Neighbour returns the index of the tile beside another one on a side; ok is false where
// there is none.
func Neighbour(list []Tile, i int, side Side) (index int, ok bool) {
	step := map[Side][2]int{NorthSide: {0, -1}, EastSide: {1, 0}, SouthSide: {0, 1}, WestSide: {-1, 0}}[side]
	for j, t := range list {
		if t.col == list[i].col+step[0] && t.row == list[i].row+step[1] {
			return j, true
		}
	}
	return 0, false
}
