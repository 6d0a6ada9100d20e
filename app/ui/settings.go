package ui

import (
	"slices"

	"fyne.io/fyne/v2"

	"legwright/app/ui/look"
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
