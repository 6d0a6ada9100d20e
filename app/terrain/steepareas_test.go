package terrain

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"legwright/app/geodesy"
	"legwright/app/ground"
	"legwright/app/units"
)

// maskOf reads a drawing of cells, the northernmost row first.
func maskOf(drawing string) *mask {
	lines := strings.Fields(drawing)
	m := newMask(len(lines[0]), len(lines))
	for n, line := range lines {
		for i, r := range line {
			m.on[(m.rows-1-n)*m.cols+i] = r == '#'
		}
	}
	return m
}

// holds counts the outlines in which the middle of a cell lies.
func holds(outlines [][]vertex, i, j int) int {
	return holdsAt(outlines, float64(i)+0.5, float64(j)+0.5)
}

// holdsAt counts the outlines in which a position lies.
func holdsAt(outlines [][]vertex, x, y float64) (n int) {
	for _, o := range outlines {
		var line []geodesy.Grid
		for _, c := range o {
			line = append(line, geodesy.Grid{E: c.x, N: c.y})
		}
		if ground.Area(line).Contains(geodesy.Grid{E: x, N: y}) {
			n++
		}
	}
	return n
}

func TestOutlinesOfCells(t *testing.T) {
	t.Parallel()
	for what, c := range map[string]struct {
		drawing string
		areas   int
	}{
		"one cell":         {"... .#. ...", 1},
		"two apart":        {"#.. ... ..#", 2},
		"meeting corners":  {"#. .#", 1},
		"a bay":            {"##. #.. ##.", 1},
		"a small hollow":   {"#### #..# ####", 1},
		"a plateau inside": {"###### #....# #....# #....# ######", 1},
		"none":             {"... ...", 0},
	} {
		if got := maskOf(c.drawing).outlines(); len(got) != c.areas {
			t.Errorf("%s: %d areas, want %d: %v", what, len(got), c.areas, got)
		}
		for range 10 { // by its corners the same area is known again
			if a, b := fmt.Sprint(maskOf(c.drawing).outlines()), fmt.Sprint(maskOf(c.drawing).outlines()); a != b {
				t.Fatalf("%s: once %s, then %s", what, a, b)
			}
		}
	}
	if got := maskOf("### ###").outlines(); len(got) != 1 || len(got[0]) != 4 {
		t.Errorf("a rectangle has the corners %v", got)
	}
}

// Every cell that is on lies in exactly one area, a cell that is off in none unless it
// closes a corner or a hollow of a few cells, and no outline touches itself.
func TestOutlinesHoldTheirCells(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m := newMask(rapid.IntRange(1, 12).Draw(t, "cols"), rapid.IntRange(1, 12).Draw(t, "rows"))
		for c := range m.on {
			m.on[c] = rapid.Bool().Draw(t, "on")
		}
		was := append([]bool(nil), m.on...)
		outlines := m.outlines()
		for _, o := range outlines {
			var line []geodesy.Grid
			for _, c := range o {
				line = append(line, geodesy.Grid{E: c.x, N: c.y})
			}
			if ground.Tangled(line) {
				t.Fatalf("the outline %v touches itself", o)
			}
			ringsFollowCells(t, o, outlines)
		}
		for c := range m.on {
			n := holds(outlines, c%m.cols, c/m.cols)
			switch {
			case was[c] && n != 1:
				t.Fatalf("cell %d lies in %d areas", c, n)
			case n > 1:
				t.Fatalf("cell %d, which is off, lies in %d areas", c, n)
			case n == 1 && !m.on[c] && m.hollow(c) > smallHole:
				t.Fatalf("cell %d lies in an area and in a hollow of %d cells", c, m.hollow(c))
			}
		}
	})
}

// ringsFollowCells fails where a side of a ring of an outline does not have an area on one side
// alone: there it would be drawn through the area.
func ringsFollowCells(t *rapid.T, o []vertex, outlines [][]vertex) {
	var points []orb.Point
	for _, c := range o {
		points = append(points, orb.Point{c.x, c.y})
	}
	rings := ground.Rings(points)
	if slits := slices.ContainsFunc(o, func(c vertex) bool { return c.x != math.Trunc(c.x) }); slits != (rings != nil) {
		t.Fatalf("of the outline %v the rings are %v", o, rings)
	}
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if rings == nil || rings[i] != rings[(i+1)%len(o)] {
			continue
		}
		x, y := (a.x+b.x)/2, (a.y+b.y)/2
		if a.x == b.x && holdsAt(outlines, x-0.1, y)+holdsAt(outlines, x+0.1, y) != 1 || a.y == b.y && holdsAt(outlines, x, y-0.1)+holdsAt(outlines, x, y+0.1) != 1 {
			t.Fatalf("the side %v to %v of ring %d lies within an area or outside all", a, b, rings[i])
		}
	}
}

// hollow counts the cells that are off and hang together with one by their sides.
func (m *mask) hollow(c int) int {
	var off []int
	for c, on := range m.on {
		if !on {
			off = append(off, c)
		}
	}
	for _, part := range m.connected(off) {
		for _, x := range part {
			if x == c {
				return len(part)
			}
		}
	}
	return 0
}

