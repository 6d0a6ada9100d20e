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
	"legwright/app/ui/ask"
	"legwright/app/ui/jobs"
	"legwright/mapio/dem"
)

// Terrain opens terrain files, and keeps the session's heights those of the files that the
// plan names, whatever is opened, undone or calibrated.
type Terrain struct {
	Needs
	saver           *Saver
	adding, reading *jobs.Slot
	have            tiles
	tried           string // what was read last, so that a file that cannot be read is not read for ever
}

// tiles are the posts that were read of the files of a plan, on some ground.
type tiles struct {
	on   string // names the ground
	list map[plan.Terrain]*terrain.Tile
}

func newTerrain(n Needs, saver *Saver) *Terrain {
	t := &Terrain{Needs: n, saver: saver, adding: jobs.NewSlot(n.Later), reading: jobs.NewSlot(n.Later)}
	n.showJob(t.adding, terrainStage, t.Cancel)
	n.showJob(t.reading, terrainStage, t.Cancel)
	n.Session.OnChange(t.follow)
	return t
}

// Ask asks for a terrain file to open.
func (t *Terrain) Ask() {
	t.Dialogs.OpenPath(ask.Path{
		Title: "Open terrain", Verb: "Open", Start: t.saver.suggest(""), Endings: dem.Names(), Done: t.Open,
	})
}

// Open opens a terrain file that a person chose.
func (t *Terrain) Open(path string) {
	file := plan.Terrain{Path: path}
	if dem.AlwaysMetres(path) {
		t.add(file)
		return
	}
	add := func(feet bool) func() { return func() { file.Feet = feet; t.add(file) } }
	cancelled := func() { t.cancelled("Cancelled: " + filepath.Base(path) + " was not opened.") }
	t.Dialogs.Question("Metres or feet?",
		fmt.Sprintf("In what are the heights of %s? If you do not know, look where the file comes from: a mistake makes every climb three times too large or too small.", filepath.Base(path)),
		cancelled, ask.Answer{Text: "Cancel", Do: cancelled}, ask.Answer{Text: "Feet", Do: add(true)}, ask.Answer{Text: "Metres", Do: add(false), Default: true})
}

// add reads a file and adds it to the plan.
func (t *Terrain) add(file plan.Terrain) {
	var tile *terrain.Tile
	area, on := t.ground()
	t.adding.Start("Opening "+filepath.Base(file.Path), func(ctx context.Context, tell func(jobs.Progress)) (err error) {
		file.SHA256, tile, err = t.read(ctx, file, area, tell)
		return err
	}, func(err error) {
		switch {
		case errors.Is(err, dem.ErrNoGrid):
			t.askGrid(file)
		case err != nil:
			t.refuse("This terrain cannot be opened", file.Path, err)
		default:
			t.take(file, tile, on)
		}
	})
}

// askGrid asks for the grid of a file that does not name it.
func (t *Terrain) askGrid(file plan.Terrain) {
	name := filepath.Base(file.Path)
	other := func() {
		t.Dialogs.Grid("The grid of "+name, "", t.saver.Folder(), func(code geodesy.Code) { file.Code = code; t.add(file) })
	}
	code := t.Session.Plan().Code()
	if code == "" {
		other()
		return
	}
	cancelled := func() { t.cancelled("Cancelled: " + name + " was not opened.") }
	t.Dialogs.Question("Which grid is it on?", fmt.Sprintf("%s does not name its grid. Its supplier does: on the wrong one its hills stand elsewhere.", name), cancelled,
		ask.Answer{Text: "Cancel", Do: cancelled}, ask.Answer{Text: "Another grid…", Do: other},
		ask.Answer{Text: "The sheet's: " + code.Name(), Do: func() { file.Code = code; t.add(file) }, Default: true})
}

// take makes a file that was read terrain of the plan.
func (t *Terrain) take(file plan.Terrain, tile *terrain.Tile, on string) {
	low, high, voids := tile.Range()
	if voids == len(tile.Heights) {
		t.refuse("This terrain cannot be opened", file.Path, errors.New("it has no heights on the ground of the sheet, only voids"))
		return
	}
	if t.have.on != on || t.have.list == nil {
		t.have = tiles{on, map[plan.Terrain]*terrain.Tile{}}
	}
	t.have.list[file] = tile
	if err := t.Session.OpenTerrain(file); err != nil {
		t.refuse("This terrain cannot be opened", file.Path, err)
		return
	}
	t.Desk.Agree(file.Path)
	_ = t.Known.Agreed(t.Session.Path(), file.Path) // after a failure the bench asks again
	m, _ := terrain.NewModel(tile)                  // Open gives no tile that is none
	t.done(fmt.Sprintf("Opened %s, %.0f to %.0f m high. Crags lower than about %.0f m do not show.", filepath.Base(file.Path), low, high, terrain.Blind(m)))
}

