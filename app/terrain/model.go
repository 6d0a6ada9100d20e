package terrain

import (
	"cmp"
	"fmt"
	"slices"

	"legwright/app/geodesy"
)

// Model is a height model of one or more tiles. It is immutable and may be used
// from several goroutines. A nil Model knows no ground.
type Model struct {
	lattices []*lattice // the closest posts first
	tiles    []*Tile
}

// NewModel joins tiles to a model; of none it is nil. Where tiles on one lattice overlap, the
// first that has a height answers. The error is a *BadTile.
func NewModel(tiles ...*Tile) (*Model, error) {
	if len(tiles) == 0 {
		return nil, nil
	}
	m, posts := &Model{tiles: slices.Clone(tiles)}, 0
	for _, t := range tiles {
		if err := t.check(); err != nil {
			return nil, err
		}
		if posts += t.Posts(); posts > MaxPosts {
			return nil, &BadTile{t.Name, fmt.Sprintf("with this file the terrain has more than %d million heights: open fewer or coarser files", MaxPosts/1_000_000)}
		}
		if !slices.ContainsFunc(m.lattices, func(l *lattice) bool { return l.take(t) }) {
			m.lattices = append(m.lattices, newLattice(t))
		}
	}
	slices.SortStableFunc(m.lattices, func(a, b *lattice) int { return cmp.Compare(a.spacingM, b.spacingM) })
	return m, nil
}

// Tiles returns the tiles. Do not write into the slice.
func (m *Model) Tiles() []*Tile {
	if m == nil {
		return nil
	}
	return m.tiles
}

// SpacingM returns how far apart posts stand on the ground, in metres: the wider of
// the spacings along columns and rows, of the coarsest tile. It is 0 without tiles.
func (m *Model) SpacingM() float64 {
	if m == nil {
		return 0
	}
	return m.lattices[len(m.lattices)-1].spacingM
}

// ClosestM is SpacingM of the finest tile.
func (m *Model) ClosestM() float64 {
	if m == nil {
		return 0
	}
	return m.lattices[0].spacingM
}

// On returns the model's ground as seen from a grid.
func (m *Model) On(s *geodesy.System) Ground {
	if m == nil || s == nil {
		return Ground{}
	}
	return Ground{m: m, sys: s}
}
