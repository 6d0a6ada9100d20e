//go:build !cgo

package projector

import "fyne.io/fyne/v2"

func known(fyne.Window) bool { return false }

func apart(_, _ fyne.Window) bool { return false }

func hasOther(fyne.Window) bool { return false }

func moveApart(_, _ fyne.Window) {}
