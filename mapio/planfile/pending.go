package planfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"legwright/app/plan"
	"legwright/mapio/filelock"
)

// maxJournal is the size above which a journal is not read: no bench writes
// one so long.
const maxJournal = 512 << 20

// Recovery is what the journal of a dead bench holds.
type Recovery struct {
	Path  string     // the plan's file, "" where it had none yet
	Base  plan.Stamp // what that file looked like when the journal was begun
	Steps []string   // names of the acts, oldest first
	At    time.Time  // when the last one was made
	Plan  *plan.Plan // as the last act left it

	name string // of the journal's files, without an ending
}

// Discard deletes the journal. Call it once its plan was discarded, or was restored
// and is in another journal.
func (r Recovery) Discard() error {
	return errors.Join(remove(r.name+journalExt), remove(r.name+lockExt))
}

// Pending lists what the journals of dead benches in the folders hold, newest
// first. A line that was cut off or damaged is passed over. Dead journals that
// hold nothing are deleted; one that holds something but no readable plan is
// left alone. A folder that is not there holds nothing; the error is of those
// that could not be read.
func Pending(dirs []string) ([]Recovery, error) {
	var out []Recovery
	var faults []error
	for _, dir := range dirs {
		entries, err := os.ReadDir(dir)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			faults = append(faults, err)
		}
		for _, e := range entries {
			name, ok := strings.CutSuffix(e.Name(), journalExt)
			if !ok || !e.Type().IsRegular() {
				continue
			}
			if r, ok := recoverFrom(filepath.Join(dir, name)); ok {
				out = append(out, r)
			}
		}
	}
	slices.SortFunc(out, func(a, b Recovery) int { return b.At.Compare(a.At) })
	return out, errors.Join(faults...)
}

// recoverFrom reads one journal, if its bench is dead.
func recoverFrom(name string) (Recovery, bool) {
	l, err := os.OpenFile(name+lockExt, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return Recovery{}, false
	}
	defer l.Close() // drops the lock that was taken for a look
	if !filelock.Take(l) {
		return Recovery{}, false
	}
	info, err := os.Stat(name + journalExt)
	if err != nil || info.Size() > maxJournal {
		return Recovery{}, false
	}
	if info.Size() == 0 {
		_ = Recovery{name: name}.Discard() // an empty one does no harm if it stays
		return Recovery{}, false
	}
	text, err := os.ReadFile(name + journalExt)
	if err != nil {
		return Recovery{}, false
	}
	r, ok := readJournal(text)
	r.name = name
	return r, ok
}

// readJournal returns what the last readable line holds. ok is false where no
// line holds a plan.
func readJournal(text []byte) (r Recovery, ok bool) {
	lines := readLines(text)
	for i := len(lines) - 1; i >= 0; i-- {
		p, err := decode(lines[i].Plan)
		if err != nil {
			continue
		}
		r = Recovery{Path: lines[i].Path, Base: lines[i].Base.stamp(), At: lines[i].At, Plan: p}
		for _, l := range lines[:i+1] {
			r.Steps = append(r.Steps, l.Step)
		}
		return r, true
	}
	return Recovery{}, false
}

// readLines returns the lines that are whole and of a version that is known.
func readLines(text []byte) []line {
	var out []line
	for raw := range bytes.Lines(text) {
		var l line
		if json.Unmarshal(raw, &l) == nil && l.Journal == lineVersion {
			out = append(out, l)
		}
	}
	return out
}
