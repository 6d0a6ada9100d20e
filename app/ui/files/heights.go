package files

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/terrain"
	"legwright/app/ui/foot"
	"legwright/app/ui/jobs"
	"legwright/mapio/dem"
)

// heights keeps the session's heights those of the terrain files that the plan names, whatever is
// opened, undone or calibrated.
type heights struct {
	Needs
	reading *jobs.Slot
	have    tiles
	tried   string // what was read last, so that a file that cannot be read is not read for ever
}

// tiles are the posts that were read of the files of a plan, on some ground.
type tiles struct {
	on   string // names the ground
	list map[plan.Terrain]*terrain.Tile
}

func newHeights(n Needs) *heights {
	h := &heights{Needs: n, reading: jobs.NewSlot(n.Later)}
	n.showJob(h.reading, terrainStage, h.cancel)
	n.Session.OnChange(h.follow)
	return h
}

// cancel ends the reading under way.
func (h *heights) cancel() {
	if h.reading.Cancel() {
		h.cancelled("Cancelled: the plan's terrain was not read, so climbs are not known. To read it, open the plan again.")
	}
}

// keep remembers what was read of a file on some ground.
func (h *heights) keep(file plan.Terrain, tile *terrain.Tile, on string) {
	if h.have.on != on || h.have.list == nil {
		h.have = tiles{on, map[plan.Terrain]*terrain.Tile{}}
	}
	h.have.list[file] = tile
}

// follow reads the files of the plan whenever they, or the ground of its sheets, are others
// than those that were read.
func (h *heights) follow(c session.Change) {
	if c.What.Has(session.PlanReplaced) {
		h.tried = ""
	}
	if c.Moving || !c.What.Has(session.TerrainChanged|session.AnySheet) {
		return
	}
	files := h.Session.Plan().Terrain
	area, on := h.ground()
	key := fmt.Sprint(on, files)
	if len(files) == 0 || on == "" || key == h.tried {
		return
	}
	h.tried = key
	h.reading.Cancel()
	h.readAll(files, area, on)
}

// readAll reads what is missing of the plan's files, and hands all of them over.
func (h *heights) readAll(files []plan.Terrain, area terrain.Area, on string) {
	have := tiles{on, map[plan.Terrain]*terrain.Tile{}}
	var missing []plan.Terrain
	var faults []error
	for _, f := range files {
		switch tile := h.have.list[f]; {
		case tile != nil && h.have.on == on:
			have.list[f] = tile
		case h.Desk.Withheld(f.Path):
			faults = append(faults, fmt.Errorf("%s: %w", f.Path, errWithheld))
		default:
			missing = append(missing, f)
		}
	}
	if len(missing) == 0 {
		h.Later(func() { h.handOver(files, have, faults) })
		return
	}
	h.reading.Start("Reading the plan's terrain", func(ctx context.Context, tell func(jobs.Progress)) error {
		for _, f := range missing {
			tile, err := h.again(ctx, f, area, tell)
			if err != nil {
				faults = append(faults, fmt.Errorf("%s: %w", filepath.Base(f.Path), err))
				continue
			}
			have.list[f] = tile
		}
		return context.Cause(ctx)
	}, func(error) { h.handOver(files, have, faults) })
}

// again reads a file of the plan, which must be as it was when it was opened.
func (h *heights) again(ctx context.Context, f plan.Terrain, area terrain.Area, tell func(jobs.Progress)) (*terrain.Tile, error) {
	sum, tile, err := h.read(ctx, f, area, tell)
	if sum != "" && sum != f.SHA256 { // whatever else is wrong with it now
		err = errors.New("the file has changed since you added it to the plan; open it again with File → Open terrain…")
	}
	return tile, err
}

// handOver gives the session what was read of the plan's files. What could not be read is
// said, and its ground is not known.
func (h *heights) handOver(files []plan.Terrain, have tiles, faults []error) {
	h.have = have
	var list []*terrain.Tile
	for _, f := range files {
		if tile := have.list[f]; tile != nil {
			list = append(list, tile)
		}
	}
	m, err := terrain.NewModel(list...)
	h.Session.SetGround(files, m)
	if err = errors.Join(append(faults, err)...); err != nil {
		h.Foot.Fail(fmt.Errorf("some of the plan's terrain cannot be read, so climbs there are not known: %s", strings.ReplaceAll(err.Error(), "\n", "; ")))
	}
}

// errWithheld is the fate of a file outside the plan's folder that nobody agreed to.
var errWithheld = errors.New("it is outside the plan's folder, so it was not opened; if you know the file, open it with File → Open terrain…")

// read reads and hashes a file, where the plan may open it.
func (h *heights) read(ctx context.Context, f plan.Terrain, area terrain.Area, tell func(jobs.Progress)) (sum string, tile *terrain.Tile, err error) {
	dir, name := h.Desk.Source().File(f.Path)
	in, err := dir.Open(name)
	if err != nil {
		return "", nil, err
	}
	defer in.Close()
	tile, sum, err = dem.OpenHashed(ctx, in, filepath.Base(f.Path), dem.Want{
		Area: area, Feet: f.Feet, Grid: f.Code,
		Progress: func(done, all int) { tell(jobs.Progress{Stage: stagePosts, Done: int64(done), Total: int64(all)}) },
	})
	return sum, tile, err
}

// gridBeside is the grid that a .prj file beside a file defines, "" for none, and words on it.
func (h *heights) gridBeside(f plan.Terrain) (geodesy.Code, string) {
	code, prj, err := dem.GridBeside(h.Desk.Source().File(f.Path))
	switch {
	case err != nil:
		return "", foot.Sentence(err)
	case prj == "":
		return "", ""
	}
	return code, code.Name() + ", from " + prj
}

// stagePosts is the part of a reading that reads heights.
const stagePosts = "posts"

// terrainStage says what a reading is doing.
func terrainStage(j jobs.Job) string {
	if j.Progress.Stage == stagePosts {
		return fmt.Sprintf("Heights: row %d of %d", j.Progress.Done, j.Progress.Total)
	}
	return "Comparing the file with the plan…"
}

// ground is the ground that terrain is read for: that of the plan's sheets and some kilometres
// round it. on names it, "" while no sheet is calibrated: then nothing is read, for a file may hold
// a country. Sheets that move by less than a kilometre keep it.
func (h *heights) ground() (a terrain.Area, on string) {
	r := h.Session.Reader()
	sys := r.System()
	if sys == nil {
		return a, ""
	}
	low, high, ok := r.SheetsGround()
	if !ok {
		return a, ""
	}
	a, err := terrain.AreaOf(sys, low, high, terrain.AroundM)
	if err != nil {
		return terrain.Area{}, ""
	}
	return a, fmt.Sprint(sys.Code(), low, high)
}
