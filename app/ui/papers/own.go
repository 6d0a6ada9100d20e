package papers

import (
	"crypto/rand"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"legwright/mapio/filelock"
)

// lockExt is the ending of the lock beside the folder of a run.
const lockExt = ".lock"

// ownFolder is the folder of this run for the viewer's file, below one that every run shares. A
// base sheet names people, so a folder outlives its run for no longer than until the next start:
// that deletes each folder whose lock is free.
type ownFolder struct {
	path string // "" where the system names no folder

	mu   sync.Mutex // the folder is made beside the window, and deleted by it
	lock *os.File   // nil until the folder is made
}

// newOwnFolder deletes what runs left that did not end well. It makes nothing yet.
func newOwnFolder(shared string) *ownFolder {
	if shared == "" {
		return &ownFolder{}
	}
	list, _ := os.ReadDir(shared) // there is none before the first viewer
	for _, e := range list {
		left := ownFolder{path: filepath.Join(shared, strings.TrimSuffix(e.Name(), lockExt))}
		if left.hold() == nil {
			left.delete()
		}
	}
	return &ownFolder{path: filepath.Join(shared, rand.Text())}
}

// make makes the folder. Its lock comes first: a folder without one is deleted at the next start.
func (o *ownFolder) make() error {
	if o.path == "" {
		return errors.New("there is no folder for the viewer's copy")
	}
	o.mu.Lock()
	defer o.mu.Unlock()
	if err := os.MkdirAll(filepath.Dir(o.path), 0o700); err != nil {
		return err
	}
	if o.lock == nil {
		if err := o.hold(); err != nil {
			return err
		}
	}
	return os.MkdirAll(o.path, 0o700)
}

// hold takes the lock, which the system frees when the process ends.
func (o *ownFolder) hold() error {
	f, err := os.OpenFile(o.path+lockExt, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return err
	}
	held := filelock.Take(f)
	if held { // another start may have deleted the file before it was locked
		mine, _ := f.Stat()
		now, err := os.Stat(f.Name())
		held = err == nil && os.SameFile(mine, now)
	}
	if !held {
		_ = f.Close()
		return errors.New("the folder for the viewer's copy cannot be locked")
	}
	o.lock = f
	return nil
}

// empty deletes the papers before; one that a viewer holds open stays.
func (o *ownFolder) empty() { _ = os.RemoveAll(o.path) }

// delete deletes the folder, where it was made. What a viewer holds open goes at the next start.
func (o *ownFolder) delete() {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.lock == nil {
		return
	}
	o.empty()
	_ = os.Remove(o.lock.Name())
	_ = o.lock.Close()
	_ = os.Remove(o.lock.Name()) // Windows deletes no open file
	o.lock = nil
}
