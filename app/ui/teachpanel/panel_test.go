package teachpanel_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/dial"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/teachpanel"
	"legwright/app/ui/uitest"
)

// host notes what the panel asks of the window.
type host struct{ shown, changed int }

func (h *host) ShowPanel()                 { h.shown++ }
func (h *host) Changed()                   { h.changed++ }
func (h *host) Find(plan.ID)               {}
func (h *host) NameMark()                  {}
func (h *host) MayKeep(keep func())        { keep() }
func (h *host) Typed(rune, *fyne.KeyEvent) {}

// stood is a panel in a window of the test driver.
type stood struct {
	*teachpanel.Panel
	s    *session.Session
	w    *uitest.Window
	line *foot.Line
	host *host
}

// stand shows the panel of the demo's plan, in front.
func stand(t testing.TB) stood {
	t.Helper()
	w := uitest.NewWindow(t, container.NewStack())
	x := stood{s: uitest.DemoSession(t), w: w, line: foot.New(), host: &host{}}
	now := func(f func()) { f() }
	never := func(func()) {} // the sheet, whose goroutines come back by it, is not drawn
	view := sheetview.New(x.s, x.line, dial.New(), never, x.host)
	x.Panel = teachpanel.New(teachpanel.Needs{
		Session: x.s, Foot: x.line, Ask: ask.New(w, x.line, now), View: view, Host: x.host,
		Outer: func() *container.Scroll { return nil },
	})
	w.SetContent(container.NewGridWithRows(2, view.Area(), x.Body()))
	w.Resize(fyne.NewSize(328, 900))
	x.Show(true)
	return x
}

// Each job is offered by its own word if there is one, and by no other.
func TestJobsThatAreOffered(t *testing.T) {
	x := stand(t)
	there := 0
	for job, word := range map[teachpanel.Job]string{
		teachpanel.Show: "Show", teachpanel.Guess: "Guess", teachpanel.Identify: "What lies on it",
		teachpanel.TwoPeople: "Two people", teachpanel.Compass: "Compass",
	} {
		_, offered := uitest.Find[fyne.Tappable](x.w, word)
		if offered != x.Has(job) {
			t.Errorf("%q: offered %v, there is one %v", word, offered, x.Has(job))
		}
		if !offered {
			continue
		}
		there++
		x.w.Tap(t, word)
		if x.Chosen() != job {
			t.Errorf("a click on %q goes to job %d", word, x.Chosen())
		}
	}
	if there == 0 || x.host.shown != there {
		t.Errorf("%d jobs, the panel was asked to the front %d times", there, x.host.shown)
	}
}
