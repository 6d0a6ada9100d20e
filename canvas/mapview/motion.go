package mapview

import (
	"time"

	"fyne.io/fyne/v2"

	"legwright/canvas/view"
)

// glideTime is how long an animated move takes.
const glideTime = 180 * time.Millisecond

// pacer calls tick on the main thread, once a frame, with the share of a time
// that is over, at the end with 1. What it returns stops it.
type pacer func(d time.Duration, tick func(share float32)) (stop func())

// byAnimation is the pacer of the window.
func byAnimation(d time.Duration, tick func(share float32)) (stop func()) {
	a := &fyne.Animation{Duration: d, Tick: tick, Curve: fyne.AnimationLinear}
	a.Start()
	return a.Stop
}

// motion is a move of the view on its way.
type motion struct {
	from, to view.View
	on       bool
	stop     func()
}

// turns says whether the move turns the sheet.
func (g *motion) turns() bool { return g.on && g.from.Rotation() != g.to.Rotation() }

// goal is where the view is going, or where it is.
func (m *MapView) goal() view.View {
	if m.motion.on {
		return m.motion.to
	}
	return m.view
}

// glide moves the view to another one in a fifth of a second, slowing down
// towards the end. It goes there at once where the person wants no motion.
func (m *MapView) glide(to view.View) {
	m.halt()
	if to == m.view || m.pic == nil {
		return
	}
	if !fyne.CurrentApp().Settings().ShowAnimations() || !m.canGlide(to) {
		m.setView(to)
		return
	}
	m.motion = motion{from: m.view, to: to, on: true}
	stop := m.pace(glideTime, m.step)
	if m.motion.on { // it may be over already
		m.motion.stop = stop
	}
}

// canGlide says whether what is shown on the way can be drawn: a turn needs a
// level that is ready.
func (m *MapView) canGlide(to view.View) bool {
	if to.Rotation() == m.view.Rotation() {
		return true
	}
	from, _ := levelOf(m.view, 0, m.pic.Levels())
	last, _ := levelOf(to, 0, m.pic.Levels())
	return m.pic.Ready(from) && m.pic.Ready(last)
}

// step is one frame of a move.
func (m *MapView) step(share float32) {
	g := m.motion
	if !g.on {
		return
	}
	if share >= 1 {
		m.motion = motion{}
		m.show(g.to)
		return
	}
	m.show(g.from.Between(g.to, eased(float64(share))))
}

// eased begins at full speed and comes gently to rest.
func eased(t float64) float64 {
	r := 1 - t
	return 1 - r*r*r
}

// halt ends a move where it stands: what a person presses or scrolls is what
// is seen.
func (m *MapView) halt() {
	if !m.motion.on {
		return
	}
	turned := m.motion.turns()
	if m.motion.stop != nil {
		m.motion.stop()
	}
	m.motion = motion{}
	if turned {
		m.place() // with tiles again
	}
}

// finish ends a move where it was going: keys point at nothing that is seen.
func (m *MapView) finish() {
	to, on := m.motion.to, m.motion.on
	m.halt()
	if on {
		m.setView(to)
	}
}

// setView shows the sheet as v says, at once.
func (m *MapView) setView(v view.View) {
	m.halt()
	m.show(v)
}

// show brings everything to where v wants it.
func (m *MapView) show(v view.View) {
	if v == m.view {
		m.place()
		return
	}
	m.follow(v)
	m.view = v
	m.machine.SetView(v, m.frame.scale)
	m.place()
	if m.cb.OnViewChanged != nil {
		m.cb.OnViewChanged(v)
	}
}
