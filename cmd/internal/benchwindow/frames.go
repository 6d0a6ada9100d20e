package main

import (
	"math"
	"os"
	"runtime/pprof"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/app/ui"
)

// span is one scenario: when it ran, in nanoseconds of the system's clock,
// and what it asked of the heap.
type span struct {
	Name   string
	FromNs int64
	ToNs   int64
	Steps  int
	heapUse
}

// legsOnScreen is how many legs the scenarios carry along.
const legsOnScreen = 200

// script runs the three scenarios with legs on the sheet: on the demo at
// twice its fitted size, on a sheet that was named at its own size.
func script(b *ui.Bench, o options) {
	if len(o.sheets) > 0 {
		fyne.DoAndWait(func() { calibrate(b) })
		fyne.DoAndWait(b.Sheet().OneToOne)
	} else {
		fyne.DoAndWait(func() { b.Sheet().ZoomBy(2) })
	}
	time.Sleep(time.Second)
	waitSharp(b)
	fyne.DoAndWait(func() { addLegs(b, legsOnScreen) })
	time.Sleep(time.Second)
	mid := middle(b)
	for _, s := range []struct {
		name string
		step func() func(int)
		end  func()
	}{
		{"drag", func() func(int) { return newDrag(b, desktop.MouseButtonPrimary, mid) }, func() { b.Sheet().Cancel() }},
		{"pan", func() func(int) { return newDrag(b, desktop.MouseButtonTertiary, mid) }, func() { release(b, mid) }},
		{"zoom", func() func(int) { return newZoom(b, mid, len(o.sheets) == 0) }, func() {}},
	} {
		if o.only == "" || o.only == s.name {
			scenario(s.name, o.frames, s.step())
			fyne.DoAndWait(s.end)
		}
	}
}

// newZoom returns steps of the wheel: on the demo twelve notches in and twelve
// out, on other sheets three each way about pixel for pixel, where a small
// sheet fills the window as a big one does.
func newZoom(b *ui.Bench, mid fyne.Position, demo bool) func(int) {
	return func(i int) {
		dy := float32(25)
		if out := (i/12)%2 == 1; demo && out {
			dy = -25
		}
		if turn := i % 12; !demo && (turn < 3 || turn >= 9) {
			dy = -25
		}
		wheel(b, mid, dy)
	}
}

func wheel(b *ui.Bench, pos fyne.Position, dy float32) {
	b.Sheet().Scrolled(&fyne.ScrollEvent{PointEvent: at(b, pos), Scrolled: fyne.NewDelta(0, dy)})
}

// profiling writes a CPU profile until it is stopped.
func profiling(file string) (stop func()) {
	if file == "" {
		return func() {}
	}
	f, err := os.Create(file)
	if err == nil {
		err = pprof.StartCPUProfile(f)
	}
	if err != nil {
		fail(err)
	}
	return func() {
		pprof.StopCPUProfile()
		f.Close()
	}
}

// scenario warms up, then makes one step a frame and prints when that was.
func scenario(name string, frames int, step func(i int)) {
	const warm = 100
	s := span{Name: name, Steps: frames}
	var before heapState
	for i := range frames + warm {
		if i == warm {
			before = readHeap()
			s.FromNs = time.Now().UnixNano()
		}
		fyne.DoAndWait(func() { step(i) })
		time.Sleep(time.Second / 60)
	}
	s.ToNs = time.Now().UnixNano()
	s.heapUse = readHeap().since(before, frames)
	time.Sleep(300 * time.Millisecond)
	tell(s)
}

// newDrag presses a button and returns steps that drag along a loop.
func newDrag(b *ui.Bench, button desktop.MouseButton, mid fyne.Position) func(int) {
	last := mid
	return func(i int) {
		if i == 0 {
			b.Sheet().MouseDown(&desktop.MouseEvent{PointEvent: at(b, mid), Button: button})
		}
		angle := float64(i) / 60
		next := fyne.NewPos(mid.X+float32(180*math.Sin(angle)), mid.Y+float32(140*math.Sin(1.7*angle)))
		b.Sheet().Dragged(&fyne.DragEvent{
			PointEvent: at(b, next),
			Dragged:    fyne.NewDelta(next.X-last.X, next.Y-last.Y),
		})
		last = next
	}
}

// release lets go of the middle button.
func release(b *ui.Bench, pos fyne.Position) {
	b.Sheet().MouseUp(&desktop.MouseEvent{PointEvent: at(b, pos), Button: desktop.MouseButtonTertiary})
}

// middle is the middle of the map area.
func middle(b *ui.Bench) fyne.Position {
	size := b.Sheet().Size()
	return fyne.NewPos(size.Width/2, size.Height/2)
}

// at is a pointer event at a place of the sheet.
func at(b *ui.Bench, p fyne.Position) fyne.PointEvent {
	origin := fyne.CurrentApp().Driver().AbsolutePositionForObject(b.Sheet())
	return fyne.PointEvent{Position: p, AbsolutePosition: origin.Add(p)}
}
