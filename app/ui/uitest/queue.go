// Package uitest helps tests of the window's rooms from outside: a window of the
// toolkit's test driver that a test works as a person does (tap, type, press
// keys, choose from menus, drop files), a queue in place of the main loop, and
// sessions to work on. Only tests import it.
//
// The toolkit keeps one application for a process, so tests of one package that
// open windows run one after another; packages run side by side.
package uitest

import (
	"testing"
	"time"
)

// patience is how long a test waits for what it expects. It only bounds a test
// that fails.
const patience = time.Minute

// Queue stands for the main loop, which the test driver does not have: goroutines
// put into it what must run on the main thread, and the test, which is the main
// thread, runs it.
type Queue chan func()

// NewQueue returns an empty queue.
func NewQueue() Queue { return make(Queue, 4096) }

// Later puts a function into the queue.
func (q Queue) Later(f func()) { q <- f }

// Until runs what comes into the queue until a condition holds. It fails the test
// where that takes too long; what says what was waited for.
func (q Queue) Until(t testing.TB, what string, holds func() bool) {
	t.Helper()
	limit := time.NewTimer(patience)
	defer limit.Stop()
	for !holds() {
		select {
		case f := <-q:
			f()
		case <-limit.C:
			t.Fatalf("waited in vain for %s", what)
		}
	}
}

// Drain runs what waits in the queue now.
func (q Queue) Drain() {
	for {
		select {
		case f := <-q:
			f()
		default:
			return
		}
	}
}
