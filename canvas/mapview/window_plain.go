//go:build !cgo

package mapview

// windowPixels is not known without a window.
func windowPixels() (w, h int, ok bool) { return 0, 0, false }
