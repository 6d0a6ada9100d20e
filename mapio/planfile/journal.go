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
// If the journal cannot be written it tries again at each act and every two
// seconds, in each of its folders in turn, and starts with the newest plan.
type Journal struct {
	mu      sync.Mutex
	wake    *sync.Cond
	waiting []entry
	last    *entry // the newest act since the last Clear, nil for none
	clear   bool   // empty the file before writing the waiting acts
	look    bool   // check that the file still exists, and catch up with it
	busy    bool
	closed  bool
	fault   error  // the error of the latest attempt
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

// OpenJournal starts a journal of this process in the first folder that can be
// written, and makes a missing folder. docKey is the path of the open plan, or "".
// If no folder can be written, Err says why, and the journal keeps trying.
func OpenJournal(dirs []string, docKey string) *Journal {
	j := &Journal{path: docKey, file: journalFile{dirs: dirs}, done: make(chan struct{})}
	j.wake = sync.NewCond(&j.mu)
	j.fault = j.file.write(nil, false, nil)
	go j.run()
	go j.watch()
	return j
}

// OnFault calls changed, from any goroutine, whenever the result of Err changes.
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

// Clear deletes every act up to now: the plan was saved or discarded.
func (j *Journal) Clear() {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.closed {
		return
	}
	j.waiting, j.last, j.clear = nil, nil, true
	j.wake.Broadcast()
}

// Retry checks the journal's file and writes it again if it was deleted or if
// writing failed before. The journal does so by itself every two seconds.
func (j *Journal) Retry() {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.look = !j.closed
	j.wake.Broadcast()
}

// Err returns why the latest attempt to write the journal failed, one line for each
// folder, or nil. While there is an error, a crash loses all unsaved work.
func (j *Journal) Err() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.fault
}

// Flush waits until every act so far was written, or writing failed, and returns
// Err.
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

// pending reports whether there is work to do. The caller holds the lock.
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

// settle keeps the result of an attempt to write and reports a change.
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

// watch checks the journal's file from time to time.
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
