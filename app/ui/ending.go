package ui

import (
	"sync"

	"fyne.io/fyne/v2"
)

// mainLoop passes functions to the toolkit's main loop until the program ends. Then
// the toolkit closes its queue, and sending to it would panic.
type mainLoop struct {
	mu    sync.RWMutex
	ended bool
}

// do runs f on the main thread, unless the program is ending.
func (m *mainLoop) do(f func()) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	if !m.ended {
		fyne.Do(f)
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
