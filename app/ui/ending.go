package ui

import (
	"sync"

	"fyne.io/fyne/v2"
)

// mainLoop passes functions to the toolkit's main loop until the program ends.
// From then on the toolkit takes none: it closes its queue, and who sends to it
// in that moment would panic.
type mainLoop struct {
	mu    sync.RWMutex
	ended bool
}

// do runs f on the main thread, or nothing once the program ends.
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

// quit ends the program once nothing is lost by it.
func (b *Bench) quit() {
	if b.finished {
		return
	}
	b.guard(func() {
		b.picture.leave()
		b.leaveRectify()
		_ = b.s.Close(false) // saved or discarded
		b.finish()
	})
}

// finish ends the program. It ends the toolkit's main loop and does not only
// close the window: the toolkit takes a window's wish to close back when
// another request to close it comes before it is gone, such as by a second
// Alt+F4, and an empty window stayed.
func (b *Bench) finish() {
	if b.finished {
		return
	}
	b.finished = true
	if b.loop != nil {
		b.loop.end()
	}
	b.app.Quit()
}

// Quit ends the program without asking, for a script.
func (b *Bench) Quit() { b.finish() }

// ShowAndRun shows the window and returns when the program ends.
//
// The toolkit's last act, which saves the preferences, is done here. At its end
// the main loop of Fyne 2.7.3 hands it to a goroutine that hands it back to the
// main loop; where the loop has emptied its queue just before, nobody answers
// and the program waits for ever.
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
