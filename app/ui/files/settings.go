package files

import (
	"slices"

	"fyne.io/fyne/v2"
)

// Settings are a person's choices about files, kept from one start to the next in the
// preferences of the application.
type Settings struct {
	prefs  fyne.Preferences
	recent func() // called when the recent files change; may be nil
}

// NewSettings reads and keeps them in the preferences.
func NewSettings(prefs fyne.Preferences) *Settings { return &Settings{prefs: prefs} }

// OnRecent has a function called whenever the recent files change.
func (s *Settings) OnRecent(f func()) { s.recent = f }

// mostRecent is how many recent files are remembered.
const mostRecent = 8

// Keys of the preferences.
const (
	keyRecent = "recent"
	keyLast   = "last-plan"
	keyNames  = "gpx-name-limit"
	keyPlain  = "gpx-plain-names"
	keyTrack  = "gpx-track"
	keyForm   = "paper-form"
	keyPaper  = "paper-size"
	keyTurned = "paper-landscape"
)

// Last is the plan that was open when the program ended, "" for none.
func (s *Settings) Last() string { return s.prefs.String(keyLast) }

// SetLast notes the plan that is open now, "" for one without a file.
func (s *Settings) SetLast(path string) {
	if s.Last() != path {
		s.prefs.SetString(keyLast, path)
	}
}

// Recent lists the files opened last, the newest first.
func (s *Settings) Recent() []string { return s.prefs.StringList(keyRecent) }

// Remember puts a file at the head of the recent ones.
func (s *Settings) Remember(path string) {
	list := slices.DeleteFunc(s.Recent(), func(p string) bool { return p == path })
	list = append([]string{path}, list...)
	s.setRecent(list[:min(len(list), mostRecent)])
}

// Forget strikes a file from the recent ones.
func (s *Settings) Forget(path string) {
	s.setRecent(slices.DeleteFunc(s.Recent(), func(p string) bool { return p == path }))
}

func (s *Settings) setRecent(list []string) {
	s.prefs.SetStringList(keyRecent, list)
	if s.recent != nil {
		s.recent()
	}
}

// nameLimit is the longest name in a GPX file, in letters.
func (s *Settings) nameLimit() int { return s.prefs.IntWithFallback(keyNames, 30) }

func (s *Settings) setNameLimit(n int) { s.prefs.SetInt(keyNames, n) }

// plainNames is whether names in GPX are in ASCII alone.
func (s *Settings) plainNames() bool { return s.prefs.Bool(keyPlain) }

func (s *Settings) setPlainNames(on bool) { s.prefs.SetBool(keyPlain, on) }

// track is whether GPX carries the route as a track too.
func (s *Settings) track() bool { return s.prefs.Bool(keyTrack) }

func (s *Settings) setTrack(on bool) { s.prefs.SetBool(keyTrack, on) }

// Paper is how a plan was put on paper last: the form, the size by its name, "" before the first
// time, and whether it lay on its side.
func (s *Settings) Paper() (form, size string, landscape bool) {
	return s.prefs.String(keyForm), s.prefs.String(keyPaper), s.prefs.Bool(keyTurned)
}

// SetPaper notes what Paper returns.
func (s *Settings) SetPaper(form, size string, landscape bool) {
	s.prefs.SetString(keyForm, form)
	s.prefs.SetString(keyPaper, size)
	s.prefs.SetBool(keyTurned, landscape)
}
