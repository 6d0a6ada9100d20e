//go:build cgo

package projector

import (
	"fyne.io/fyne/v2"
	"github.com/go-gl/glfw/v3.3/glfw"
)

// system is the window as the window system knows it, nil in tests.
func system(w fyne.Window) (out *glfw.Window) {
	if c, ok := w.(withContext); ok {
		c.RunWithContext(func() { out = glfw.GetCurrentContext() })
	}
	return out
}

// known reports whether the window system can be asked for a window's place.
func known(w fyne.Window) bool { return system(w) != nil }

// screenOf is the screen that a window's middle lies on, nil where none is.
func screenOf(w *glfw.Window) *glfw.Monitor {
	if m := w.GetMonitor(); m != nil { // it fills that screen
		return m
	}
	x, y := w.GetPos()
	wide, high := w.GetSize()
	x, y = x+wide/2, y+high/2
	for _, m := range glfw.GetMonitors() {
		left, top := m.GetPos()
		mode := m.GetVideoMode()
		if x >= left && y >= top && x < left+mode.Width && y < top+mode.Height {
			return m
		}
	}
	return nil
}

// apart reports whether two windows lie on different screens.
func apart(a, b fyne.Window) bool {
	x, y := system(a), system(b)
	if x == nil || y == nil {
		return false
	}
	on, other := screenOf(x), screenOf(y)
	return on != nil && other != nil && !sameScreen(on, other)
}

// sameScreen compares by place: each question for a screen gives another value.
func sameScreen(a, b *glfw.Monitor) bool {
	x0, y0 := a.GetPos()
	x1, y1 := b.GetPos()
	return x0 == x1 && y0 == y1
}

// otherScreen is a screen on which a window is not, nil where there is none.
func otherScreen(w fyne.Window) *glfw.Monitor {
	x := system(w)
	if x == nil {
		return nil
	}
	taken := screenOf(x)
	for _, m := range glfw.GetMonitors() {
		if taken != nil && !sameScreen(m, taken) {
			return m
		}
	}
	return nil
}

// hasOther reports whether there is a screen on which a window is not.
func hasOther(w fyne.Window) bool { return otherScreen(w) != nil }

// moveApart moves a window to a screen on which the other one is not.
func moveApart(w, from fyne.Window) {
	x, m := system(w), otherScreen(from)
	if x == nil || m == nil {
		return
	}
	left, top := m.GetPos()
	x.SetPos(left+40, top+40)
}
