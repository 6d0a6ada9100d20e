package planfile

import (
	"errors"
	"fmt"
	"sync"
	"time"

	"legwright/app/plan"
)

// Limits of a journal.
const (
	maxWaiting   = 64      // acts that wait for the disk; beyond, the newest replaces the last
	compactBytes = 8 << 20 // size from which a journal is cut down to its last line
	lookEvery    = 2 * time.Second
)

// Journal keeps the acts of one running bench. Its methods may be called from
// any goroutine; none but Close and Flush waits for the disk.
//
// A journal that cannot be written tries again at each act and every two
// seconds, in each of its folders in turn, and begins with the newest plan.
type Journal struct {
	mu      sync.Mutex
	wake    *sync.Cond
	waiting []entry
	last    *entry // the newest act since the last Clear, nil for none
	clear   bool   // forget what is in the file before writing what waits
	look    bool   // see whether the file is still there, and write it where it is behind
	busy    bool
	closed  bool
	fault   error  // of the latest attempt
	changed func() // see OnFault; may be nil
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

// OpenJournal begins a journal of this process in the first of the folders
// that can be written; a missing one is made. docKey is the path of the plan
// that is open, or "". Where none can be written, Err says why, and the journal
// tries on.
func OpenJournal(dirs []string, docKey string) *Journal {
	j := &Journal{path: docKey, file: journalFile{dirs: dirs}, done: make(chan struct{})}
	j.wake = sync.NewCond(&j.mu)
	j.fault = j.file.write(nil, false, nil)
	go j.run()
	go j.watch()
	return j
}

// OnFault has changed called, from any goroutine, whenever what Err returns
// changes.
func (j *Journal) OnFault(changed func()) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.changed = changed
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
	j.last = &e
	if len(j.waiting) >= maxWaiting {
		j.waiting[len(j.waiting)-1] = e
	} else {
		j.waiting = append(j.waiting, e)
	}
	j.wake.Broadcast()
}

// Clear forgets every act up to now: the plan has been saved or discarded.
func (j *Journal) Clear() {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.closed {
		return
	}
	j.waiting, j.last, j.clear = nil, nil, true
	j.wake.Broadcast()
}

// Retry looks whether the journal's file is still there, and writes what it
// should hold where it is not or where writing failed before. The journal does
// so by itself every two seconds.
func (j *Journal) Retry() {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.look = !j.closed
	j.wake.Broadcast()
}

// Err returns why the latest attempt to write the journal failed, with a line
// for each folder, or nil. While there is an error a crash loses what was not
// saved.
func (j *Journal) Err() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.fault
}

// Flush waits until everything appended so far has been written or has failed
// to be, and returns Err.
func (j *Journal) Flush() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	for j.busy || j.pending() {
		j.wake.Wait()
	}
	return j.fault
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

// pending reports whether there is something to do. The caller holds the lock.
func (j *Journal) pending() bool { return len(j.waiting) > 0 || j.clear || j.look }

// run writes what waits until the journal is closed.
func (j *Journal) run() {
	defer close(j.done)
	for {
		j.mu.Lock()
		for !j.pending() && !j.closed {
			j.wake.Wait()
		}
		if !j.pending() {
			j.mu.Unlock()
			return
		}
		batch, clear, last := j.waiting, j.clear, j.last
		j.waiting, j.clear, j.look, j.busy = nil, false, false, true
		j.mu.Unlock()
		j.settle(j.file.write(batch, clear, last))
	}
}

// settle keeps how an attempt to write ended, and tells of a change.
func (j *Journal) settle(err error) {
	j.mu.Lock()
	tell := j.changed
	if fmt.Sprint(err) == fmt.Sprint(j.fault) {
		tell = nil
	}
	j.busy, j.fault = false, err
	j.wake.Broadcast()
	j.mu.Unlock()
	if tell != nil {
		tell()
	}
}

// watch has the journal look after its file from time to time.
func (j *Journal) watch() {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for {
		select {
		case <-j.done:
			return
		case <-tick.C:
			j.Retry()
		}
	}
}
