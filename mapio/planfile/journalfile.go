package planfile

import (
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"legwright/app/plan"
	"legwright/mapio/filelock"
)

// Endings of the two files of a journal. The lock is a file of its own, so
// that it stays held while the journal is replaced by a shorter one.
const (
	journalExt = ".journal"
	lockExt    = ".lock"
)

// line is one act in the journal.
type line struct {
	Journal int             `json:"journal"` // version of the line, 1
	At      time.Time       `json:"at"`
	Step    string          `json:"step"`
	Path    string          `json:"path"` // the plan's file, "" for none yet
	Base    *baseShape      `json:"base,omitempty"`
	Plan    json.RawMessage `json:"plan"`
}

// baseShape is a plan.Stamp.
type baseShape struct {
	ModTime time.Time `json:"mod_time"`
	Size    int64     `json:"size"`
	SHA256  string    `json:"sha256"`
}

const lineVersion = 1

func (e entry) encode() ([]byte, error) {
	body, err := json.Marshal(toShape(e.p))
	if err != nil {
		return nil, err
	}
	l := line{Journal: lineVersion, At: e.at.UTC(), Step: e.step, Path: e.path, Plan: body}
	if !e.base.IsZero() {
		l.Base = &baseShape{e.base.ModTime.UTC(), e.base.Size, hex.EncodeToString(e.base.SHA256[:])}
	}
	text, err := json.Marshal(l)
	return append(text, '\n'), err
}

func (b *baseShape) stamp() plan.Stamp {
	if b == nil {
		return plan.Stamp{}
	}
	s := plan.Stamp{ModTime: b.ModTime, Size: b.Size}
	sum, err := hex.DecodeString(b.SHA256)
	if err != nil || copy(s.SHA256[:], sum) != len(s.SHA256) {
		return plan.Stamp{}
	}
	return s
}

// errNoFolder is the error of a journal without a folder.
var errNoFolder = errors.New("the system names no folder for unsaved work: save the plan often")

// journalFile is the journal on the disk. One goroutine uses it at a time.
type journalFile struct {
	dirs   []string // possible folders, the preferred first
	f      *os.File // nil until it is made
	lock   *os.File
	size   int64
	lastAt int64 // offset of its last line
	behind bool  // the last attempt to write it failed
}

// createJournalFile makes a journal with text in the folder. It takes the lock
// first: a journal file without a held lock counts as abandoned.
func createJournalFile(dir string, text []byte) (f, l *os.File, err error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, nil, err
	}
	name := filepath.Join(dir, fmt.Sprintf("bench-%d-%d", os.Getpid(), time.Now().UnixNano()))
	l, err = os.OpenFile(name+lockExt, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return nil, nil, err
	}
	filelock.Take(l) // where a system has no locks nothing is ever offered, see Pending
	f, err = os.OpenFile(name+journalExt, os.O_CREATE|os.O_RDWR|os.O_EXCL, 0o600)
	if err == nil && text != nil { // an empty file need not be synced
		_, err = f.Write(text)
		err = errors.Join(err, f.Sync())
	}
	if err != nil {
		_ = deleteBoth(f, l) // the first error counts
		return nil, nil, err
	}
	return f, l, nil
}

// write empties the file if clear is true, adds a batch of acts and syncs them.
// last is the newest act to keep, or nil: if the file was deleted or cannot take
// the batch, last alone replaces its content. If that failed before, write tries it
// again.
func (j *journalFile) write(batch []entry, clear bool, last *entry) error {
	if j.behind && len(batch) == 0 {
		if clear = last == nil; !clear {
			batch = []entry{*last}
		}
	}
	err := j.there()
	if err == nil {
		err = j.add(batch, clear)
	}
	if err != nil {
		err = j.replace(last)
	}
	j.behind = err != nil
	return err
}

// there returns an error if the file does not exist yet, or was deleted or moved.
func (j *journalFile) there() error {
	if j.f == nil {
		return fs.ErrNotExist
	}
	for _, f := range []*os.File{j.lock, j.f} {
		now, err := os.Stat(f.Name())
		if err != nil {
			return err
		}
		if own, err := f.Stat(); err != nil || !os.SameFile(own, now) {
			return fs.ErrNotExist
		}
	}
	return nil
}

// add appends a batch of acts and limits the size of the file.
func (j *journalFile) add(batch []entry, clear bool) error {
	if clear {
		if err := j.f.Truncate(0); err != nil {
			return err
		}
		j.size, j.lastAt = 0, 0
	}
	var last []byte
	for _, e := range batch {
		text, err := e.encode()
		if err != nil {
			return err
		}
		if _, err := j.f.WriteAt(text, j.size); err != nil { // a half line must not precede the next
			return errors.Join(err, j.f.Truncate(j.size))
		}
		j.lastAt, j.size = j.size, j.size+int64(len(text))
		last = text
	}
	if j.size > compactBytes && j.size > 4*int64(len(last)) && last != nil {
		return j.overwrite(last)
	}
	return j.f.Sync()
}

// overwrite replaces all lines by one without needing more room on the disk: it
// writes the line at the start of the file, before the last line, and then
// truncates the file behind it. The file ends with a whole line at every moment.
func (j *journalFile) overwrite(text []byte) error {
	size := int64(len(text))
	if size > j.lastAt {
		return errors.New("the journal's next line would overwrite its last")
	}
	if _, err := j.f.WriteAt(text, 0); err != nil {
		return err
	}
	if err := errors.Join(j.f.Sync(), j.f.Truncate(size)); err != nil {
		return err
	}
	j.size, j.lastAt = size, 0
	return j.f.Sync()
}

// replace replaces the content by the newest act, or by nothing, in the same file
// or in a new one in the first folder that can be written.
func (j *journalFile) replace(last *entry) error {
	var text []byte
	if last != nil {
		var err error
		if text, err = last.encode(); err != nil {
			return err
		}
		if j.there() == nil && j.overwrite(text) == nil {
			return nil
		}
	}
	var faults []error
	for _, dir := range j.dirs {
		f, l, err := createJournalFile(dir, text)
		if err == nil {
			_ = deleteBoth(j.f, j.lock) // at worst its work is offered once more
			j.f, j.lock, j.size, j.lastAt = f, l, int64(len(text)), 0
			return nil
		}
		if on := (*fs.PathError)(nil); errors.As(err, &on) {
			err = on.Err // the folder is named before it
		}
		faults = append(faults, fmt.Errorf("%s: %w", dir, err))
	}
	if faults == nil {
		return errNoFolder
	}
	return errors.Join(faults...)
}

// close ends the journal; an empty one is removed.
func (j *journalFile) close() error {
	if j.f == nil || j.size == 0 {
		return deleteBoth(j.f, j.lock)
	}
	return errors.Join(j.f.Close(), j.lock.Close(), remove(j.lock.Name()))
}

// deleteBoth closes and deletes a journal and its lock. Either may be nil.
func deleteBoth(all ...*os.File) error {
	var errs []error
	for _, f := range all {
		if f != nil {
			errs = append(errs, f.Close(), remove(f.Name()))
		}
	}
	return errors.Join(errs...)
}

// remove deletes a file that may be gone already.
func remove(path string) error {
	if err := os.Remove(path); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
