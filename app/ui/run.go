package ui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/look"
	"legwright/assets/demo"
	"legwright/canvas/mapview"
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

// embeddedScan is the sheet picture's name in the demo plan.
const embeddedScan = plan.EmbeddedPrefix + demo.ScanName

// journalState is where unsaved work is kept against a crash.
type journalState struct {
	dir  string
	file *planfile.Journal
	told bool // a failure to write it has been told
}

// Run opens the bench and returns when its window is closed. args may name a
// picture, a plan or a GPX file; without one the demo is opened.
func Run(version string, args []string) error { return RunWith(version, args, nil) }

// RunWith is Run with a script that is given the bench once its window
// stands, on a goroutine of its own. The speed figures drive the bench by it.
func RunWith(version string, args []string, script func(*Bench)) error {
	startQuickly()
	from := newSource()
	ahead := openEarly(from, args)
	app.SetMetadata(fyne.AppMetadata{ID: appID, Name: "Legwright", Version: version, Build: 1, Icon: look.AppIcon()})
	a := app.NewWithID(appID)
	set := settings{a.Preferences()}
	a.Settings().SetTheme(look.New(set.mode()))
	a.SetIcon(look.AppIcon())
	readFonts()
	state, journal := openJournal()
	b := newBench(a, planfile.NewStore(), journal, fyne.Do)
	b.journal = state
	b.draw(from, ahead)
	b.probe = newProbe(b)
	b.window.Resize(firstSize())
	b.window.CenterOnScreen()
	a.Lifecycle().SetOnStarted(func() {
		b.begin(args)
		if script != nil {
			go script(b)
		}
	})
	b.window.SetOnClosed(leave)
	a.Lifecycle().SetOnStopped(leave)
	b.window.ShowAndRun()
	return nil
}

// newSource is what openings draw on. Without a folder for it there is no
// store of pictures, and every opening decodes.
func newSource() *source {
	from := &source{opener: scan.NewOpener()}
	if dir, err := os.UserCacheDir(); err == nil {
		from.store, _ = pyramid.OpenStore(filepath.Join(dir, "legwright"), 0, pyramid.Owner{Mark: atomicfile.Mark(), Left: atomicfile.Left}) // nil where it cannot be made
	}
	return from
}

// draw takes over what was made before there was a bench.
func (b *Bench) draw(from *source, ahead *opening) {
	b.picture.source, b.picture.early = from, ahead
	from.bench.Store(b)
}

// firstSize is the size of the window at its start, in units of the window.
func firstSize() fyne.Size {
	var w, h float32
	if _, err := fmt.Sscanf(os.Getenv(sizeEnv), "%fx%f", &w, &h); err == nil && w > 0 && h > 0 {
		return fyne.NewSize(w, h)
	}
	return fyne.NewSize(1400, 900)
}

// openJournal begins the journal of this bench. Without a place for it the
// bench works all the same and says so later.
func openJournal() (journalState, session.Journal) {
	dir, err := stateDir()
	if err != nil {
		return journalState{}, nil
	}
	j, err := planfile.OpenJournal(dir, "")
	if err != nil {
		return journalState{dir: dir}, nil
	}
	return journalState{dir: dir, file: j}, j
}

// stateDir is the folder for what must outlive a crash: the state folder of
// the XDG base directories, else the folder for settings.
func stateDir() (string, error) {
	if dir := os.Getenv("XDG_STATE_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "legwright"), nil
	}
	if dir, err := os.UserHomeDir(); err == nil {
		if at := filepath.Join(dir, ".local", "state"); isDir(at) {
			return filepath.Join(at, "legwright"), nil
		}
	}
	dir, err := os.UserConfigDir()
	return filepath.Join(dir, "legwright", "journal"), err
}

