package terrain_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/terrain"
)

// TestQuickGround: positions asked of a quick ground are within a centimetre of those that the grids
// give: on a slope of 1 in 1 heights differ by no more. The far corners of a grid and its edge, where
// nothing is converted, are asked too.
func TestQuickGround(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		grid, tile int
		middle     geodesy.Grid
	}{
		"Great Britain, on degrees":  {27700, 4326, geodesy.Grid{E: 227_600, N: 743_500}},
		"Great Britain, on UTM 30":   {27700, 32630, geodesy.Grid{E: 227_600, N: 743_500}},
		"Great Britain, far corner":  {27700, 4326, geodesy.Grid{E: 10, N: 10}},
		"UTM 33 at 78° north":        {32633, 4326, geodesy.Grid{E: 690_000, N: 8_660_000}},
		"UTM 60 across 180° of east": {32760, 4326, geodesy.Grid{E: 807_000, N: 5_460_000}},
		"Switzerland, on degrees":    {2056, 4326, geodesy.Grid{E: 2_640_000, N: 1_150_000}},
	} {
		grid, own := system(t, c.grid), system(t, c.tile)
		ll, _, err := grid.ToWGS84(c.middle)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		at, _, _, err := own.FromWGS84(ll)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		tile := &terrain.Tile{System: own, NorthWest: geodesy.Grid{E: at.E - 20_000, N: at.N + 20_000}, StepE: 2000, StepN: 2000, Cols: 21, Rows: 21, UnitM: 1}
		for i := range tile.Cols * tile.Rows {
			tile.Heights = append(tile.Heights, float32(2000*(i%tile.Cols)+2000*(i/tile.Cols)))
		}
		exact, rng, asked := ground(t, grid, tile), rand.New(rand.NewPCG(3, 9)), 0
		quick := exact.Quick()
		for range 5000 {
			p := move(c.middle, 12_000*(rng.Float64()-0.5), 12_000*(rng.Float64()-0.5))
			want, known := exact.Height(p)
			got, ok := quick.Height(p)
			if ok != known || math.Abs(got-want) > 0.01*math.Sqrt2 {
				t.Errorf("%s at %v: got %v, %v, want %v, %v", name, p, got, ok, want, known)
				break
			}
			if ok {
				asked++
			}
		}
		if asked < 1000 {
			t.Errorf("%s: only %d of 5000 places have a height", name, asked)
		}
	}
}
