package ui

import (
	"os"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/dial"
	"legwright/app/ui/escapepanel"
	"legwright/app/ui/files"
	"legwright/app/ui/foot"
	"legwright/app/ui/ledger"
	"legwright/app/ui/opening"
	"legwright/app/ui/relief"
	"legwright/app/ui/routepanel"
	"legwright/app/ui/sheetpanel"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
)

// Bench is the main window and the rooms in it.
type Bench struct {
	program  *program
	window   fyne.Window
	s        *session.Session
	foot     *foot.Line
	dialogs  *ask.Dialogs
	desk     *opening.Desk
	pictures *pictures // what the desk tells
	files    *files.Room
	view     *sheetview.View
	ledger   *ledger.Ledger
	sheetP   *sheetpanel.Panel
	route    *routepanel.Panel
	escapeP  *escapepanel.Panel
	teach    *teaching
	frame    *frame
}

// program is what runs the window.
type program struct {
	app   fyne.App
	later func(func()) // runs a function on the main thread
	set   *settings
	probe *probe
	loop  *mainLoop // nil in tests
	ended bool
}

// frame holds the parts of the window that belong to no room, and lays all of it out.
type frame struct {
	root    *fyne.Container
	layout  *benchLayout
	panel   *panelFrame
	dial    *dial.Dial
	menus   *menuBar
	help    *help
	look    *lookPanel
	whole   *wholePanel
	welcome *welcome
	start   *startCard
	relief  *relief.Relief
	crash   *crashLine
	opening *ask.Strip // the progress of an opening, once there is something to see
}

// newBench builds the window's content around a session.
// later runs what goroutines bring back on the main thread: fyne.Do.
func newBench(a fyne.App, store session.Store, journal session.Journal, later func(func()), from *opening.Source) *Bench {
	b := &Bench{program: &program{app: a, later: later, set: &settings{a.Preferences()}}, window: a.NewWindow("Legwright"), frame: &frame{}}
	b.s = session.New(store, journal, computer{os.Getenv, os.Readlink, os.ReadFile}.clock())
	b.judgeBeside()
	b.pictures = &pictures{b: b}
	b.desk = opening.New(b.s, from, b.pictures, opening.Options{Later: later, Side: b.pictures.previewSide, Sharper: b.pictures.sharper})
	b.makeRooms()
	b.makeFrame()
	b.layOut()
	b.goTo(panelRoute)
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

// makeRooms makes the rooms, each with the hosts it needs.
func (b *Bench) makeRooms() {
	d := dial.New()
	d.ShowTrue(b.program.set.showTrue())
	d.OnTrue = b.program.set.setShowTrue
	d.OnTyped = hostOf{b}.Typed
	b.frame.dial = d
	b.foot = foot.New()
	b.foot.OnChange(func() { b.program.probe.touch() })
	d.HintTo(b.foot.Hint)
	d.OnTyped = hostOf{b}.Typed
	b.dialogs = ask.New(b.window, b.foot, b.program.later)
	b.ledger = ledger.New(b.s, b.foot, b.dialogs, ledgerHost{b})
	b.ledger.Ask(b.program.set.ledger())
	b.files = newFiles(b)
	b.view = sheetview.New(b.s, b.foot, d, b.program.later, hostOf{b})
	var rest resting
	b.view.OnViewChanged(func() { rest.moved(); b.viewChanged() })
	b.view.Offer().OnChange(b.offerChanged)
	b.frame.relief = relief.New(relief.Needs{
		Session: b.s, Foot: b.foot, Ask: b.dialogs, View: b.view, Later: b.program.later, Arrange: func() { ledgerHost{b}.Arrange(); b.refreshMenus() },
	})
	b.sheetP = newSheetPanel(b)
	b.route = routepanel.New(routepanel.Needs{
		Session: b.s, Foot: b.foot, Ask: b.dialogs, View: b.view, Host: routeHost{b},
		Dates: routepanel.LocalDates(os.Getenv), Outer: b.panelScroll,
	})
	b.escapeP = escapepanel.New(escapepanel.Needs{Session: b.s, Foot: b.foot, View: b.view, Host: escapeHost{b}})
	b.teach = newTeaching(b)
}

// makeFrame makes what stands around the rooms.
func (b *Bench) makeFrame() {
	f, set, w := b.frame, b.program.set, windowAround{b}
	f.opening = ask.NewStrip(b.foot, "Cancel opening and return to the previous picture", func() { b.desk.Cancel() })
	f.look = newLookPanel(set, b.desk.Pyramid, b.foot.Hint, w)
	f.whole = newWholePanel(set, b.view.Area(), w)
	f.help = &help{b.program.app, b.dialogs, b.foot, set, &figures{b.program.app, b.window, b.desk, b.view.Area()}}
	f.panel = newPanelFrame(b.panels(), f.dial, b.goTo, b.foot.Hint)
	f.welcome = newWelcome(f.help, w)
	f.start = newStartCard(b)
	f.crash = newCrashLine(b.foot, b.dialogs, func() { b.files.Saver.Save(nil) }, w)
}

// layOut puts everything in its place.
func (b *Bench) layOut() {
	f, sheet, strip := b.frame, b.view.Area(), b.view.Strip()
	f.layout = &benchLayout{
		sheet: sheet, beside: b.teach.panel.Beside(), panel: f.panel.body, ledger: b.ledger, ledgerHeight: b.ledger.Height, foot: b.foot,
		strip: &overSheet{strip, strip.Covers, strip.Fit, sheet.KeepOff}, welcome: f.welcome.body, opening: f.opening, look: f.look.body, whole: f.whole.body, relief: b.frame.relief.Legend(),
		unsafe: f.crash, start: f.start.body,
	}
	f.root = container.New(f.layout, sheet, f.layout.beside, b.ledger, f.panel.body, b.foot, strip, f.start.body, f.welcome.body, f.whole.body, b.frame.relief.Legend(),
		f.opening, f.look.body, f.crash, widgets.NewTipLayer(b.program.later))
	b.window.SetPadded(false)
	b.window.SetContent(f.root)
}

// goTo brings a panel to the front and gives it the map.
func (b *Bench) goTo(p panelID) {
	b.foot.Say("")
	b.frame.panel.moving = false
	b.ledger.Calibrating(p == panelSheet)
	b.frame.panel.show(p)
	b.splitSheet()
	b.takeTool()
	b.route.ShowHint()
	b.refreshMenus()
	b.frame.start.refresh()
	b.program.probe.touch()
	b.releaseKeys()
}

// toggleMoving lets marks and the ends of legs and sights be dragged to another place,
// or ends that.
func (b *Bench) toggleMoving() {
	f := b.frame.panel
	on := !(f.moving && f.front == panelRoute)
	b.goTo(panelRoute)
	f.moving = on
	if on {
		b.takeTool()
		b.foot.Say("Drag a mark, or an end of a leg or sight, to where it belongs. Press Esc when you are done.")
	}
	b.route.ShowHint()
	b.refreshMenus()
	b.view.Focus()
}
