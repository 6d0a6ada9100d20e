//go:build !windows

package ui

import "fyne.io/fyne/v2"

// keepOnScreen does nothing: the window manager keeps windows on the screen.
func keepOnScreen(fyne.Window) {}
