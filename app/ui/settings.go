package ui

import (
	"fyne.io/fyne/v2"

	"legwright/app/ui/ledger"
	"legwright/app/ui/look"
	"legwright/canvas/pyramid"
)

// settings are the person's own choices, kept from one start to the next in
// the preferences of the application.
type settings struct{ prefs fyne.Preferences }

// Keys of the preferences.
const (
	keyMode     = "look"
	keyWelcomed = "welcomed"
	keyTrue     = "true-bearing"
	keyContrast = "picture-contrast"
	keyFade     = "picture-fade"
	keyInvert   = "picture-invert"
	keyWhole    = "whole-sheet"
	keyWidth    = "window-width"
	keyHeight   = "window-height"
	keyLedger   = "ledger-height"
	keyHidden   = "ledger-hidden"
	keyFold     = "ledger-fold"
)

func (s *settings) mode() look.Mode {
	return look.Mode(s.prefs.IntWithFallback(keyMode, int(look.Follow)))
}

func (s *settings) setMode(m look.Mode) { s.prefs.SetInt(keyMode, int(m)) }

func (s *settings) welcomed() bool { return s.prefs.Bool(keyWelcomed) }

func (s *settings) setWelcomed() { s.prefs.SetBool(keyWelcomed, true) }

func (s *settings) showTrue() bool { return s.prefs.Bool(keyTrue) }

func (s *settings) setShowTrue(on bool) { s.prefs.SetBool(keyTrue, on) }

// pictureLook is how the picture is shown: it belongs to the person's eyes and
// screen, and not to the plan.
func (s *settings) pictureLook() pyramid.Look {
	return pyramid.Look{
		Contrast: s.prefs.Float(keyContrast), Fade: s.prefs.Float(keyFade), Invert: s.prefs.Bool(keyInvert),
	}
}

func (s *settings) setPictureLook(l pyramid.Look) {
	s.prefs.SetFloat(keyContrast, l.Contrast)
	s.prefs.SetFloat(keyFade, l.Fade)
	s.prefs.SetBool(keyInvert, l.Invert)
}

func (s *settings) whole() bool { return s.prefs.Bool(keyWhole) }

func (s *settings) setWhole(on bool) { s.prefs.SetBool(keyWhole, on) }

// windowSize is the size of the window when the program ended, in units of the window.
func (s *settings) windowSize() fyne.Size {
	w, h := float32(s.prefs.Float(keyWidth)), float32(s.prefs.Float(keyHeight))
	const most = 10_000
	if !(w >= 1 && h >= 1 && w <= most && h <= most) {
		return fyne.NewSize(1400, 900)
	}
	return fyne.NewSize(w, h)
}

func (s *settings) setWindowSize(size fyne.Size) {
	s.prefs.SetFloat(keyWidth, float64(size.Width))
	s.prefs.SetFloat(keyHeight, float64(size.Height))
}

// ledger is how high the ledger was asked to be, whether folded, and which columns are
// hidden.
func (s *settings) ledger() ledger.Asked {
	return ledger.Asked{Fold: ledger.Fold(s.prefs.Int(keyFold)), High: float32(s.prefs.Float(keyLedger)), Hidden: s.prefs.StringList(keyHidden)}
}

func (s *settings) setLedger(a ledger.Asked) {
	s.prefs.SetInt(keyFold, int(a.Fold))
	s.prefs.SetFloat(keyLedger, float64(a.High))
	s.prefs.SetStringList(keyHidden, a.Hidden)
}