func isDir(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// begin opens what the command line names, else the demo, and offers what a
// crash left behind.
func (b *Bench) begin(args []string) {
	if b.journal.file == nil {
		b.fail(errors.New("unsaved work cannot be kept against a crash: the folder for it cannot be written"))
	}
	b.resumeShifts()
	first := func() { b.openFirst(args) }
	if !b.offerRecovery(first) {
		first()
	}
}

// openFirst opens what the command line names, else the demo.
func (b *Bench) openFirst(args []string) {
	if len(args) > 0 {
		b.openAll(args)
		return
	}
	b.openDemo()
	if !b.set.welcomed() {
		b.showWelcome()
	}
}

// openDemo opens the demo plan on the demo scan.
func (b *Bench) openDemo() {
	p, err := planfile.Decode(strings.NewReader(string(demo.Plan())))
	if err == nil {
		err = b.s.Use(p)
	}
	if err != nil {
		b.refuse("The demo cannot be opened", err)
		return
	}
	b.endImport()
	b.clearPicture()
	b.goTo(postRoute)
	b.openPlanPicture()
}

// offerRecovery offers the newest unsaved work of a bench that died, and does
// otherwise where it is not wanted. It reports whether there was any.
func (b *Bench) offerRecovery(otherwise func()) bool {
	list, err := planfile.Pending(b.journal.dir)
	if err != nil || len(list) == 0 || b.journal.dir == "" {
		return false
	}
	r := list[0]
	name := "a plan that had no file yet"
	if r.Path != "" {
		name = filepath.Base(r.Path)
	}
	last := "its last change"
	if n := len(r.Steps); n > 0 {
		last = "“" + r.Steps[n-1] + "”"
	}
	text := fmt.Sprintf("The bench ended last time with unsaved work in %s, up to %s at %s.\n\nBring it back?",
		name, last, r.At.Local().Format("15:04 on 2 January"))
	b.bringBack = b.question("Unsaved work was found", text, func() { b.notNow(otherwise) },
		answer{"Throw away…", func() { b.askThrowAway(r, otherwise) }, false},
		answer{"Not now", func() { b.notNow(otherwise) }, false},
		answer{"Bring it back", func() { b.recover(r, true, otherwise) }, true})
	b.probe.touch()
	return true
}

// notNow leaves what a crash left where it is.
func (b *Bench) notNow(otherwise func()) {
	b.bringBack = nil
	otherwise()
	b.say("The unsaved work is kept, and offered again at the next start.")
}

// askThrowAway asks again before unsaved work is gone for good.
func (b *Bench) askThrowAway(r planfile.Recovery, otherwise func()) {
	b.question("Throw the unsaved work away?", "It cannot be brought back after that.", func() { b.notNow(otherwise) },
		answer{"Keep it for later", func() { b.notNow(otherwise) }, true},
		answer{"Throw away", func() { b.recover(r, false, otherwise) }, false})
}

// recover takes over what a journal holds, or gives it up and does otherwise.
func (b *Bench) recover(r planfile.Recovery, yes bool, otherwise func()) {
	b.bringBack = nil
	if !yes {
		_ = r.Discard()
		otherwise()
		return
	}
	if err := b.s.RecoverAs(r.Path, r.Base, r.Plan); err != nil {
		b.refuse("The unsaved work cannot be brought back", err)
		return
	}
	b.keepBefore(r)
	b.goTo(postRoute)
	b.say("The unsaved work is back. Save it.")
	b.tellMended()
	b.openPlanPicture()
}

// keepBefore lets the dead bench's journal go once this bench's own has the
// work on the disk: a second crash in between must not lose both.
func (b *Bench) keepBefore(r planfile.Recovery) {
	own := b.journal.file
	go func() {
		if own == nil || own.Flush() == nil {
			_ = r.Discard()
		}
	}()
}

// checkJournal tells once that unsaved work is not safe against a crash.
func (b *Bench) checkJournal() {
	if b.journal.file == nil || b.journal.told {
		return
	}
	if err := b.journal.file.Err(); err != nil {
		b.journal.told = true
		b.fail(fmt.Errorf("unsaved work is not kept against a crash: %w", err))
	}
}

// Sheet is the map area, for a script.
func (b *Bench) Sheet() *mapview.MapView { return b.sheet }

// Session is what is open, for a script. Call it on the main thread.
func (b *Bench) Session() *session.Session { return b.s }

// Quit ends the program without asking, for a script.
func (b *Bench) Quit() {
	leave()
	b.app.Quit()
}
