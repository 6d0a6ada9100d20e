package files

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/jobs"
	"legwright/app/ui/opening"
	"legwright/assets/demo"
	"legwright/mapio/legpack"
	"legwright/mapio/planfile"
)

// Opener opens what a person chooses: plans, packed or not, GPX and GeoJSON files, terrain and, through Pictures,
// the pictures of maps.
type Opener struct {
	Needs
	saver   *Saver
	gpx     *Exchange
	terrain *Terrain
	packing *Packing
	job     *jobs.Slot // reads a plan
	path    string     // of the plan being read
}

func newOpener(n Needs, saver *Saver, gpx *Exchange, terrain *Terrain, packing *Packing) *Opener {
	o := &Opener{Needs: n, saver: saver, gpx: gpx, terrain: terrain, packing: packing, job: jobs.NewSlot(n.Later)}
	n.showJob(o.job, func(jobs.Job) string { return "Reading the plan…" }, func() { o.Cancel() })
	return o
}

// Ask asks for a picture, a plan or a GPX file to open.
func (o *Opener) Ask() {
	o.Dialogs.OpenPath(ask.Path{
		Title: "Open a picture or a plan", Verb: "Open", Start: o.saver.suggest(""),
		Endings: append(append(opening.Endings(), planfile.Ext, legpack.Ext, gpxEnding), geojsonEndings()...), Done: o.Open,
	})
}

// Open opens one file by itself.
func (o *Opener) Open(path string) { o.Drop([]string{path}) }

// Drop opens files that a person chose together: several pictures become sheets of one
// plan, several terrain files one terrain; of others only the first is opened. Terrain
// beside other files is left out: it needs their sheet calibrated.
func (o *Opener) Drop(paths []string) {
	o.job.Cancel()
	if o.terrain.Takes(paths) {
		return
	}
	var heights []string
	paths = slices.DeleteFunc(slices.Clone(paths), func(p string) bool {
		if holdsTerrain(p) {
			heights = append(heights, p)
			return true
		}
		return false
	})
	first, other := o.Desk.Drop(paths, heights)
	if !other {
		return
	}
	if strings.EqualFold(filepath.Ext(first), gpxEnding) || isGeoJSON(first) {
		o.gpx.Import(first)
		return
	}
	if isPack(first) {
		o.saver.Guard(func() { o.packing.open(first, o.read) })
		return
	}
	o.saver.Guard(func() { o.read(first) })
}

// Reading reports whether a plan is being read.
func (o *Opener) Reading() bool { _, on := o.job.Now(); return on }

// readPlan is a plan as read, and the folders from which its pictures may open.
type readPlan struct {
	session.Opened
	reach planfile.Reach
}

// read reads a plan's file beside the window and opens it: thousands of marks, or
// hundreds of control points, take seconds. If the plan before it was changed
// meanwhile, it asks first.
func (o *Opener) read(path string) {
	o.path = path
	var p readPlan
	before, known := o.Session.Plan(), *o.Known
	o.job.Start("Opening "+filepath.Base(path), func(context.Context, func(jobs.Progress)) error {
		got, err := o.Session.Read(path)
		if err == nil {
			p = readPlan{got, known.Reach(path, got.Stamp, got.Plan)}
		}
		return err
	}, func(err error) {
		switch {
		case err != nil:
			if errors.Is(err, fs.ErrNotExist) {
				o.Settings.Forget(path)
			}
			o.refuse("This plan cannot be opened", path, err)
		case o.Session.Plan() == before:
			o.take(p)
		default:
			o.saver.Guard(func() { o.read(path) }) // again: the plan that was saved just now may be in that file
		}
	})
}

// take replaces the open plan by one that was read.
func (o *Opener) take(p readPlan) {
	o.Desk.SetReach(p.reach)
	o.Session.Take(p.Opened)
	o.Settings.Remember(p.Path)
	o.Host.PlanOpened(false)
	o.done("Opened " + filepath.Base(p.Path) + ".")
	o.tellMended()
}

