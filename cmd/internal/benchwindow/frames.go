package main

import (
	"expvar"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime/debug"
	"runtime/metrics"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/ui"
	"legwright/canvas/view"
)

// script runs the three scenarios with 200 legs on the sheet: on the demo at
// twice its fitted size, on a sheet that was named at its own size.
func script(b *ui.Bench, o options) {
	named := len(o.sheets) > 0
	fyne.DoAndWait(func() {
		if named {
			calibrate(b)
			b.Sheet().OneToOne()
		} else {
			b.Sheet().ZoomBy(2)
		}
	})
	time.Sleep(time.Second)
	waitSharp(b)
	fyne.DoAndWait(func() { addLegs(b, 200) })
	time.Sleep(time.Second)
	m := b.Sheet()
	mid := fyne.NewPos(m.Size().Width/2, m.Size().Height/2)
	scenario("drag", o.frames, newDrag(b, desktop.MouseButtonPrimary, mid))
	fyne.DoAndWait(func() { m.Cancel() })
	scenario("pan", o.frames, newDrag(b, desktop.MouseButtonTertiary, mid))
	fyne.DoAndWait(func() {
		m.MouseUp(&desktop.MouseEvent{PointEvent: at(b, mid), Button: desktop.MouseButtonTertiary})
	})
	if !named {
		scenario("zoom", o.frames, newZoom(b))
		return
	}
	// Three notches each way about pixel for pixel, where a small sheet fills the window as
	// a big one does.
	scenario("zoom", o.frames, func(i int) {
		dy := float32(25)
		if turn := i % 12; turn < 3 || turn >= 9 {
			dy = -25
		}
		wheel(b, mid, dy)
	})
}

// newZoom returns steps that zoom in by twelve notches and out by twelve.
func newZoom(b *ui.Bench) func(int) {
	mid := fyne.NewPos(b.Sheet().Size().Width/2, b.Sheet().Size().Height/2)
	return func(i int) {
		dy := float32(25)
		if (i/12)%2 == 1 {
			dy = -25
		}
		wheel(b, mid, dy)
	}
}

// scenario warms up, then makes one step a frame and prints the frames.
func scenario(name string, frames int, step func(i int)) {
	const warm = 100
	noted(name, frames, warm, time.Second/60, step)
}

// noted makes steps, of which the first only warm up, with a pause after each, and prints
// the frames.
func noted(name string, frames, warm int, pause time.Duration, step func(i int)) {
	var allocs uint64
	var gc debug.GCStats
	alive.doing("the main thread, in the scenario " + name)
	for i := range frames + warm {
		alive.step()
		if i == warm {
			takeFrames()
			debug.ReadGCStats(&gc)
			allocs = allocated()
		}
		fyne.DoAndWait(func() { step(i) })
		time.Sleep(pause)
	}
	l := line{Name: name, AllocsAStep: float64(allocated()-allocs) / float64(frames)}
	for _, f := range takeFrames() {
		l.FramesMs, l.BusyMs = append(l.FramesMs, f[0]), append(l.BusyMs, f[1])
	}
	before := gc.NumGC
	debug.ReadGCStats(&gc)
	if n := min(int(gc.NumGC-before), len(gc.Pause)); n > 0 { // the latest come first
		l.LongestPauseMs = slices.Max(gc.Pause[:n]).Seconds() * 1000
	}
	tell(l)
}

// takeFrames returns the frames since it was last called, in milliseconds of time and
// of the main thread's processor; none in a program built with Fyne's own loop.
func takeFrames() (list [][2]float64) {
	fyne.DoAndWait(func() {
		if f, ok := expvar.Get("legwright.frames").(expvar.Func); ok {
			list, _ = f().([][2]float64)
		}
	})
	return list
}

// allocated returns the number of objects allocated so far.
func allocated() uint64 {
	s := []metrics.Sample{{Name: "/gc/heap/allocs:objects"}}
	metrics.Read(s)
	return s[0].Value.Uint64()
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
		b.Sheet().Dragged(&fyne.DragEvent{PointEvent: at(b, next), Dragged: fyne.NewDelta(next.X-last.X, next.Y-last.Y)})
		last = next
	}
}

func wheel(b *ui.Bench, pos fyne.Position, dy float32) {
	b.Sheet().Scrolled(&fyne.ScrollEvent{PointEvent: at(b, pos), Scrolled: fyne.NewDelta(0, dy)})
}

