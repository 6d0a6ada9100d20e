//go:build !cgo

package projector

import "fyne.io/fyne/v2"

func apart(_, _ fyne.Window) bool { return false }

func moveApart(_, _ fyne.Window) bool { return false }
