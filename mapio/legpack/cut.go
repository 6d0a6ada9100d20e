package legpack

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/mapio/dem"
)

// AroundM is how far around the things of a plan its terrain is packed, metres.
const AroundM = 5000

// terrain writes a terrain file, cut if it is large. ok is false for one that does not reach the
// plan's surroundings.
func (k *packer) terrain(t plan.Terrain) (out plan.Terrain, ok bool, err error) {
	size, err := k.size(t.Path)
	if err != nil {
		return t, false, err
	}
	area, known := k.area()
	if size <= KeepWhole || !known {
		t.Path, err = k.whole(terrainDir, t.Path, t.SHA256)
		return t, err == nil, err
	}
	tile, err := k.tile(t, area)
	switch {
	case errors.Is(err, dem.ErrElsewhere):
		k.said.Left++
		return t, false, nil
	case err != nil:
		return t, false, err
	case !square(tile): // the format of a cut has one spacing
		t.Path, err = k.whole(terrainDir, t.Path, t.SHA256)
		return t, err == nil, err
	}
	t.CutFrom, t.CutFromCode = t.Origin()
	base := strings.TrimSuffix(filepath.Base(t.Path), filepath.Ext(t.Path)) + "-cut.asc"
	t.Path, t.SHA256, err = k.add(terrainDir, base, func(w io.Writer) error { return writeCut(w, tile) })
	t.Code = tile.System.Code()
	k.said.Cut++
	return t, err == nil, err
}

func (k *packer) size(name string) (int64, error) {
	f, err := k.open(name)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}

// tile reads the part of a terrain file that the area needs.
func (k *packer) tile(t plan.Terrain, area terrain.Area) (*terrain.Tile, error) {
	f, err := k.open(t.Path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	tile, sum, err := dem.OpenHashed(k.ctx, f, filepath.Base(t.Path), dem.Want{Area: area, Feet: t.Feet, Grid: t.Code})
	if sum != "" && sum != t.SHA256 {
		return nil, fmt.Errorf("%s has changed since you added it to the plan: open it again in the plan, then pack the plan", filepath.Base(t.Path))
	}
	return tile, err
}

// area is the ground around all things of the plan; ok is false where that cannot be said.
func (k *packer) area() (a terrain.Area, ok bool) {
	p, sys := k.r.Plan(), k.r.System()
	low, high := geodesy.Grid{E: math.Inf(1), N: math.Inf(1)}, geodesy.Grid{E: math.Inf(-1), N: math.Inf(-1)}
	for x := range p.Things {
		for _, e := range x.Points {
			pos := p.Resolve(e)
			if sys == nil {
				sys, _ = k.r.SystemFor(pos)
			}
			g, _, err := k.r.Convert(pos, sys)
			if err != nil {
				return a, false
			}
			low = geodesy.Grid{E: min(low.E, g.E), N: min(low.N, g.N)}
			high = geodesy.Grid{E: max(high.E, g.E), N: max(high.N, g.N)}
		}
	}
	if low.E > high.E {
		return a, false
	}
	a, err := terrain.AreaOf(sys, low, high, AroundM)
	return a, err == nil
}

// square reports whether the posts of a tile are as far apart east as north.
func square(t *terrain.Tile) bool { return math.Abs(t.StepE-t.StepN) <= 1e-9*t.StepN }

// noHeight is the figure for a post without a height.
const noHeight = "-9999"

// writeCut writes a tile as an Esri ASCII grid, its heights exactly.
func writeCut(w io.Writer, t *terrain.Tile) error {
	out := bufio.NewWriterSize(w, 1<<16)
	exact := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	e, n := t.System.InUnits(geodesy.Grid{E: t.NorthWest.E, N: t.SouthEast().N})
	step, _ := t.System.InUnits(geodesy.Grid{E: t.StepE})
	fmt.Fprintf(out, "ncols %d\nnrows %d\nxllcenter %s\nyllcenter %s\ncellsize %s\nNODATA_value %s\n", t.Cols, t.Rows, exact(e), exact(n), exact(step), noHeight)
	for row := range t.Rows {
		for col := range t.Cols {
			h := t.Height(row*t.Cols + col)
			if h != h {
				out.WriteString(noHeight)
			} else {
				out.WriteString(strconv.FormatFloat(h, 'f', -1, 32))
			}
			out.WriteByte(' ')
		}
		out.WriteByte('\n')
	}
	return out.Flush()
}
