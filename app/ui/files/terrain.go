package files

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/terrain"
	"legwright/app/ui/ask"
	"legwright/app/ui/jobs"
	"legwright/mapio/dem"
	"legwright/mapio/openfile"
)

// Terrain opens terrain files and removes them.
type Terrain struct {
	Needs
	saver   *Saver
	heights *heights
	adding  *jobs.Slot
	waiting []string // files dropped together with the one that is opened
}

func newTerrain(n Needs, saver *Saver) *Terrain {
	t := &Terrain{Needs: n, saver: saver, heights: newHeights(n), adding: jobs.NewSlot(n.Later)}
	n.showJob(t.adding, terrainStage, t.Cancel)
	n.Session.OnChange(func(c session.Change) {
		if c.What.Has(session.PlanReplaced) {
			t.adding.Cancel()
		}
	})
	return t
}

// Ask asks for a terrain file to open.
func (t *Terrain) Ask() {
	t.Dialogs.OpenPath(ask.Path{
		Title: "Open terrain", Verb: "Open", Start: t.saver.suggest(""), Endings: dem.Names(), Done: t.Open,
	})
}

// Takes opens files that were dropped together, one after the other, if all of them are terrain, and reports
// whether they are.
func (t *Terrain) Takes(paths []string) bool {
	if len(paths) == 0 || slices.ContainsFunc(paths, func(p string) bool { return !holdsTerrain(p) }) {
		return false
	}
	t.Desk.EndBatch()
	t.Open(paths[0])
	t.waiting = paths[1:]
	return true
}

// holdsTerrain reports whether a file is terrain, by its name or, for a TIFF, by its numbers.
func holdsTerrain(path string) bool {
	if ext := strings.ToLower(filepath.Ext(path)); ext != ".tif" && ext != ".tiff" {
		return dem.Named(path)
	}
	f, err := openfile.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	info, err := f.Stat()
	return err == nil && dem.HoldsHeights(f, info.Size())
}

// Open opens a terrain file that a person chose.
func (t *Terrain) Open(path string) {
	path, t.waiting = absolute(path), nil
	if _, on := t.heights.ground(); on == "" {
		t.refuse("This terrain cannot be opened yet", path, errors.New("only the terrain around the sheets is read: calibrate a sheet first, then open this file with File → Open terrain…"))
		return
	}
	file := plan.Terrain{Path: path}
	if dem.AlwaysMetres(path) {
		t.add(file)
		return
	}
	add := func(feet bool) func() { return func() { file.Feet = feet; t.add(file) } }
	cancelled := func() { t.cancelled("Cancelled: " + filepath.Base(path) + " was not opened.") }
	t.Dialogs.Question("Metres or feet?",
		fmt.Sprintf("Are the heights of %s in metres or in feet? If you do not know, ask its supplier: a mistake makes every climb about three times too large or too small.", filepath.Base(path)),
		cancelled, ask.Answer{Text: "Cancel", Do: cancelled, Default: true}, ask.Answer{Text: "Feet", Do: add(true)}, ask.Answer{Text: "Metres", Do: add(false)})
}

// absolute is a path that holds wherever the program stands.
func absolute(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		return abs
	}
	return path
}

// add reads a file and adds it to the plan.
func (t *Terrain) add(file plan.Terrain) {
	var tile *terrain.Tile
	area, on := t.heights.ground()
	var beside string // what the .prj file beside the file says of its grid
	t.adding.Start("Opening "+filepath.Base(file.Path), func(ctx context.Context, tell func(jobs.Progress)) (err error) {
		file.SHA256, tile, err = t.heights.read(ctx, file, area, tell)
		if !errors.Is(err, dem.ErrNoGrid) {
			return err
		}
		if file.Code, beside = t.heights.gridBeside(file); file.Code != "" {
			file.SHA256, tile, err = t.heights.read(ctx, file, area, tell)
		}
		if err != nil && file.Code != "" {
			err = fmt.Errorf("%w (%s)", err, beside)
		}
		return err
	}, func(err error) {
		switch {
		case errors.Is(err, dem.ErrNoGrid):
			t.askGrid(file, beside)
		case err != nil:
			if len(t.waiting) > 0 {
				err = fmt.Errorf("%w. %s not opened", err, namesOf(t.waiting))
			}
			t.waiting = nil
			t.refuse("This terrain cannot be opened", file.Path, err)
		default:
			t.take(file, tile, on, beside)
		}
	})
}

// askGrid asks for the grid of a file that does not name it. Beside says why a .prj file does not
// do so either, "" where there is none.
func (t *Terrain) askGrid(file plan.Terrain, beside string) {
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
	text := name + " does not name its grid. "
	if beside != "" {
		text += beside + " "
	}
	t.Dialogs.Question("Which grid is the file on?", text+"Ask its supplier: on the wrong grid its hills would be in the wrong position.", cancelled,
		ask.Answer{Text: "Cancel", Do: cancelled, Default: true}, ask.Answer{Text: "Another grid…", Do: other},
		ask.Answer{Text: "The sheet's: " + code.Name(), Do: func() { file.Code = code; t.add(file) }})
}

// take makes a file that was read terrain of the plan. Beside says which .prj file names its grid.
func (t *Terrain) take(file plan.Terrain, tile *terrain.Tile, on, beside string) {
	low, high, voids := tile.Range()
	if voids == tile.Posts() {
		t.refuse("This terrain cannot be opened", file.Path, errors.New("it has no heights around the sheets of the plan: choose terrain that covers a sheet"))
		return
	}
	t.heights.keep(file, tile, on)
	before := t.Session.Plan()
	if err := t.Session.OpenTerrain(file); err != nil {
		t.refuse("This terrain cannot be opened", file.Path, err)
		return
	}
	t.Desk.Agree(file.Path)
	_ = t.Known.Agreed(t.Session.Path(), file.Path) // after a failure the bench asks again
	if t.Session.Plan() == before {                 // the plan names the file already, and its heights were not read
		t.heights.tried = ""
		t.heights.follow(session.Change{What: session.TerrainChanged})
	}
	if len(t.waiting) > 0 {
		next := t.waiting
		t.Open(next[0])
		t.waiting = next[1:]
		return
	}
	m, _ := terrain.NewModel(tile) // Open gives no tile that is none
	if beside != "" {
		beside = " Grid: " + beside + "."
	}
	said := fmt.Sprintf("Opened. Crags lower than about %.0f m do not show.%s %s: %.0f to %.0f m high.", terrain.Blind(m, before.OverSteep()), beside, filepath.Base(file.Path), low, high)
	t.done(said) // the end may be cut
}

// Remove takes the terrain out of the plan.
func (t *Terrain) Remove() {
	if len(t.Session.Plan().Terrain) == 0 {
		t.Foot.Fail(errors.New("the plan has no terrain. To open some: File → Open terrain…"))
		return
	}
	t.Foot.Try(t.Session.RemoveTerrain(), "The terrain was deleted from the plan. Undo restores it.")
}

// Has reports whether the plan names terrain.
func (t *Terrain) Has() bool { return len(t.Session.Plan().Terrain) > 0 }

// Reading reports whether a terrain file is being read.
func (t *Terrain) Reading() bool {
	_, adds := t.adding.Now()
	_, reads := t.heights.reading.Now()
	return adds || reads
}

// Cancel ends the opening of a file, or the reading of the plan's own.
func (t *Terrain) Cancel() {
	if t.adding.Cancel() {
		t.waiting = nil
		t.cancelled("Cancelled: the terrain was not opened.")
		return
	}
	t.heights.cancel()
}
