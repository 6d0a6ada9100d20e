package pyramid

import (
	"context"
	"errors"
	"image"
	"os"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
)

// tap is a picture whose rows come when they are asked for. It ends with err
// at a row, and paints over what is released.
type tap struct {
	img     *image.YCbCr
	end     int // row from which it gives err; 0 for never
	err     error
	freed   int
	asked   []int
	atEnd   func()
	nothing bool // nothing is painted over
}

func (s *tap) Await(ctx context.Context, rows int) error {
	s.asked = append(s.asked, rows)
	if s.atEnd != nil && rows >= s.end {
		s.atEnd()
	}
	if s.err != nil && rows >= s.end {
		return s.err
	}
	return context.Cause(ctx)
}

func (s *tap) Release(rows int) {
	if s.nothing {
		return
	}
	clear(s.img.Y[s.freed*s.img.YStride : rows*s.img.YStride])
	s.freed = rows
}

// flowed is the picture of the tests here and what its levels are, made once: most of
// their time went into it.
var flowed struct {
	once sync.Once
	img  *image.YCbCr
	want [][]uint8
}

// tapped is a picture to flow, with a pyramid that shows its preview.
func tapped(t *testing.T, s *Store, key byte, fault func(error)) (*tap, *Pyramid, [][]uint8) {
	t.Helper()
	flowed.once.Do(func() {
		flowed.img = smoothYCC(1300, 1700)
		memory := settled(t, New(flowed.img, Options{}))
		flowed.want = all(t, memory)
		memory.Close()
	})
	img := *flowed.img
	img.Y, img.Cb, img.Cr = slices.Clone(img.Y), slices.Clone(img.Cb), slices.Clone(img.Cr) // flowing clears it
	p := NewPending(image.Pt(1300, 1700), Options{Store: s, Key: [32]byte{key}, OnFault: fault})
	t.Cleanup(p.Close)
	p.Preview(3, smoothYCC(163, 213))
	return &tap{img: &img}, p, flowed.want
}

// TestFlow: a picture that flows gives the levels of one that is filled in,
// though each row is gone once it was released.
func TestFlow(t *testing.T) {
	t.Parallel()
	s := emptyStore(t)
	from, p, want := tapped(t, s, 1, noFault(t))
	if err := p.Flow(from.img, from); err != nil {
		t.Fatal(err)
	}
	settled(t, p)
	sameAll(t, "flowed", all(t, p), want)
	if !p.Stats().Stored || from.freed != 1700 || len(from.asked) != 4 || from.asked[3] != 1700 {
		t.Errorf("stored %v, released %d, awaited %v", p.Stats().Stored, from.freed, from.asked)
	}
	again, err := s.Open([32]byte{1}, Options{OnFault: noFault(t)})
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	sameAll(t, "opened again", all(t, again), want)
	if from.nothing = true; !errors.Is(p.Flow(from.img, from), ErrNoFlow) {
		t.Error("a second picture flows into a pyramid that has one")
	}
}

// TestFlowEndsEarly: when the rest does not come, nothing is stored, nothing
// is left behind, the preview stands, and Fill brings the picture.
func TestFlowEndsEarly(t *testing.T) {
	t.Parallel()
	for _, end := range []int{512, 1024, 1700} {
		s := emptyStore(t)
		from, p, want := tapped(t, s, 2, noFault(t))
		from.end, from.err, from.nothing = end, errors.New("the drive was pulled"), true
		if err := p.Flow(from.img, from); !errors.Is(err, from.err) {
			t.Fatalf("ended at %d: %v, want the error of the rows", end, err)
		}
		if left, _ := os.ReadDir(s.dir); len(left) > 0 || p.Ready(0) || !p.Ready(3) {
			t.Errorf("ended at %d: %d files left, level 0 ready %v, 3 %v", end, len(left), p.Ready(0), p.Ready(3))
		}
		p.Fill(from.img)
		settled(t, p)
		sameAll(t, "filled after all", all(t, p), want)
	}
}

// TestFlowKnown: a picture that the store has is shown from there before its
// first row has come, the rows are discarded, and their faults are reported.
func TestFlowKnown(t *testing.T) {
	t.Parallel()
	s := emptyStore(t)
	first, p, want := tapped(t, s, 3, noFault(t))
	if err := p.Flow(first.img, first); err != nil {
		t.Fatal(err)
	}
	for _, fault := range []error{nil, errors.New("cut off")} {
		from, again, _ := tapped(t, s, 3, noFault(t))
		clear(from.img.Y) // nothing of it may be taken
		from.end, from.err = 1024, fault
		from.atEnd = func() {
			if !again.Ready(0) || !again.Stats().Stored {
				t.Error("it is not shown from the store")
			}
		}
		if err := again.Flow(from.img, from); !errors.Is(err, fault) {
			t.Errorf("got %v, want %v", err, fault)
		}
		settled(t, again)
		sameAll(t, "known", all(t, again), want)
		if freed := map[bool]int{true: 1700, false: 512}[fault == nil]; from.freed != freed {
			t.Errorf("released %d rows, want %d", from.freed, freed)
		}
	}
}

