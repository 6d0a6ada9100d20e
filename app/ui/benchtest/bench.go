package benchtest

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/plan"
	"legwright/app/ui"
	"legwright/app/ui/dial"
	"legwright/app/ui/foot"
	"legwright/app/ui/ledger"
	"legwright/app/ui/opening"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/uitest"
	"legwright/canvas/pyramid"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// understood is the preference that says that the person has read the cautions.
const understood = "welcomed"

// Bench is a bench in the test driver.
type Bench struct {
	*ui.Bench
	*uitest.Window
	App      *uitest.App
	Pictures *opening.Source // what openings draw on
	Known    planfile.Known  // the plans whose pictures open unasked

	Foot   *foot.Line
	Dial   *dial.Dial
	Ledger *ledger.Ledger
	Strip  *sheetview.Strip // offers to keep a reading

	Mouse  *Mouse
	Files  *Files
	Sheets *Sheets
	Route  *Route
	Parts  *Parts

	t testing.TB
}

// Given is what a bench may find when it starts. The zero value is a computer on which the
// program never ran, but for the cautions, which were read.
type Given struct {
	App      *uitest.App // with its preferences, of an earlier bench
	Opener   opening.Opener
	Store    *pyramid.Store // of pictures
	Known    planfile.Known
	Journal  *planfile.Journal
	Journals []string // folders of the journals of benches that crashed
	OwnSize  bool     // the window keeps the size that it begins with
	Begins   bool     // as of ui.Needs
}

// Open returns an empty bench of 1280 × 800 DIP.
func Open(t testing.TB) *Bench {
	t.Helper()
	return Start(t, Given{})
}

// Start returns an empty bench on a computer.
func Start(t testing.TB, g Given) *Bench {
	t.Helper()
	if g.App == nil {
		g.App = uitest.NewApp(t)
	}
	if g.Opener == nil {
		g.Opener = scan.NewOpener()
	}
	if g.Known == (planfile.Known{}) {
		g.Known = planfile.KnownIn(t.TempDir())
	}
	b := &Bench{App: g.App, Known: g.Known, Pictures: &opening.Source{Opener: g.Opener, Store: g.Store}, t: t}
	b.Mouse, b.Files, b.Sheets, b.Route, b.Parts = &Mouse{b}, &Files{b}, &Sheets{b}, &Route{b}, &Parts{b}
	b.Bench = ui.New(ui.Needs{
		App: g.App, Later: g.App.Queue.Later, Pictures: b.Pictures, Known: g.Known, Journal: g.Journal, Journals: g.Journals, Begins: g.Begins,
	})
	b.Window = g.App.Windows[len(g.App.Windows)-1]
	b.Foot, b.Dial, b.Ledger, b.Strip = Part[*foot.Line](b), Part[*dial.Dial](b), Part[*ledger.Ledger](b), Part[*sheetview.Strip](b)
	if !g.OwnSize {
		b.Resize(fyne.NewSize(1280, 800))
	}
	b.SetUnderstood(true)
	t.Cleanup(b.Window.Close)
	return b
}

// SetUnderstood says whether the person has read the cautions.
func (b *Bench) SetUnderstood(on bool) { b.App.Preferences().SetBool(understood, on) }

// Understood reports whether the person has read the cautions.
func (b *Bench) Understood() bool { return b.App.Preferences().Bool(understood) }

// Until lets the bench work until a condition holds; what says what is waited for.
func (b *Bench) Until(what string, holds func() bool) {
	b.t.Helper()
	b.App.Queue.Until(b.t, what, holds)
}

// Settle lets what waits for the end of an act be done.
func (b *Bench) Settle() { b.App.Queue.Drain() }

// AfterAMoment runs what goroutines bring back for a moment.
func (b *Bench) AfterAMoment() {
	b.t.Helper()
	done := false
	time.AfterFunc(50*time.Millisecond, func() { b.App.Queue.Later(func() { done = true }) })
	b.Until("what was under way", func() bool { return done })
}

// Plan is the plan that is open.
func (b *Bench) Plan() *plan.Plan { return b.Session().Plan() }

// Selected is the ID of what is selected, "" for nothing.
func (b *Bench) Selected() plan.ID { return b.Session().Selection().ID }

// Points counts the control points of the sheet in hand.
func (b *Bench) Points() int { return len(b.InHand().Points) }

// InHand is the sheet that is shown, the zero value for none.
func (b *Bench) InHand() plan.Sheet {
	s, _ := b.Session().Sheet()
	return s
}

// Offered reports whether a reading waits to be kept.
func (b *Bench) Offered() bool { return b.Strip.Visible() }

// Whole reports whether a picture is on the sheet and nothing of it is missing.
func (b *Bench) Whole() bool {
	p := b.Shown()
	return p.Pyramid != nil && !p.Copy && !b.Opening() && p.Pyramid.Ready(0)
}
