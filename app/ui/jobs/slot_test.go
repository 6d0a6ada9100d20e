package jobs_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"legwright/app/ui/jobs"
)

// patience is how long a test waits for what must come. It only bounds a test that fails.
const patience = time.Minute

// mainThread holds what comes back until the test, which stands for the main
// thread, runs it.
type mainThread chan func()

func (m mainThread) later(f func()) { m <- f }

// until runs what comes back until a condition holds.
func (m mainThread) until(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for limit := time.After(patience); !holds(); {
		select {
		case f := <-m:
			f()
		case <-limit:
			t.Fatalf("waited in vain for %s", what)
		}
	}
}

// rest runs what is left to run, once all work has returned.
func (m mainThread) rest(t *testing.T, s *jobs.Slot) {
	t.Helper()
	if !s.Wait(patience) {
		t.Fatal("the work did not return")
	}
	for len(m) > 0 {
		(<-m)()
	}
}

func newSlot() (mainThread, *jobs.Slot) {
	m := make(mainThread, 4096)
	return m, jobs.NewSlot(m.later)
}

// held is work that lasts until its context ends.
func held(ctx context.Context, _ func(jobs.Progress)) error {
	<-ctx.Done()
	return ctx.Err()
}

func TestDoneGetsTheError(t *testing.T) {
	t.Parallel()
	for _, want := range []error{nil, errors.New("no such file")} {
		m, s := newSlot()
		var found int
		var got error
		ended := false
		s.Start("Reading", func(context.Context, func(jobs.Progress)) error {
			found = 7
			return want
		}, func(err error) {
			_, under := s.Now()
			if under {
				t.Error("the slot is still taken when done is called")
			}
			got, ended = err, true
		})
		if j, ok := s.Now(); !ok || j.Title != "Reading" || j.Progress != (jobs.Progress{}) || j.Begun.IsZero() {
			t.Errorf("after Start: %+v, %v, want the job under way without progress", j, ok)
		}
		m.until(t, "the end", func() bool { return ended })
		if got != want || found != 7 {
			t.Errorf("error %v, found %d, want %v, 7", got, found, want)
		}
		if s.Cancel() {
			t.Error("cancelled a job that had ended")
		}
	}
}

func TestCancelDropsTheEnd(t *testing.T) {
	t.Parallel()
	m, s := newSlot()
	if s.Cancel() {
		t.Error("cancelled where nothing was under way")
	}
	changes := 0
	s.OnChange(func() { changes++ })
	s.Start("Import", held, func(err error) { t.Errorf("done was called with %v", err) })
	if !s.Cancel() || s.Cancel() {
		t.Error("Cancel reports true once, then false")
	}
	m.rest(t, s)
	if changes != 2 {
		t.Errorf("%d changes, want 2: start and cancel", changes)
	}
}

// TestCancelAfterTheWork cancels between the end of the work and its delivery.
func TestCancelAfterTheWork(t *testing.T) {
	t.Parallel()
	m, s := newSlot()
	s.Start("Import", func(context.Context, func(jobs.Progress)) error { return nil },
		func(error) { t.Error("done was called after Cancel") })
	if !s.Wait(patience) {
		t.Fatal("the work did not return")
	}
	if !s.Cancel() {
		t.Error("nothing was cancelled, want the job whose end waits")
	}
	m.rest(t, s)
}

func TestTheLatestWins(t *testing.T) {
	t.Parallel()
	m, s := newSlot()
	s.Start("first", held, func(err error) { t.Errorf("the first ended with %v", err) })
	ended := ""
	s.Start("second", func(context.Context, func(jobs.Progress)) error { return nil }, func(error) {
		ended = "second"
		s.Start("third", func(context.Context, func(jobs.Progress)) error { return nil }, func(error) { ended = "third" })
	})
	if j, _ := s.Now(); j.Title != "second" {
		t.Errorf("under way is %q, want the second", j.Title)
	}
	m.until(t, "the third", func() bool { return ended == "third" })
	m.rest(t, s)
}

func TestProgress(t *testing.T) {
	t.Parallel()
	m, s := newSlot()
	var seen []jobs.Progress
	ended := false
	s.OnChange(func() {
		if j, ok := s.Now(); ok {
			seen = append(seen, j.Progress)
		}
	})
	const rows = 10000
	s.Start("Opening", func(_ context.Context, tell func(jobs.Progress)) error {
		tell(jobs.Progress{Stage: "read"})
		for i := range int64(rows) {
			tell(jobs.Progress{Stage: "rows", Done: i + 1, Total: rows})
		}
		return nil
	}, func(error) { ended = true })
	m.until(t, "the end", func() bool { return ended })
	last := seen[len(seen)-1]
	if last.Stage != "rows" || last.Done != rows {
		t.Errorf("the last progress is %+v, want all rows", last)
	}
	if len(seen) > rows/10 {
		t.Errorf("%d changes for %d rows: far more than a person can follow", len(seen), rows)
	}
}

func TestShare(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		p     jobs.Progress
		want  float64
		known bool
	}{
		{jobs.Progress{}, 0, false},
		{jobs.Progress{Done: 5}, 0, false},
		{jobs.Progress{Done: 5, Total: 20}, 0.25, true},
		{jobs.Progress{Done: 30, Total: 20}, 1, true},
		{jobs.Progress{Done: -1, Total: 20}, 0, true},
	} {
		if got, known := c.p.Share(); got != c.want || known != c.known {
			t.Errorf("%+v: %v, %v, want %v, %v", c.p, got, known, c.want, c.known)
		}
	}
}

func TestWaitGivesUp(t *testing.T) {
	t.Parallel()
	_, s := newSlot()
	s.Start("Export", held, func(error) {})
	if s.Wait(time.Millisecond) {
		t.Error("Wait reports that the work returned, but it was never cancelled")
	}
	s.Cancel()
	if !s.Wait(patience) {
		t.Error("the cancelled work did not return")
	}
}

// TestRandomActs starts and cancels at random, and compares the slot with what was
// meant last: only the latest job may end, and only if it was not cancelled.
func TestRandomActs(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewPCG(14, 1))
	m, s := newSlot()
	latest, ended := 0, 0 // latest 0: cancelled or ended
	ends := false         // the latest ends without being cancelled
	for n := 1; n <= 400; n++ {
		switch rnd.IntN(4) {
		case 0:
			if got, want := s.Cancel(), latest != 0; got != want {
				t.Fatalf("act %d: Cancel reports %v, want %v", n, got, want)
			}
			latest, ends = 0, false
		case 1:
			if ends && rnd.IntN(2) == 0 {
				m.until(t, "the end of the latest", func() bool { return latest == 0 })
			}
		default:
			quick := rnd.IntN(2) == 0
			ends = quick
			s.Start(fmt.Sprint(n), func(ctx context.Context, tell func(jobs.Progress)) error {
				tell(jobs.Progress{Stage: fmt.Sprint(n), Done: 1, Total: 1})
				if !quick {
					<-ctx.Done()
				}
				return nil
			}, func(error) {
				if n != latest {
					t.Errorf("job %d ended, but the latest is %d", n, latest)
				}
				latest, ends, ended = 0, false, ended+1
			})
			latest = n
		}
		if j, ok := s.Now(); ok != (latest != 0) || ok && j.Title != fmt.Sprint(latest) {
			t.Fatalf("act %d: under way is %q, %v, want %d", n, j.Title, ok, latest)
		}
	}
	s.Cancel()
	m.rest(t, s)
	if ended == 0 {
		t.Error("no job ended: the test tries nothing")
	}
}
