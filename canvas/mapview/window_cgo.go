//go:build cgo

package mapview

import "github.com/go-gl/glfw/v3.3/glfw"

// windowPixels is the real size of the window that is being painted, which
// the toolkit does not tell. It is known only while a frame is painted. The
// call panics where there is no window system, as in tests.
func windowPixels() (w, h int, ok bool) {
	defer func() {
		if recover() != nil {
			ok = false
		}
	}()
	win := glfw.GetCurrentContext()
	if win == nil {
		return 0, 0, false
	}
	w, h = win.GetFramebufferSize()
	return w, h, w > 0 && h > 0
}
