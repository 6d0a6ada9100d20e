package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	"legwright/app/lettering"
	"legwright/app/session"
	"legwright/app/ui/files"
	"legwright/app/ui/look"
	"legwright/app/ui/opening"
	"legwright/assets/release"
	"legwright/canvas/mapview"
	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/mapio/atomicfile"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// appID names the application to the desktop and to its preferences.
const appID = "legwright.bench"

// sizeEnv sets the window's first size, such as 1280x800, for tests and
// pictures.
const sizeEnv = "LEGWRIGHT_SIZE"

// Run opens the bench and returns when its window is closed. args may name a
// picture, a plan or a GPX file, or be DemoArgument; without any the plan that was open
// last opens, and at the very first run the demo.
func Run(args []string) error { return RunWith(args, nil) }

// RunWith is Run with a script that is given the bench once its window
// stands, on a goroutine of its own. The speed figures drive the bench by it.
func RunWith(args []string, script func(*Bench)) error {
	startQuickly()
	leaveRoom()
	go listFonts()
	from := newSource()
	app.SetMetadata(fyne.AppMetadata{ID: appID, Name: "Legwright", Version: release.Version, Build: 1, Icon: look.AppIcon()})
	a := app.NewWithID(appID)
	set := &settings{a.Preferences()}
	what := files.Begin(args, files.NewSettings(a.Preferences()), !set.welcomed())
	readAhead(from, early(what))
	a.Settings().SetTheme(look.New(set.mode()))
	a.SetIcon(look.AppIcon())
	dirs := files.StateDirs()
	journal := planfile.OpenJournal(dirs, "")
	loop := &mainLoop{}
	b := New(Needs{App: a, Later: loop.do, Pictures: from, Journal: journal, Journals: dirs, Known: planfile.OpenKnown(), Begins: true})
	b.program.loop = loop
	b.program.probe = newProbe(b)
	b.Begin(what) // before there is a window: its first frame has what is open
	b.window.CenterOnScreen()
	b.window.SetTitle(look.WindowClass)
	loop.catchUp() // tiles are made while the toolkit makes the window
	a.Lifecycle().SetOnStarted(func() {
		b.showTitle()
		keepOnScreen(b.window)
		go lettering.ReadAll()
		if script != nil {
			go script(b)
		}
	})
	ShowAndRun(a, b.window)
	loop.end()             // after a signal the toolkit would run what comes now on any goroutine
	b.frame.papers.Close() // its file for the viewer may name people
	return b.s.Close(true) // after a signal, unsaved work is kept
}

// leaveRoom lets one goroutine more run at once than there are processors, so that work
// beside the window never takes all turns: the window's thread, back from the graphics
// driver or from sleep, would wait for one, up to 10 ms. While a sheet of 225 control points
// was judged on two processors, waits above 8 ms fell by half or more.
func leaveRoom() { runtime.GOMAXPROCS(runtime.GOMAXPROCS(0) + 1) }

// newSource is what openings draw on. Without a folder for it there is no store of
// pictures, and every opening decodes.
func newSource() *opening.Source {
	from := &opening.Source{Opener: scan.NewOpener(), Begins: func(path string) {
		if path != opening.DemoPicture {
			keepMemoryLow()
		}
	}}
	if dir, err := os.UserCacheDir(); err == nil {
		from.Store, _ = pyramid.OpenStore(filepath.Join(dir, "legwright"), 0, pyramid.Owner{Mark: atomicfile.Mark(), Left: atomicfile.Left}) // nil if it cannot be made
	}
	return from
}

// firstSize is the size of the window at its start, in units of the window: the one
// that the environment names, else the one it had last.
func firstSize(set *settings) fyne.Size {
	var w, h float32
	if _, err := fmt.Sscanf(os.Getenv(sizeEnv), "%fx%f", &w, &h); err == nil && w > 0 && h > 0 {
		return fyne.NewSize(w, h)
	}
	return set.windowSize()
}

// Sheet is the map area, for a script.
func (b *Bench) Sheet() *mapview.MapView { return b.view.Area() }

// Scene is what is drawn over the sheet, for a script.
func (b *Bench) Scene() overlay.Scene { return b.view.Scene() }

// Session is what is open, for a script. Call it on the main thread.
func (b *Bench) Session() *session.Session { return b.s }