// Remove takes the terrain out of the plan.
func (t *Terrain) Remove() {
	if len(t.Session.Plan().Terrain) == 0 {
		t.Foot.Fail(errors.New("the plan has no terrain. To open some: File → Open terrain…"))
		return
	}
	t.Foot.Try(t.Session.RemoveTerrain(), "The terrain was removed from the plan. Ctrl+Z restores it.")
}

// Has reports whether the plan names terrain.
func (t *Terrain) Has() bool { return len(t.Session.Plan().Terrain) > 0 }

// Reading reports whether a terrain file is being read.
func (t *Terrain) Reading() bool {
	_, adds := t.adding.Now()
	_, reads := t.reading.Now()
	return adds || reads
}

// Cancel ends the reading under way.
func (t *Terrain) Cancel() {
	adds, reads := t.adding.Cancel(), t.reading.Cancel()
	switch {
	case adds:
		t.cancelled("Cancelled: the terrain was not opened.")
	case reads:
		t.cancelled("Cancelled: the plan's terrain was not read, so its climbs are not known. To read it, open the plan again.")
	}
}

// follow reads the files of the plan whenever they, or the ground of its sheets, are others
// than those that were read.
func (t *Terrain) follow(c session.Change) {
	if c.What.Has(session.PlanReplaced) {
		t.adding.Cancel()
		t.tried = ""
	}
	if c.Moving || !c.What.Has(session.TerrainChanged|session.AnySheet) {
		return
	}
	files := t.Session.Plan().Terrain
	area, on := t.ground()
	key := fmt.Sprint(on, files)
	if len(files) == 0 || key == t.tried {
		return
	}
	t.tried = key
	t.reading.Cancel()
	t.readAll(files, area, on)
}

// readAll reads what is missing of the plan's files, and hands all of them over.
func (t *Terrain) readAll(files []plan.Terrain, area terrain.Area, on string) {
	have := tiles{on, map[plan.Terrain]*terrain.Tile{}}
	var missing []plan.Terrain
	var faults []error
	for _, f := range files {
		switch tile := t.have.list[f]; {
		case tile != nil && t.have.on == on:
			have.list[f] = tile
		case t.Desk.Withheld(f.Path):
			faults = append(faults, fmt.Errorf("%s: %w", f.Path, errWithheld))
		default:
			missing = append(missing, f)
		}
	}
	if len(missing) == 0 {
		t.Later(func() { t.handOver(files, have, faults) })
		return
	}
	t.reading.Start("Reading the plan's terrain", func(ctx context.Context, tell func(jobs.Progress)) error {
		for _, f := range missing {
			tile, err := t.again(ctx, f, area, tell)
			if err != nil {
				faults = append(faults, fmt.Errorf("%s: %w", filepath.Base(f.Path), err))
				continue
			}
			have.list[f] = tile
		}
		return context.Cause(ctx)
	}, func(error) { t.handOver(files, have, faults) })
}

// again reads a file of the plan, which must be as it was when it was opened.
func (t *Terrain) again(ctx context.Context, f plan.Terrain, area terrain.Area, tell func(jobs.Progress)) (*terrain.Tile, error) {
	sum, tile, err := t.read(ctx, f, area, tell)
	if err == nil && sum != f.SHA256 {
		err = errors.New("the file has changed since the plan was made; open it again")
	}
	return tile, err
}

// handOver gives the session what was read of the plan's files. What could not be read is
// said, and its ground is not known.
func (t *Terrain) handOver(files []plan.Terrain, have tiles, faults []error) {
	t.have = have
	var list []*terrain.Tile
	for _, f := range files {
		if tile := have.list[f]; tile != nil {
			list = append(list, tile)
		}
	}
	m, err := terrain.NewModel(list...)
	t.Session.SetGround(files, m)
	if err = errors.Join(append(faults, err)...); err != nil {
		t.Foot.Fail(fmt.Errorf("terrain of the plan cannot be read, so climbs on it are not known: %s", strings.ReplaceAll(err.Error(), "\n", "; ")))
	}
}

// errWithheld is the fate of a file outside the plan's folder that nobody agreed to.
var errWithheld = errors.New("it lies outside the plan's folder and was not touched; if you know it, open it by File → Open terrain…")

// read reads and hashes a file, where the plan may open it.
func (t *Terrain) read(ctx context.Context, f plan.Terrain, area terrain.Area, tell func(jobs.Progress)) (sum string, tile *terrain.Tile, err error) {
	dir, name := t.Desk.Source().File(f.Path)
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
// round it, or all ground while no sheet is calibrated. on names it; sheets that move by less than a
// kilometre keep it.
func (t *Terrain) ground() (a terrain.Area, on string) {
	r := t.Session.Reader()
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
