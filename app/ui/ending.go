package ui

import (
	"sync"

	"fyne.io/fyne/v2"
)

// mainLoop passes functions to the toolkit's main loop until the program ends. Then
// the toolkit closes its queue, and sending to it would panic. Until the loop runs it keeps
// them, so that what has come before the window is shown already stands in its first frame.
type mainLoop struct {
	mu          sync.RWMutex
	runs, ended bool
	early       []func()
}

// do runs f on the main thread, unless the program is ending.
func (m *mainLoop) do(f func()) {
	if m.keep(f) {
		return
	}
	m.mu.RLock()
	defer m.mu.RUnlock()
	if !m.ended {
		fyne.Do(f)
	}
}

// keep keeps f for catchUp and reports true while the main loop does not run.
func (m *mainLoop) keep(f func()) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	if !m.runs {
		m.early = append(m.early, f)
	}
	return !m.runs
}

// catchUp runs, on the main thread, what has come until now; what comes later waits for
// the main loop.
func (m *mainLoop) catchUp() {
	for {
		m.mu.Lock()
		now := m.early
		m.early, m.runs = nil, len(now) == 0
		m.mu.Unlock()
		if len(now) == 0 {
			return
		}
		for _, f := range now {
			f()
		}
	}
}

func (m *mainLoop) end() {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.ended = true
}

// quit ends the program, after asking about unsaved work and unfinished exports.
func (b *Bench) quit() {
	if b.program.ended {
		return
	}
	b.files.Leave(func() {
		b.teach.projector.Close()
		b.desk.Close()
		_ = b.s.Close(false) // saved or discarded
		b.finish()
	})
}

// finish ends the program. It ends the toolkit's main loop instead of only closing the
// window: on a second request to close, such as another Alt+F4, the toolkit takes back
// the first one and leaves an empty window.
func (b *Bench) finish() {
	if b.program.ended {
		return
	}
	b.program.ended = true
	b.program.set.setWindowSize(b.window.Canvas().Size())
	b.program.set.setLedger(b.ledger.Asked())
	if b.program.loop != nil {
		b.program.loop.end()
	}
	b.program.app.Quit()
}

// Quit ends the program without asking, for a script.
func (b *Bench) Quit() { b.finish() }

// ShowAndRun shows the window and returns when the program ends.
//
// It also runs the toolkit's last act, which saves the preferences. At its end the
// main loop of Fyne 2.7.3 passes that act to a goroutine, which passes it back to
// the main loop; if the loop has just emptied its queue, nobody answers and the
// program hangs.
func ShowAndRun(a fyne.App, w fyne.Window) {
	last := func() {}
	if l, ok := a.Lifecycle().(interface {
		OnStopped() func()
		SetOnStoppedHookExecuted(func())
	}); ok {
		if own := l.OnStopped(); own != nil {
			last = own
		}
		l.SetOnStoppedHookExecuted(nil)
	}
	w.ShowAndRun()
	last()
}
