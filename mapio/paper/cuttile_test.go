package paper

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/rectify"
)

// flat is a sheet of a given matrix, 1 m a pixel, without a picture.
func flat(t testing.TB) rectify.Sheet {
	t.Helper()
	return given(t, 4000, [6]float64{1, 0, madeE, 0, -1, madeN + 4000})
}

// given is a square sheet of a given matrix.
func given(t testing.TB, side int, matrix [6]float64) rectify.Sheet {
	t.Helper()
	c, err := calib.FromMatrix(matrix, 1, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	return rectify.Sheet{Width: side, Height: side, System: bng(t), Calibration: c}
}

// TestTilesCover: whatever the ground and the paper, each position of a leg lies on a tile,
// 10 mm from its edge where another tile follows, and every tile has the size of the map.
func TestTilesCover(t *testing.T) {
	t.Parallel()
	sheet, several, tried := flat(t), 0, 0
	cut := func(t *rapid.T) {
		tried++
		metres := rapid.Float64Range(0, 30_000)
		a, b := at(metres.Draw(t, "e"), metres.Draw(t, "n")), at(metres.Draw(t, "e2"), metres.Draw(t, "n2"))
		c := Cut{Sheet: sheet, Scale: rapid.SampledFrom(usualScales).Draw(t, "scale"), Things: Things{Legs: []CutLeg{{Number: 1, From: a, To: b}}}}
		c.Ground, _ = c.Things.Ground(rapid.Float64Range(1, 500).Draw(t, "margin"))
		w, h := rapid.Float64Range(40, 280).Draw(t, "w"), rapid.Float64Range(40, 280).Draw(t, "h")
		tiles, err := c.Tiles(w, h)
		if err != nil {
			if !strings.Contains(err.Error(), "choose a smaller scale") {
				t.Fatal(err)
			}
			return
		}
		for i, tile := range tiles {
			if math.Abs(c.mm(tile.Ground.wide())-w) > 1e-6 || math.Abs(c.mm(tile.Ground.high())-h) > 1e-6 {
				t.Fatalf("tile %d is %.3f × %.3f mm, the map %.3f × %.3f", i, c.mm(tile.Ground.wide()), c.mm(tile.Ground.high()), w, h)
			}
			for side, back := range map[Side]Side{NorthSide: SouthSide, SouthSide: NorthSide, EastSide: WestSide, WestSide: EastSide} {
				n, ok := Neighbour(tiles, i, side)
				if !ok {
					continue
				}
				if j, ok := Neighbour(tiles, n, back); !ok || j != i {
					t.Fatalf("tile %d has %d beside it, which has %d", i, n, j)
				}
				if mm := c.mm(common(side, tile.Ground, tiles[n].Ground)); math.Abs(mm-OverlapMM) > 1e-6 {
					t.Fatalf("tiles %d and %d have %.3f mm in common", i, n, mm)
				}
			}
		}
		several += min(len(tiles)-1, 1)
		for f := 0.0; f <= 1; f += 1.0 / 64 {
			p := geodesy.Grid{E: a.E + f*(b.E-a.E), N: a.N + f*(b.N-a.N)}
			if !onOne(c, tiles, p) {
				t.Fatalf("%v lies on none of %d tiles with room around it", p, len(tiles))
			}
		}
	}
	for tried < 100 { // a short run draws fewer at a time
		rapid.Check(t, cut)
	}
	if several < 20 {
		t.Errorf("only %d of %d cuts had several tiles", several, tried)
	}
}

// common is how much ground two tiles share across a side.
func common(side Side, a, b Ground) float64 {
	switch side {
	case NorthSide:
		return a.North - b.South
	case SouthSide:
		return b.North - a.South
	case EastSide:
		return a.East - b.West
	}
	return b.East - a.West
}

// onOne reports whether a position lies on a tile with half of the overlap around it, or
// where the ground of the cut itself ends.
func onOne(c Cut, tiles []Tile, p geodesy.Grid) bool {
	room := c.metres(OverlapMM/2) - 1e-6
	for _, t := range tiles {
		g := t.Ground
		inE := p.E >= min(g.West+room, max(g.West, c.Ground.West)) && p.E <= max(g.East-room, min(g.East, c.Ground.East))
		inN := p.N >= min(g.South+room, max(g.South, c.Ground.South)) && p.N <= max(g.North-room, min(g.North, c.Ground.North))
		if inE && inN {
			return true
		}
	}
	return false
}

// TestTilesLeaveOutEmptyOnes: of a long slanting route only the pages on which it lies are
// printed.
func TestTilesLeaveOutEmptyOnes(t *testing.T) {
	t.Parallel()
	c := Cut{Sheet: flat(t), Scale: 25_000, Things: Things{Legs: []CutLeg{{Number: 1, From: at(0, 0), To: at(9000, 9000)}}}}
	c.Ground, _ = c.Things.Ground(100)
	tiles, err := c.Tiles(100, 100)
	if err != nil {
		t.Fatal(err)
	}
	if all := partsOf(c.mm(c.Ground.wide()), 100); all != 5 || len(tiles) < 5 || len(tiles) >= all*all {
		t.Errorf("%d tiles of %d × %d", len(tiles), all, all)
	}
	c.Things.Legs = nil
	if tiles, err = c.Tiles(100, 100); err != nil || len(tiles) != 25 {
		t.Errorf("ground alone takes %d tiles, want all 25: %v", len(tiles), err)
	}
}

// TestCutRefuses names what stands against a map at true scale.
func TestCutRefuses(t *testing.T) {
	t.Parallel()
	degrees, err := geodesy.Lookup(geodesy.EPSG(4326))
	if err != nil {
		t.Fatal(err)
	}
	for want, change := range map[string]func(*Cut){
		"not calibrated":          func(c *Cut) { c.Sheet.Calibration = nil },
		"1:4,999 is not possible": func(c *Cut) { c.Scale = 4999 },
		"1:100,001":               func(c *Cut) { c.Scale = 100_001 },
		"no ground":               func(c *Cut) { c.Ground = Around(nil, 100) },
		"does not keep one scale": func(c *Cut) { c.Sheet.System = degrees },
		"choose a smaller scale":  func(c *Cut) { c.Ground = Ground{0, 0, 1e6, 1e6} },
	} {
		c := Cut{Sheet: flat(t), Scale: 25_000, Ground: Around([]geodesy.Grid{at(0, 0)}, 500)}
		change(&c)
		if _, err := c.Tiles(100, 100); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want an error with %q", err, want)
		}
	}
	c := Cut{Sheet: flat(t), Scale: 25_000, Ground: Around([]geodesy.Grid{at(0, 0)}, 500)}
	if _, err := c.Tiles(39, 100); err == nil || !strings.Contains(err.Error(), "larger paper") {
		t.Errorf("got %v for a map 39 mm wide", err)
	}
}

// TestOwnScale: a sheet is of the scale by which its resolution and its fit agree.
func TestOwnScale(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		dpi  float64
		want int
		ok   bool
	}{{635, 25_000, true}, {254, 10_000, true}, {260, 10_000, true}, {2500, 100_000, true}, {700, 28_000, true}, {0, 0, false}, {100, 0, false}, {9000, 0, false}} {
		s := flat(t)
		s.DPI = c.dpi
		if got, ok := OwnScale(s); got != c.want || ok != c.ok {
			t.Errorf("%g pixels per inch of 1 m: 1:%d, %v, want 1:%d, %v", c.dpi, got, ok, c.want, c.ok)
		}
	}
}