// at is a pointer event at a position of the sheet.
func at(b *ui.Bench, p fyne.Position) fyne.PointEvent {
	origin := fyne.CurrentApp().Driver().AbsolutePositionForObject(b.Sheet())
	return fyne.PointEvent{Position: p, AbsolutePosition: origin.Add(p)}
}

// calibrate lays the sheet on a grid: its lower left corner at E 220,000
// N 740,000, half a metre a pixel.
func calibrate(b *ui.Bench) {
	p := *b.Session().Plan()
	sheet := p.Sheets[0]
	sheet.Code, sheet.Points = geodesy.EPSG(27700), nil
	w, h := float64(sheet.Width), float64(sheet.Height)
	for _, c := range [][2]float64{{0, 0}, {w, 0}, {0, h}, {w, h}} {
		ref := geodesy.Grid{E: 220000 + c[0]/2, N: 740000 + (h-c[1])/2}
		sheet.Points = append(sheet.Points, calib.ControlPoint{
			At: calib.PicturePt{Col: c[0], Row: c[1]}, Ref: ref, Text: fmt.Sprintf("%.0f %.0f", ref.E, ref.N),
		})
	}
	must(b.Session().Use(p.SetSheet(sheet)))
}

// addLegs adds n legs, each some 30 screen pixels long, to the visible part of the
// sheet.
func addLegs(b *ui.Bench, n int) {
	c, err := b.Session().Calibration()
	must(err)
	v := b.Sheet().View()
	w, h := v.Viewport()
	p := *b.Session().Plan()
	end := func(x, y float64) plan.End {
		at := v.ToPicture(view.ScreenPt{X: x, Y: y})
		return plan.AtPosition(plan.ImportedAt(p.Sheets[0].Code, c.ToGrid(calib.PicturePt{Col: at.X, Row: at.Y}), 5))
	}
	p.Legs = nil
	for i := range n {
		x := float64(w) * (0.1 + 0.8*float64(i%20)/20)
		y := float64(h) * (0.1 + 0.8*float64(i/20)/float64(n/20))
		p.Legs = append(p.Legs, plan.Leg{
			ID: plan.ID(fmt.Sprintf("bench-%d", i)), From: end(x, y), To: end(x+28, y+20*math.Sin(float64(i))),
		})
	}
	must(b.Session().Use(&p))
}

// wander moves over the sheet like a person who looks for something, and then rests
// for fifteen seconds.
func wander(b *ui.Bench, long time.Duration) {
	m, dice := b.Sheet(), rand.New(rand.NewPCG(1, 7))
	step := func(n int, f func()) {
		for range n {
			alive.step()
			fyne.DoAndWait(f)
			time.Sleep(time.Second / 60)
		}
	}
	x, y := m.View().Picture()
	spot := func() view.PicPt {
		return view.PicPt{X: float64(x) * dice.Float64(), Y: float64(y) * dice.Float64()}
	}
	for began := time.Now(); time.Since(began) < long; step(30, func() {}) {
		switch dice.IntN(8) {
		case 0, 1, 2: // a glide
			dx, dy := 40*(dice.Float64()-0.5), 40*(dice.Float64()-0.5)
			step(60, func() { m.PanBy(dx, dy) })
		case 3: // nearer or farther somewhere
			dy := []float32{25, -25}[dice.IntN(2)]
			pos := fyne.NewPos(m.Size().Width*dice.Float32(), m.Size().Height*dice.Float32())
			step(3+dice.IntN(8), func() { wheel(b, pos, dy) })
		case 4:
			step(1, func() { m.CenterOn(spot()); m.OneToOne() })
		case 5:
			from, side := spot(), 500+3000*dice.Float64()
			step(1, func() {
				m.ShowRect(view.Rect{Min: from, Max: view.PicPt{X: from.X + side, Y: from.Y + side}})
			})
		case 6:
			step(1, m.Fit)
		case 7: // turned for a while
			angle := 0.1 * (dice.Float64() - 0.5)
			step(1, func() { m.RotateTo(angle) })
			step(60, func() { m.PanBy(6, 4) })
			step(1, func() { m.RotateTo(0) })
		}
	}
	time.Sleep(15 * time.Second)
}
