package planfile

import (
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"time"

	"legwright/app/plan"
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

// journalFile is the journal on the disk. One goroutine uses it at a time.
type journalFile struct {
	name string // without an ending
	f    *os.File
	lock *os.File
	size int64
}

// createJournalFile takes the lock first: a journal file without a held lock
// is an abandoned one.
func createJournalFile(name string) (journalFile, error) {
	l, err := os.OpenFile(name+lockExt, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return journalFile{}, err
	}
	lock(l) // where a system has no locks nothing is ever offered, see Pending
	f, err := os.OpenFile(name+journalExt, os.O_CREATE|os.O_RDWR|os.O_EXCL, 0o600)
	if err != nil {
		return journalFile{}, errors.Join(err, l.Close(), os.Remove(l.Name()))
	}
	return journalFile{name: name, f: f, lock: l}, nil
}

// write adds a batch of acts, syncs them, and keeps the file in bounds.
func (j *journalFile) write(batch []entry, clear bool) error {
	if clear {
		if err := j.cutTo(0); err != nil {
			return err
		}
	}
	var last []byte
	for _, e := range batch {
		text, err := e.encode()
		if err != nil {
			return err
		}
		if _, err := j.f.Write(text); err != nil { // no half line may stay before the next
			return errors.Join(err, j.cutTo(j.size))
		}
		j.size += int64(len(text))
		last = text
	}
	if j.size > compactBytes && j.size > 4*int64(len(last)) && last != nil {
		return j.compact(last)
	}
	return j.f.Sync()
}

// cutTo shortens the file to size bytes and writes on from there.
func (j *journalFile) cutTo(size int64) error {
	if err := j.f.Truncate(size); err != nil {
		return err
	}
	_, err := j.f.Seek(size, io.SeekStart)
	j.size = size
	return err
}

// compact puts a journal of one line in place of the long one. There is a
// whole journal on the disk at every moment.
func (j *journalFile) compact(last []byte) error {
	short := j.name + ".tmp"
	if err := writeSynced(short, last); err != nil {
		return err
	}
	if err := j.f.Close(); err != nil {
		return err
	}
	moved := os.Rename(short, j.name+journalExt)
	f, err := os.OpenFile(j.name+journalExt, os.O_RDWR, 0o600)
	if err != nil {
		return errors.Join(moved, err)
	}
	j.f = f
	j.size, err = f.Seek(0, io.SeekEnd)
	return errors.Join(moved, err)
}

func writeSynced(name string, text []byte) error {
	f, err := os.OpenFile(name, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// close ends the journal; an empty one is removed.
func (j *journalFile) close() error {
	err := j.f.Close()
	if j.size == 0 {
		err = errors.Join(err, remove(j.name+journalExt))
	}
	return errors.Join(err, j.lock.Close(), remove(j.name+lockExt))
}

// remove deletes a file that may be gone already.
func remove(path string) error {
	if err := os.Remove(path); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
