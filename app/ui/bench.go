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
	"legwright/app/ui/look"
	"legwright/app/ui/opening"
	"legwright/app/ui/papers"
	"legwright/app/ui/relief"
	"legwright/app/ui/routepanel"
	"legwright/app/ui/sheetpanel"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/mapio/planfile"
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
	papers  *papers.Room
	crash   *crashLine
	opening *ask.Strip // the progress of an opening, once there is something to see
}

// Needs is what a bench is made from.
type Needs struct {
	App      fyne.App
	Later    func(func())      // runs on the main thread what goroutines bring back: fyne.Do
	Pictures *opening.Source   // what openings draw on
	Journal  *planfile.Journal // keeps unsaved work; nil for none
	Journals []string          // the folders in which journals of benches that crashed may lie
	Known    planfile.Known    // the plans whose pictures open unasked
	Begins   bool              // Begin follows: until then nothing is offered, and no place made for it
}

// New returns a bench whose window is not shown yet, with an empty plan.
func New(n Needs) *Bench {
	b := &Bench{program: &program{app: n.App, later: n.Later, set: &settings{n.App.Preferences()}}, window: n.App.NewWindow(look.WindowClass), frame: &frame{}}
	b.s = session.New(planfile.NewStore(), n.journal(), computer{os.Getenv, os.Readlink, os.ReadFile}.clock())
	b.judgeBeside()
	b.pictures = &pictures{b: b}
	b.desk = opening.New(b.s, n.Pictures, b.pictures, opening.Options{Later: n.Later, Side: b.pictures.previewSide, Sharper: b.pictures.sharper})
	b.makeRooms(n.Known)
	b.makeFrame()
	b.frame.start.waits = n.Begins
	b.window.Resize(firstSize(b.program.set)) // before the layout, which is then made for it
	b.layOut()
	b.goTo(panelRoute)
	b.s.OnChange(b.changed)
	b.window.SetCloseIntercept(b.quit)
	b.window.SetOnDropped(func(_ fyne.Position, list []fyne.URI) { b.files.Opener.Drop(pathsOf(list)) })
	b.addKeys()
	b.showState()
	if n.Journal != nil {
		b.files.Recovery.Journals(n.Journals, n.Journal)
		b.frame.crash.watch(n.Journal, n.Later)
	}
	return b
}

// journal is the journal as the session knows it, which may be none.
func (n Needs) journal() session.Journal {
	if n.Journal == nil {
		return nil
	}
	return n.Journal
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
func (b *Bench) makeRooms(known planfile.Known) {
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
	b.files = newFiles(b, known)
	b.frame.papers = papersHost{b}.room()
	b.files.Settings.OnRecent(b.refreshMenus)
	b.view = sheetview.New(b.s, b.foot, d, b.program.later, hostOf{b})
	var rest resting
	b.view.OnViewChanged(func() { rest.moved(); b.viewChanged() })
	b.window.SetOnClosed(rest.end)
	b.view.Offer().OnChange(b.offerChanged)
	b.frame.relief = relief.New(relief.Needs{
		Session: b.s, Foot: b.foot, Ask: b.dialogs, View: b.view, Later: b.program.later, Arrange: func() { b.frame.arrange(b.frame.relief.Legend()); b.refreshMenus() },
	})
	b.sheetP = newSheetPanel(b)
	b.route = routepanel.New(routepanel.Needs{
		Session: b.s, Foot: b.foot, Ask: b.dialogs, View: b.view, Host: routeHost{b},
		Dates: routepanel.LocalDates(os.Getenv), Outer: b.panelScroll,
	})
	b.escapeP = escapepanel.New(escapepanel.Needs{Session: b.s, Foot: b.foot, View: b.view, Host: escapeHost{b}, Outer: b.panelScroll})
	b.teach = newTeaching(b)
}

// makeFrame makes what stands around the rooms.
func (b *Bench) makeFrame() {
	f, set, w := b.frame, b.program.set, windowAround{b}
	f.opening = ask.NewStrip(b.foot, "Cancel opening the picture", func() { b.desk.Cancel() })
	f.look = newLookPanel(set, b.desk.Pyramid, b.foot.Hint, w)
	f.whole = newWholePanel(set, b.view.Area(), w)
	f.help = &help{b.program.app, b.dialogs, b.foot, set, &figures{b.window, b.desk, b.view.Area()}}
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
