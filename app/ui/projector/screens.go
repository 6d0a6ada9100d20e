package projector

import (
	"time"

	"fyne.io/fyne/v2"
)

// moveTime is how long a window manager gets to move the window to another screen before
// it fills that screen.
const moveTime = 250 * time.Millisecond

// lookTime is how often it is asked on which screens the windows are: nothing tells when
// a person drags one to another.
const lookTime = time.Second

// watchScreens tells when the windows come onto one screen, or onto two, for as long as
// this window is open.
func (p *Projector) watchScreens(w fyne.Window, was bool) {
	if p.window != w || !known(w) {
		return
	}
	now := p.Apart()
	if now != was {
		p.tell()
	}
	p.n.After(lookTime, func() { p.watchScreens(w, now) })
}

// showFull shows the window over the whole of the other screen, or of the bench's where there
// is no other.
func (p *Projector) showFull() {
	w, other := p.window, hasOther(p.n.Bench)
	if !other {
		w.SetFullScreen(true) // once shown it would first be painted small, in its frame
	}
	w.Show()
	w.SetTitle("Legwright, for the group")
	p.watchScreens(w, false)
	if !other {
		return
	}
	moveApart(w, p.n.Bench)
	p.n.After(moveTime, func() {
		if p.window == w {
			w.SetFullScreen(true)
			p.tell()
		}
	})
}

// Apart reports whether the window is open and on another screen than the bench. Where
// that cannot be known it is not.
func (p *Projector) Apart() bool { return p.IsOpen() && apart(p.window, p.n.Bench) }

// withContext is a window of the driver that can be asked for its place.
type withContext interface{ RunWithContext(f func()) }
