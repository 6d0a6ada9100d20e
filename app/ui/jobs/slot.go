package jobs

import (
	"context"
	"sync"
	"sync/atomic"
	"time"
)

// Progress is how far a job has come.
type Progress struct {
	Stage string // what it is doing, in the words of whoever does the work; may be ""
	Done  int64  // of Total, in any unit
	Total int64  // 0: how much there is to do is not known
}

// Share returns the part that is done, 0 to 1, and whether it is known.
func (p Progress) Share() (share float64, known bool) {
	if p.Total <= 0 {
		return 0, false
	}
	return min(max(float64(p.Done)/float64(p.Total), 0), 1), true
}

// Job is the work under way in a slot.
type Job struct {
	Title    string
	Begun    time.Time // to tell how long the rest will take
	Progress Progress
}

// Slot holds one kind of work, at most one job at a time. Make it with NewSlot.
type Slot struct {
	later    func(func())
	onChange func()
	running  sync.WaitGroup // also jobs that were cancelled and have not yet ended
	now      *job           // nil if there is none
}

// job is one call of Start. Only at is shared between goroutines.
type job struct {
	title  string
	begun  time.Time
	cancel context.CancelFunc
	at     atomic.Pointer[Progress]
	then   func() // after done; may be nil
}

// NewSlot makes a slot. later runs a function on the main thread; it may be called
// from any goroutine and must keep the order of one caller's calls.
func NewSlot(later func(func())) *Slot { return &Slot{later: later} }

// OnChange sets what is called on the main thread when a job starts, tells its
// progress, ends or is cancelled: whoever shows the job asks Now then.
func (s *Slot) OnChange(f func()) { s.onChange = f }

// Start runs work on a goroutine of its own, in place of the job under way, which is
// cancelled. Work returns soon after its context ends. It may call tell at any rate
// and from any goroutine until it returns; the slot passes on as much as a person
// can follow. done is called on the main thread with the error of work, unless the
// job was cancelled or replaced by then; the slot is free when done is called, so
// done may start the next job. What work finds out it leaves in variables that done
// reads.
func (s *Slot) Start(title string, work func(ctx context.Context, tell func(Progress)) error, done func(error)) {
	s.drop()
	ctx, cancel := context.WithCancel(context.Background())
	j := &job{title: title, begun: time.Now(), cancel: cancel}
	j.at.Store(&Progress{})
	s.now = j
	s.running.Go(func() {
		err := work(ctx, s.teller(j))
		s.later(func() {
			if s.now != j {
				return
			}
			s.drop()
			s.changed()
			done(err)
			if j.then != nil {
				j.then()
			}
		})
	})
	s.changed()
}

// Then calls f, instead of what Then was given before, once the job under way has ended
// and its done has been called. If it is cancelled or replaced, f is never called.
func (s *Slot) Then(f func()) {
	if s.now != nil {
		s.now.then = f
	}
}

// Cancel ends the job under way and reports whether there was one. Its done is never
// called.
func (s *Slot) Cancel() bool {
	was := s.drop()
	if was {
		s.changed()
	}
	return was
}

// Now returns the job under way, and whether there is one.
func (s *Slot) Now() (Job, bool) {
	if s.now == nil {
		return Job{}, false
	}
	return Job{Title: s.now.title, Begun: s.now.begun, Progress: *s.now.at.Load()}, true
}

// Wait waits until all work of the slot has returned, also what was cancelled, but
// no longer than that, and reports whether it has. It is for the end of the program,
// when unfinished files must be removed first.
func (s *Slot) Wait(within time.Duration) bool {
	ended := make(chan struct{})
	go func() {
		s.running.Wait()
		close(ended)
	}()
	select {
	case <-ended:
		return true
	case <-time.After(within):
		return false
	}
}

// drop forgets the job under way, cancels it, and reports whether there was one.
func (s *Slot) drop() bool {
	if s.now == nil {
		return false
	}
	s.now.cancel()
	s.now = nil
	return true
}

func (s *Slot) changed() {
	if s.onChange != nil {
		s.onChange()
	}
}

// tellEvery is the time between two tellings of the same stage: each repaints part
// of the window and holds up the work.
const tellEvery = 80 * time.Millisecond

// teller returns what a job tells its progress with. A new stage, and the end of one,
// are passed on at once, so that the window never stands at an old stage while a slow
// one begins.
func (s *Slot) teller(j *job) func(Progress) {
	var mu sync.Mutex
	var last time.Time
	return func(p Progress) {
		mu.Lock()
		was := j.at.Swap(&p)
		due := was.Stage != p.Stage || p.Total > 0 && p.Done == p.Total || time.Since(last) >= tellEvery
		if due {
			last = time.Now()
		}
		mu.Unlock()
		if !due {
			return
		}
		s.later(func() {
			if s.now == j {
				s.changed()
			}
		})
	}
}
