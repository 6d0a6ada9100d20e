package planfile

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"legwright/app/plan"
)

// Limits of a journal.
const (
	maxWaiting   = 64      // acts that wait for the disk; beyond, the newest replaces the last
	compactBytes = 8 << 20 // size from which a journal is cut down to its last line
)

// Journal keeps the acts of one running bench. Its methods may be called from
// any goroutine; none but Close and Flush waits for the disk.
type Journal struct {
	mu      sync.Mutex
	wake    *sync.Cond
	waiting []entry
	clear   bool // forget what is in the file before writing what waits
	busy    bool
	closed  bool
	err     error
	path    string // the plan's file
	base    plan.Stamp

	file journalFile
	done chan struct{}
}

// entry is one act that waits for the disk.
type entry struct {
	step string
	at   time.Time
	path string
	base plan.Stamp
	p    *plan.Plan
}

// OpenJournal begins a journal of this process in the folder, which is made
// where it is missing. docKey is the path of the plan that is open, or "".
func OpenJournal(dir, docKey string) (*Journal, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("making the journal's folder: %w", err)
	}
	name := filepath.Join(dir, fmt.Sprintf("bench-%d-%d", os.Getpid(), time.Now().UnixNano()))
	f, err := createJournalFile(name)
	if err != nil {
		return nil, fmt.Errorf("beginning the journal: %w", err)
	}
	j := &Journal{path: docKey, file: f, done: make(chan struct{})}
	j.wake = sync.NewCond(&j.mu)
	go j.run()
	return j, nil
}

// Document says which file the acts to come belong to, and what it looked like
// when it was read.
func (j *Journal) Document(path string, base plan.Stamp) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.path, j.base = path, base
}

// Append adds the plan that an act led to. It never waits: where the disk
// falls behind, the latest plan takes the place of the one before it.
func (j *Journal) Append(step string, p *plan.Plan) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.closed {
		return
	}
	e := entry{step, time.Now(), j.path, j.base, p}
	if len(j.waiting) >= maxWaiting {
		j.waiting[len(j.waiting)-1] = e
	} else {
		j.waiting = append(j.waiting, e)
	}
	j.wake.Broadcast()
}

// Clear forgets every act up to now: the plan has been saved or given up.
func (j *Journal) Clear() {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.waiting, j.clear = nil, true
	j.wake.Broadcast()
}

// Err returns the first error of writing the journal, or nil. After one, a
// crash may lose work: tell the user.
func (j *Journal) Err() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.err
}

// Flush waits until everything appended so far is on the disk.
func (j *Journal) Flush() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	for j.busy || j.clear || len(j.waiting) > 0 {
		j.wake.Wait()
	}
	return j.err
}

// Close writes what waits and ends the journal. A journal that holds nothing
// leaves no file behind.
func (j *Journal) Close() error {
	j.mu.Lock()
	if j.closed {
		j.mu.Unlock()
		return nil
	}
	j.closed = true
	j.wake.Broadcast()
	j.mu.Unlock()
	<-j.done
	return errors.Join(j.Err(), j.file.close())
}

// run writes what waits until the journal is closed.
func (j *Journal) run() {
	defer close(j.done)
	for {
		batch, clear, more := j.take()
		if !more {
			return
		}
		err := j.file.write(batch, clear)
		j.mu.Lock()
		j.busy = false
		if err != nil && j.err == nil {
			j.err = fmt.Errorf("writing the journal: %w", err)
		}
		j.wake.Broadcast()
		j.mu.Unlock()
	}
}

// take waits for work and takes all there is. more is false where the journal
// is closed and nothing waits.
func (j *Journal) take() (batch []entry, clear, more bool) {
	j.mu.Lock()
	defer j.mu.Unlock()
	for len(j.waiting) == 0 && !j.clear {
		if j.closed {
			return nil, false, false
		}
		j.wake.Wait()
	}
	batch, clear = j.waiting, j.clear
	j.waiting, j.clear, j.busy = nil, false, true
	return batch, clear, true
}
