package ui

import (
	"slices"

	"fyne.io/fyne/v2"

	"legwright/app/ui/look"
	"legwright/canvas/pyramid"
)

// settings are the person's own choices, kept from one start to the next in
// the preferences of the application.
type settings struct{ prefs fyne.Preferences }

// mostRecent is how many files the list of recent ones keeps.
const mostRecent = 8

// Keys of the preferences.
const (
	keyMode     = "look"
	keyRecent   = "recent"
	keyWelcomed = "welcomed"
	keyTrue     = "true-bearing"
	keyNames    = "gpx-name-limit"
	keyTrack    = "gpx-track"
	keyContrast = "picture-contrast"
	keyFade     = "picture-fade"
	keyInvert   = "picture-invert"
	keyWhole    = "whole-sheet"
	keyLast     = "last-plan"
	keyWidth    = "window-width"
	keyHeight   = "window-height"
)

func (s settings) mode() look.Mode {
	return look.Mode(s.prefs.IntWithFallback(keyMode, int(look.Follow)))
}

func (s settings) setMode(m look.Mode) { s.prefs.SetInt(keyMode, int(m)) }

func (s settings) welcomed() bool { return s.prefs.Bool(keyWelcomed) }

func (s settings) setWelcomed() { s.prefs.SetBool(keyWelcomed, true) }

func (s settings) showTrue() bool { return s.prefs.Bool(keyTrue) }

func (s settings) setShowTrue(on bool) { s.prefs.SetBool(keyTrue, on) }

func (s settings) nameLimit() int { return s.prefs.IntWithFallback(keyNames, 30) }

func (s settings) setNameLimit(n int) { s.prefs.SetInt(keyNames, n) }

func (s settings) track() bool { return s.prefs.Bool(keyTrack) }

func (s settings) setTrack(on bool) { s.prefs.SetBool(keyTrack, on) }

// pictureLook is how the picture is shown: it belongs to the person's eyes and
// screen, and not to the plan.
func (s settings) pictureLook() pyramid.Look {
	return pyramid.Look{
		Contrast: s.prefs.Float(keyContrast), Fade: s.prefs.Float(keyFade), Invert: s.prefs.Bool(keyInvert),
	}
}

func (s settings) setPictureLook(l pyramid.Look) {
	s.prefs.SetFloat(keyContrast, l.Contrast)
	s.prefs.SetFloat(keyFade, l.Fade)
	s.prefs.SetBool(keyInvert, l.Invert)
}

func (s settings) whole() bool { return s.prefs.Bool(keyWhole) }

func (s settings) setWhole(on bool) { s.prefs.SetBool(keyWhole, on) }

// last is the plan that was open when the program ended, "" for none.
func (s settings) last() string { return s.prefs.String(keyLast) }

func (s settings) setLast(path string) {
	if s.last() != path {
		s.prefs.SetString(keyLast, path)
	}
}

// windowSize is the size of the window when the program ended, in units of the window.
func (s settings) windowSize() fyne.Size {
	w, h := float32(s.prefs.Float(keyWidth)), float32(s.prefs.Float(keyHeight))
	const most = 10_000
	if !(w >= 1 && h >= 1 && w <= most && h <= most) {
		return fyne.NewSize(1400, 900)
	}
	return fyne.NewSize(w, h)
}

func (s settings) setWindowSize(size fyne.Size) {
	s.prefs.SetFloat(keyWidth, float64(size.Width))
	s.prefs.SetFloat(keyHeight, float64(size.Height))
}

// recent lists the files opened last, the newest first.
func (s settings) recent() []string { return s.prefs.StringList(keyRecent) }

// remember puts a file at the head of the recent ones.
func (s settings) remember(path string) {
	list := slices.DeleteFunc(s.recent(), func(p string) bool { return p == path })
	list = append([]string{path}, list...)
	s.prefs.SetStringList(keyRecent, list[:min(len(list), mostRecent)])
}

// forget takes a file out of the recent ones.
func (s settings) forget(path string) {
	s.prefs.SetStringList(keyRecent, slices.DeleteFunc(s.recent(), func(p string) bool { return p == path }))
}
