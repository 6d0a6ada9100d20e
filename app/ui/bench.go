// Package ui is the bench: the main window with the sheet, the dial, the
// panels, the ledger and the foot line, its menus, keys and dialogs. It turns
// what a person means into calls of app/session and shows what came of them.
// It computes no bearing and writes no format itself.
//
// Everything here belongs to Fyne's main thread. Long work (opening pictures,
// reading files) runs in goroutines that come back through fyne.Do.
package ui

import (
	"os"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/dial"
	"legwright/app/ui/files"
	"legwright/app/ui/foot"
	"legwright/app/ui/ledger"
	"legwright/app/ui/opening"
	"legwright/app/ui/routepanel"
	"legwright/app/ui/sheetpanel"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/canvas/mapview"
	"legwright/mapio/planfile"
)

// Bench is the main window and all that stands in it.
type Bench struct {
	app    fyne.App
	window fyne.Window
	set    *settings
	s      *session.Session
	later  func(func()) // runs a function on the main thread

	sheet   *mapview.MapView
	dial    *dial.Dial
	ledger  *ledger.Ledger
	foot    *foot.Line
	view    *sheetview.View
	opening *ask.Strip
	look    *lookPanel
	whole   *wholePanel
	sheetP  *sheetpanel.Panel
	route   *routepanel.Panel
	panel   *panelFrame
	welcome *welcome
	start   *startCard
	crash   *crashLine
	help    *help
	layout  *benchLayout
	root    *fyne.Container

	front    panelID
	desk     *opening.Desk
	pictures *pictures // what the desk tells
	resting  resting
	moving   bool // dragging moves marks and ends, and reads no bearing
	probe    *probe
	files    *files.Room
	fileSet  *files.Settings
	known    planfile.Known // across starts: pictures outside a plan's folder
	dialogs  *ask.Dialogs
	loop     *mainLoop // nil in tests
	finished bool      // the program ends
	menus    *menuBar
}

// newBench builds the window's content around a session.
// later runs what goroutines bring back on the main thread: fyne.Do.
func newBench(a fyne.App, store session.Store, journal session.Journal, later func(func()), from *opening.Source) *Bench {
	b := &Bench{app: a, window: a.NewWindow("Legwright"), set: &settings{a.Preferences()}, fileSet: files.NewSettings(a.Preferences()), later: later}
	b.s = session.New(store, journal, time.Now)
	b.pictures = &pictures{b: b}
	b.desk = opening.New(b.s, from, b.pictures, opening.Options{Later: later, Side: b.pictures.previewSide, Sharper: b.pictures.sharper})
	b.build()
	b.s.OnChange(b.changed)
	b.window.SetCloseIntercept(b.quit)
	b.window.SetOnDropped(func(_ fyne.Position, list []fyne.URI) { b.files.Opener.Drop(pathsOf(list)) })
	b.addKeys()
	b.showState()
	return b
}

// pathsOf are the files that were dropped on the window.
func pathsOf(list []fyne.URI) []string {
	paths := make([]string, len(list))
	for i, u := range list {
		paths[i] = u.Path()
	}
	return paths
}

// build makes the parts and puts them in place.
func (b *Bench) build() {
	b.dial = dial.New()
	b.dial.ShowTrue(b.set.showTrue())
	b.dial.OnTrue = b.set.setShowTrue
	b.foot = foot.New()
	b.dialogs = ask.New(b.window, b.foot, b.later)
	b.ledger = ledger.New(b.s, b.foot, ledgerHost{b})
	b.foot.OnChange(func() { b.probe.touch() })
	b.files = newFiles(b)
	b.view = sheetview.New(b.s, b.foot, b.dial, b.later, hostOf{b})
	b.sheet = b.view.Area()
	b.view.OnViewChanged(b.viewChanged)
	b.view.Offer().OnChange(b.offerChanged)
	b.opening = ask.NewStrip(b.foot, "Cancel opening and return to the picture before", func() { b.desk.Cancel() })
	b.look = newLookPanel(b.set, b.desk.Pyramid, b.foot.Hint, windowAround{b})
	b.whole = newWholePanel(b.set, b.sheet, windowAround{b})
	b.help = &help{b.app, b.dialogs, b.foot, b.set, &figures{b.app, b.window, b.desk, b.sheet}}
	b.sheetP = newSheetPanel(b)
	b.route = routepanel.New(routepanel.Needs{
		Session: b.s, Foot: b.foot, Ask: b.dialogs, View: b.view, Host: routeHost{b},
		Dates: routepanel.LocalDates(os.Getenv), Outer: b.panelScroll,
	})
	b.panel = newPanelFrame(b.panels(), b.dial, b.goTo, b.foot.Hint)
	b.welcome = newWelcome(b.help, windowAround{b})
	b.start = newStartCard(b)
	b.crash = newCrashLine(b.foot, b.dialogs, func() { b.files.Saver.Save(nil) }, windowAround{b})
	b.layout = &benchLayout{
		sheet: b.sheet, panel: b.panel.body, ledger: b.ledger, ledgerHeight: b.ledger.Height, foot: b.foot,
		strip: b.view.Strip(), fitStrip: b.view.Strip().Fit, welcome: b.welcome.body, opening: b.opening, look: b.look.body, whole: b.whole.body,
		unsafe: b.crash, start: b.start.body,
	}
	b.root = container.New(b.layout, b.sheet, b.ledger, b.panel.body, b.foot, b.view.Strip(), b.start.body, b.welcome.body, b.whole.body, b.opening, b.look.body, b.crash, widgets.NewTipLayer(b.later))
	b.window.SetPadded(false)
	b.window.SetContent(b.root)
	b.goTo(panelRoute)
}

// goTo brings a panel to the front and gives it the map.
func (b *Bench) goTo(p panelID) {
	b.foot.Say("")
	b.front, b.moving = p, false
	b.ledger.Calibrating(p == panelSheet)
	b.panel.show(p)
	b.takeTool()
	b.route.ShowHint()
	b.refreshMenus()
	b.start.refresh()
	b.probe.touch()
	b.releaseKeys()
}

// toggleMoving lets marks and the ends of legs and sights be dragged to
// another place, or ends that.
func (b *Bench) toggleMoving() {
	on := !(b.moving && b.front == panelRoute)
	b.goTo(panelRoute)
	b.moving = on
	if on {
		b.takeTool()
		b.say("Drag a mark, or an end of a leg or sight, to its place. Esc ends moving.")
	}
	b.route.ShowHint()
	b.refreshMenus()
	b.focusSheet()
}

// say, fail, try and hintTo speak in the foot line. They go once the rooms hold
// the line themselves.
func (b *Bench) say(text string) { b.foot.Say(text) }

func (b *Bench) fail(err error) { b.foot.Fail(err) }

func (b *Bench) try(err error, done string) bool { return b.foot.Try(err, done) }

func (b *Bench) hintTo(text string) { b.foot.Hint(text) }

// What follows forwards to the dialogs until the rooms hold them themselves.

type (
	answer = ask.Answer
)

func (b *Bench) tell(title, text string) { b.dialogs.Tell(title, text) }

func (b *Bench) refuse(title string, err error) { b.dialogs.Refuse(title, err) }

func (b *Bench) question(title, text string, otherwise func(), answers ...answer) *ask.Question {
	return b.dialogs.Question(title, text, otherwise, answers...)
}

func (b *Bench) dialogOpen() bool { return b.dialogs.Waiting() }
