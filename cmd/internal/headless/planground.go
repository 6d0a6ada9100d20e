package headless

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/assets/demo"
	"legwright/mapio/dem"
	"legwright/mapio/openfile"
	"legwright/mapio/planfile"
)

// withGround returns the reader over the heights of its plan's terrain files, on the ground of its sheets.
// Files outside the plan's folder are not opened, which loadPlan says; what cannot be
// read is a caution.
func withGround(r *leg.Reader, reach planfile.Reach, s streams) *leg.Reader {
	var tiles []*terrain.Tile
	n, area := newNotes(s), terrain.Area{}
	if low, high, ok := r.SheetsGround(); ok {
		area, _ = terrain.AreaOf(r.System(), low, high, terrain.AroundM) // all ground if that cannot be said
	}
	unread := func(path string, err error) {
		n.caution("", caution.Of(caution.TerrainUnread, filepath.Base(path), err.Error()))
	}
	for _, f := range r.Plan().Terrain {
		if slices.Contains(reach.Ask, f.Path) {
			continue
		}
		t, err := planTile(f, reach, area)
		if err != nil {
			unread(f.Path, err)
			continue
		}
		tiles = append(tiles, t)
	}
	m, err := terrain.NewModel(tiles...)
	if err != nil {
		unread("the whole terrain", err)
	}
	return r.Over(m)
}

// planTile reads a terrain file of a plan, which must be as it was when it was opened.
func planTile(f plan.Terrain, reach planfile.Reach, area terrain.Area) (*terrain.Tile, error) {
	in, err := planFile(f.Path, reach)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	t, sum, err := dem.OpenHashed(context.Background(), in, filepath.Base(f.Path), dem.Want{Area: area, Feet: f.Feet, Grid: f.Code})
	if sum != "" && sum != f.SHA256 { // whatever else is wrong with it now
		err = errors.New("the file has changed since the plan was made; open it again in the window")
	}
	return t, err
}

// planFile opens a file of a plan: the demo's from the program, one inside the plan's folder only
// there, whatever links lead out of it.
func planFile(path string, reach planfile.Reach) (fs.File, error) {
	if strings.HasPrefix(path, plan.EmbeddedPrefix) {
		return openfile.InMemory(plan.EmbeddedPrefix+demo.TerrainName, demo.Terrain(), time.Time{}).Open(path)
	}
	if rel, err := filepath.Rel(reach.Folder, path); err == nil && reach.Inside[path] {
		return openfile.Inside(reach.Folder).Open(filepath.ToSlash(rel))
	}
	return openfile.Open(path)
}
