package ui

import (
	"bytes"
	"errors"
	"log"
	"os"
	"path/filepath"
	"testing"
	"time"

	"fyne.io/fyne/v2"
)

// A start waits for a file that another bench is writing, and not for ever.
func TestStartWaitsForPreferences(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "preferences.json")
	if !awaitPrefs(path, time.Second) {
		t.Error("no file: want no waiting")
	}
	write := func(text string) {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Error(err)
		}
	}
	for _, half := range []string{"", `{"welcomed":tr`} {
		write(half)
		if awaitPrefs(path, 30*time.Millisecond) {
			t.Errorf("%q was taken for whole", half)
		}
		done := time.AfterFunc(50*time.Millisecond, func() { write(`{"welcomed":true}`) })
		if !awaitPrefs(path, 10*time.Second) {
			t.Errorf("%q, written to its end after 50 ms: was not waited for", half)
		}
		done.Stop()
	}
}

// The report of a file that another bench is writing is dropped; all else that
// the toolkit tells is passed on whole.
func TestLogOfHalfWrittenPreferences(t *testing.T) {
	for _, c := range []struct {
		name, reason string
		err          error
		lines        int
	}{
		{"half written", "Preferences load error:", errors.New("EOF"), 0},
		{"cut in its middle", "Preferences load error:", errors.New("unexpected EOF"), 0},
		{"may not be read", "Preferences load error:", errors.New("permission denied"), 3},
		{"something else", "Failed to load image", errors.New("EOF"), 3},
		{"without a cause", "Failed", nil, 2},
	} {
		var out bytes.Buffer
		before := log.Writer()
		log.SetOutput(&prefsLog{to: &out})
		fyne.LogError(c.reason, c.err)
		log.Println("after")
		log.SetOutput(before)
		if got := bytes.Count(out.Bytes(), []byte("\n")); got != c.lines+1 || !bytes.HasSuffix(out.Bytes(), []byte("after\n")) {
			t.Errorf("%s: got %d lines, want %d and one after:\n%s", c.name, got, c.lines, &out)
		}
	}
}