// A cone of 30° on a plain is one area; its foot lies where the slope begins, to a cell
// or two, and the plain is in no area.
func TestSteepAreasOfACone(t *testing.T) {
	t.Parallel()
	const cellM, radiusM = 10.0, 150.0
	sys, err := geodesy.Lookup(geodesy.EPSG(32629))
	must(t, err)
	mid := geodesy.Grid{E: 500_000, N: 6_200_000}
	const posts = 101
	tile := &Tile{Name: "cone", System: sys, NorthWest: geodesy.Grid{E: mid.E - 500, N: mid.N + 500}, StepE: cellM, StepN: cellM, Cols: posts, Rows: posts, UnitM: 1}
	for row := range posts {
		for col := range posts {
			off := math.Hypot(float64(col-posts/2), float64(row-posts/2)) * cellM
			tile.Heights = append(tile.Heights, float32(math.Max(radiusM-off, 0)*math.Tan(30*math.Pi/180)))
		}
	}
	model, err := NewModel(tile)
	must(t, err)
	g := model.On(sys)
	box := Box{geodesy.Grid{E: mid.E - 400, N: mid.N - 400}, geodesy.Grid{E: mid.E + 400, N: mid.N + 400}}
	got, err := g.SteepAreas(context.Background(), box, units.Degrees(25), func(int, int) {})
	must(t, err)
	if len(got.Outlines) != 1 || got.Voids != 0 {
		t.Fatalf("%d areas, %d voids", len(got.Outlines), got.Voids)
	}
	area := ground.Area(got.Outlines[0])
	for a := 0.0; a < 2*math.Pi; a += 0.1 {
		at := func(r float64) geodesy.Grid { return geodesy.Grid{E: mid.E + r*math.Sin(a), N: mid.N + r*math.Cos(a)} }
		if !area.Contains(at(radiusM-2*cellM)) || area.Contains(at(radiusM+3*cellM)) {
			t.Errorf("at %.1f rad the area does not end at the foot of the cone", a)
		}
	}
	moved := Box{geodesy.Grid{E: box.SouthWest.E - 123.4, N: box.SouthWest.N - 77.7}, box.NorthEast}
	again, err := g.SteepAreas(context.Background(), moved, units.Degrees(25), func(int, int) {})
	must(t, err)
	if len(again.Outlines) != 1 || !sameCorners(again.Outlines[0], got.Outlines[0]) {
		t.Error("another view of the same ground gives another outline")
	}
	if none, err := g.SteepAreas(context.Background(), box, units.Degrees(35), func(int, int) {}); err != nil || len(none.Outlines) != 0 {
		t.Errorf("over 35°: %d areas, %v", len(none.Outlines), err)
	}
	wide := Box{geodesy.Grid{E: mid.E - 1e5, N: mid.N - 1e5}, geodesy.Grid{E: mid.E + 1e5, N: mid.N + 1e5}}
	if _, err := g.SteepAreas(context.Background(), wide, units.Degrees(25), func(int, int) {}); !errors.Is(err, ErrTooMuchGround) {
		t.Errorf("200 km: %v", err)
	}
	// 10 rows of 10 cells, and the row in which the box begins below a side of the net of cells
	beyond := Box{geodesy.Grid{E: mid.E + 5000, N: mid.N}, geodesy.Grid{E: mid.E + 5100, N: mid.N + 100}}
	if void, err := g.SteepAreas(context.Background(), beyond, units.Degrees(25), func(int, int) {}); err != nil || void.Voids != 110 || len(void.Outlines) != 0 {
		t.Errorf("beyond the terrain: %+v, %v", void, err)
	}
}

// sameCorners reports whether two outlines have the same corners, to a millimetre.
func sameCorners(a, b []geodesy.Grid) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Hypot(a[i].E-b[i].E, a[i].N-b[i].N) > 1e-3 {
			return false
		}
	}
	return true
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// A pit of one post on a plain is steep at the posts west and east of it alone. Where posts
// stand closer from west to east than from south to north, as those of degrees do, that is an
// area of two cells: it is counted, unless the border of the box cuts it. A ditch of five
// posts is outlined.
func TestSmallSteepAreasAreCounted(t *testing.T) {
	t.Parallel()
	const posts = 61
	sys, err := geodesy.Lookup(geodesy.EPSG(32629))
	must(t, err)
	tile := &Tile{Name: "pits", System: sys, NorthWest: geodesy.Grid{E: 500_000, N: 6_200_000}, StepE: 10, StepN: 30, Cols: posts, Rows: posts, UnitM: 1, Heights: make([]float32, posts*posts)}
	tile.Heights[20*posts+20] = -24 // by Horn's kernel 2 · 24 m over 8 · 10 m: 31°
	for row := range 5 {
		tile.Heights[(43+row)*posts+40] = -24
	}
	model, err := NewModel(tile)
	must(t, err)
	for what, c := range map[string]struct {
		box             Box
		outlined, small int
	}{
		"both":    {Box{geodesy.Grid{E: 500_030, N: 6_198_230}, geodesy.Grid{E: 500_570, N: 6_199_970}}, 1, 1},
		"one cut": {Box{geodesy.Grid{E: 500_195, N: 6_199_000}, geodesy.Grid{E: 500_300, N: 6_199_800}}, 1, 0},
	} {
		got, err := model.On(sys).SteepAreas(context.Background(), c.box, units.Degrees(25), func(int, int) {})
		if err != nil || len(got.Outlines) != c.outlined || got.Small != c.small || got.LeastM2 != 4*got.CellM*got.CellM {
			t.Errorf("%s: %+v, %v, want %d outlined and %d counted", what, got, err, c.outlined, c.small)
		}
	}
}
