package ui

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"sync"
	"time"
)

// Two benches of one person share the preferences' file, and the toolkit
// rewrites it in place: for a moment the other bench can find it empty. While
// a bench runs that is harmless, for the values it has stay and it reads the
// file again as soon as it is written. At the start it is not: the bench would
// begin without preferences, and write that down. Hence the two things here.

// prefsPath is where the toolkit keeps the preferences on Linux and Windows;
// elsewhere nothing is there.
func prefsPath() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "fyne", appID, "preferences.json")
}

// awaitPrefs waits until another bench has written the preferences' file to
// its end, at most for the time given. It reports whether the file is whole or
// missing.
func awaitPrefs(path string, most time.Duration) bool {
	const step = 10 * time.Millisecond
	for waited := time.Duration(0); ; waited += step {
		data, err := os.ReadFile(path)
		if err != nil || json.Valid(data) {
			return true
		}
		if waited >= most {
			return false
		}
		time.Sleep(step)
	}
}

// prefsLog passes the toolkit's log on, except for the report that the
// preferences were found half written: three lines, of which the second tells
// the cause.
type prefsLog struct {
	to io.Writer

	mu   sync.Mutex
	held []byte // the first line of such a report, until its cause is known
	drop bool   // the line with the place comes next, and goes too
}

// Write takes one line.
func (l *prefsLog) Write(line []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	place := l.drop && bytes.Contains(line, []byte("  At: "))
	l.drop = false
	switch {
	case place:
		return len(line), nil
	case l.held == nil && bytes.Contains(line, []byte("Preferences load error:")):
		l.held = bytes.Clone(line)
		return len(line), nil
	case l.held != nil && bytes.HasSuffix(bytes.TrimSpace(line), []byte("EOF")):
		l.held, l.drop = nil, true
		return len(line), nil
	}
	if l.held != nil {
		held := l.held
		l.held = nil
		if _, err := l.to.Write(held); err != nil {
			return 0, err
		}
	}
	return l.to.Write(line)
}