// tellMended says what had to be changed in reading the plan's file, such as that a
// sheet is checked no more.
func (o *Opener) tellMended() {
	var list []string
	for _, text := range o.Session.Plan().Mended {
		list = append(list, foot.SentenceOf(text))
	}
	if len(list) > 0 {
		o.Dialogs.Tell("Corrected while reading the plan", strings.Join(list, "\n\n"))
	}
}

// Cancel cancels the reading of a plan, and reports whether one was read.
func (o *Opener) Cancel() bool {
	if !o.job.Cancel() {
		return false
	}
	o.cancelled("Cancelled: " + filepath.Base(o.path) + " was not opened.")
	return true
}

// New puts an empty plan in place of the open one, once unsaved work is cared for.
func (o *Opener) New() {
	o.saver.Guard(func() {
		o.Desk.SetReach(planfile.Reach{})
		o.Session.NewPlan()
		o.Host.PlanOpened(true)
		o.Foot.Say("A new plan.")
	})
}

// Demo opens the demo plan, once unsaved work is cared for.
func (o *Opener) Demo() { o.saver.Guard(o.demo) }

func (o *Opener) demo() {
	p, err := planfile.Decode(strings.NewReader(string(demo.Plan())))
	o.Desk.SetReach(planfile.Reach{})
	if err == nil {
		err = o.Session.Use(p)
	}
	if err != nil {
		o.Dialogs.Refuse("The demo cannot be opened", err)
		return
	}
	o.Host.PlanOpened(false)
}

// Beginning is what a start opens.
type Beginning struct {
	Files []string // named on the command line
	Demo  bool
	Plan  string // the plan that was open last
}

// DemoArgument is the argument that opens the demo, as in the headless commands.
const DemoArgument = "demo"

// Begin decides what a start opens: what the command line names, else the plan that
// was open last, else at the very first run the demo, else nothing.
func Begin(args []string, set *Settings, firstRun bool) Beginning {
	switch {
	case len(args) == 1 && args[0] == DemoArgument:
		return Beginning{Demo: true}
	case len(args) > 0:
		return Beginning{Files: args}
	case set.Last() != "":
		return Beginning{Plan: set.Last()}
	}
	return Beginning{Demo: firstRun}
}

// Begin opens what a start opens. gone is called with the plan of last time if its
// file is not there any more.
func (o *Opener) Begin(what Beginning, gone func(path string)) {
	switch {
	case what.Demo:
		o.demo()
	case what.Plan != "":
		o.reopen(what.Plan, gone)
	case len(what.Files) > 0:
		o.Drop(what.Files)
	}
}

// AskBegin offers the files of the command line, after unsaved work was restored in
// their place. The restored plan itself is not offered.
func (o *Opener) AskBegin(what Beginning) {
	if len(what.Files) == 0 {
		return
	}
	name := filepath.Base(what.Files[0])
	switch path, err := filepath.Abs(what.Files[0]); {
	case len(what.Files) > 1:
		name += fmt.Sprintf(" and %d more", len(what.Files)-1)
	case err == nil && path == o.Session.Path():
		return
	}
	said := o.Foot.Message()
	not := func() { o.Foot.Say(said + " Not opened: " + name + ".") }
	o.Dialogs.Question("Open "+name+" now?", "You started Legwright with "+name+", but the unsaved work that you restored is open now.", not,
		ask.Answer{Text: "Not now", Do: not},
		ask.Answer{Text: "Open", Do: func() { o.Drop(what.Files) }, Default: true})
}

// reopen opens the plan of the last start.
func (o *Opener) reopen(path string, gone func(path string)) {
	o.path = path
	o.job.Start("Opening "+filepath.Base(path), func(context.Context, func(jobs.Progress)) error {
		_, err := os.Stat(path)
		return err
	}, func(err error) {
		if errors.Is(err, fs.ErrNotExist) {
			o.Settings.Forget(path)
			o.Settings.SetLast("")
			gone(path)
			return
		}
		o.read(path)
	})
}