// TestFlowRefuses: without a store, without a preview, with another size, with
// a picture already, and when closed, it is Fill's.
func TestFlowRefuses(t *testing.T) {
	t.Parallel()
	s := emptyStore(t)
	from, p, _ := tapped(t, s, 3, noFault(t))
	if err := p.Flow(from.img, from); err != nil {
		t.Fatal(err)
	}
	_, none, _ := tapped(t, nil, 3, noFault(t))
	_, closed, _ := tapped(t, s, 4, noFault(t))
	closed.Close()
	bare := NewPending(image.Pt(1300, 1700), Options{Store: s, Key: [32]byte{5}})
	defer bare.Close()
	small := NewPending(image.Pt(13, 17), Options{Store: s, Key: [32]byte{5}})
	defer small.Close()
	for name, p := range map[string]*Pyramid{"no store": none, "twice": p, "closed": closed, "no preview": bare, "size": small} {
		again, _, _ := tapped(t, s, 6, noFault(t))
		if err := p.Flow(again.img, again); !errors.Is(err, ErrNoFlow) || len(again.asked) > 0 {
			t.Errorf("%s: %v, awaited %v, want a refusal", name, err, again.asked)
		}
	}
}

// TestFlowClosed: who closes the pyramid in the midst of it does not wait for
// rows that never come.
func TestFlowClosed(t *testing.T) {
	t.Parallel()
	from, p, _ := tapped(t, emptyStore(t), 7, noFault(t))
	from.end, from.atEnd = 1024, func() {
		go p.Close()
		<-p.ctx.Done()
	}
	if err := p.Flow(from.img, from); err == nil {
		t.Error("a picture flows into a pyramid that is closed")
	}
}

// TestFlowFullDisk: Fill reports a full disk, not what was tried
// before.
func TestFlowFullDisk(t *testing.T) {
	t.Parallel()
	s := emptyStore(t)
	s.create = func(dir, pattern string) (blob, string, error) {
		f, name, err := createFile(dir, pattern)
		left := &atomic.Int64{}
		left.Store(1 << 20)
		return shortBlob{f, left}, name, err
	}
	var told atomic.Int32
	from, p, want := tapped(t, s, 8, func(error) { told.Add(1) })
	from.nothing = true
	if err := p.Flow(from.img, from); err == nil || told.Load() > 0 {
		t.Fatalf("%v, told %d times, want an error and no word", err, told.Load())
	}
	p.Fill(from.img)
	settled(t, p)
	sameAll(t, "in memory", all(t, p), want)
	if told.Load() != 1 || p.Stats().Stored {
		t.Errorf("told %d times of the full disk, stored %v", told.Load(), p.Stats().Stored)
	}
}

// TestFlowBreaksDown: where taking the picture breaks down nothing is left
// behind, and Fill brings it.
func TestFlowBreaksDown(t *testing.T) {
	t.Parallel()
	s := emptyStore(t)
	from, p, want := tapped(t, s, 9, noFault(t))
	from.nothing, from.end, from.atEnd = true, 1024, func() { panic("the source") }
	func() {
		defer func() {
			if recover() == nil {
				t.Error("the panic was swallowed")
			}
		}()
		_ = p.Flow(from.img, from)
	}()
	if left, _ := os.ReadDir(s.dir); len(left) > 0 {
		t.Errorf("%d files left", len(left))
	}
	p.Fill(from.img)
	settled(t, p)
	sameAll(t, "filled after all", all(t, p), want)
}

// TestStoringNamesTheCause: the message names the cause without the name of a file in the
// store.
func TestStoringNamesTheCause(t *testing.T) {
	t.Parallel()
	s := emptyStore(t)
	s.create = func(dir, pattern string) (blob, string, error) {
		f, name, err := createFile(dir, pattern)
		if err == nil {
			err = f.Close() // every write fails, and names the file
		}
		return f, name, err
	}
	said := make(chan error, 1)
	p := New(smoothYCC(600, 700), Options{Store: s, Key: [32]byte{1}, OnFault: func(err error) { said <- err }})
	defer p.Close()
	if err := <-said; !errors.Is(err, os.ErrClosed) || strings.Contains(err.Error(), s.dir) {
		t.Errorf("got %q, want the cause without the file's name", err)
	}
}
