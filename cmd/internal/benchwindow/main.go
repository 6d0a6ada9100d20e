// Command benchwindow opens the real bench and drives it by script, so that
// the frames of a drag, a pan and a zoom can be timed. The task runner builds
// it with a patched copy of Fyne's loop that notes each frame. It prints one
// line of JSON a scenario, and with --empty opens an empty window instead.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"runtime/pprof"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/ui"
	_ "legwright/cmd/internal/plainlocale"
)

// span is one scenario: when it ran, in nanoseconds of the system's clock.
type span struct {
	Name   string
	FromNs int64
	ToNs   int64
}

func main() {
	empty := flag.Bool("empty", false, "open an empty window and quit after its first frames")
	demo := flag.Bool("demo", false, "open the bench on the demo and quit when its sheet is sharp")
	frames := flag.Int("frames", 2000, "steps of each scenario")
	profile := flag.String("profile", "", "write a CPU profile of the scenarios to this file")
	only := flag.String("only", "", "run one scenario: drag, pan or zoom")
	flag.Parse()
	if *empty {
		emptyWindow()
		return
	}
	err := ui.RunWith("bench", nil, func(b *ui.Bench) {
		waitSharp(b)
		if !*demo {
			stop := profiling(*profile)
			script(b, *frames, *only)
			stop()
		}
		fyne.Do(b.Quit)
	})
	if err != nil {
		fmt.Fprintln(os.Stderr, "benchwindow:", err)
		os.Exit(1)
	}
}

// emptyWindow is the peer of the start: a window of the same size with
// nothing in it.
func emptyWindow() {
	a := app.NewWithID("legwright.empty")
	w := a.NewWindow("Legwright")
	w.Resize(fyne.NewSize(1400, 900))
	a.Lifecycle().SetOnStarted(func() {
		go func() {
			time.Sleep(50 * time.Millisecond) // the first frames
			fyne.Do(a.Quit)
		}()
	})
	w.ShowAndRun()
}

// waitSharp waits until the sheet is shown at its own level.
func waitSharp(b *ui.Bench) {
	for until := time.Now().Add(time.Minute); time.Now().Before(until); time.Sleep(5 * time.Millisecond) {
		sharp := false
		fyne.DoAndWait(func() { sharp = !b.Sheet().View().IsZero() && b.Sheet().Missing() == 0 })
		if sharp {
			return
		}
	}
	fmt.Fprintln(os.Stderr, "benchwindow: the sheet did not get sharp")
	os.Exit(1)
}

// script runs the three scenarios with 200 legs on the sheet.
func script(b *ui.Bench, frames int, only string) {
	fyne.DoAndWait(func() { addLegs(b, 200) })
	size := b.Sheet().Size()
	mid := fyne.NewPos(size.Width/2, size.Height/2)
	fyne.DoAndWait(func() { b.Sheet().ZoomBy(2) })
	time.Sleep(time.Second)
	if only == "" || only == "drag" {
		scenario(b, "drag", frames, newDrag(b, desktop.MouseButtonPrimary, mid))
		fyne.DoAndWait(func() { b.Sheet().Cancel() })
	}
	if only == "" || only == "pan" {
		scenario(b, "pan", frames, newDrag(b, desktop.MouseButtonTertiary, mid))
	}
	if only != "" && only != "zoom" {
		return
	}
	scenario(b, "zoom", frames, func(i int) {
		dy := float32(25)
		if (i/12)%2 == 1 { // twelve notches in, twelve out
			dy = -25
		}
		b.Sheet().Scrolled(&fyne.ScrollEvent{PointEvent: at(b, mid), Scrolled: fyne.NewDelta(0, dy)})
	})
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
		fmt.Fprintln(os.Stderr, "benchwindow:", err)
		os.Exit(1)
	}
	return func() {
		pprof.StopCPUProfile()
		f.Close()
	}
}

// scenario warms up, then makes one step a frame and prints when that was.
func scenario(b *ui.Bench, name string, frames int, step func(i int)) {
	const warm = 100
	var s span
	for i := range frames + warm {
		if i == warm {
			s = span{Name: name, FromNs: time.Now().UnixNano()}
		}
		fyne.DoAndWait(func() { step(i) })
		time.Sleep(time.Second / 60)
	}
	s.ToNs = time.Now().UnixNano()
	time.Sleep(300 * time.Millisecond)
	_ = json.NewEncoder(os.Stdout).Encode(s) // standard output
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

// at is a pointer event at a place of the sheet.
func at(b *ui.Bench, p fyne.Position) fyne.PointEvent {
	origin := fyne.CurrentApp().Driver().AbsolutePositionForObject(b.Sheet())
	return fyne.PointEvent{Position: p, AbsolutePosition: origin.Add(p)}
}

// addLegs brings n legs of some hundred metres onto the visible sheet.
func addLegs(b *ui.Bench, n int) {
	s := b.Session()
	c, err := s.Calibration()
	if err != nil {
		fmt.Fprintln(os.Stderr, "benchwindow:", err)
		os.Exit(1)
	}
	w, h := b.Sheet().View().Picture()
	p := *s.Plan()
	for i := range n {
		x := float64(w) * (0.2 + 0.6*float64(i%20)/20)
		y := float64(h) * (0.2 + 0.6*float64(i/20)/10)
		from, to := c.ToGrid(picture(x, y)), c.ToGrid(picture(x+90, y+60*math.Sin(float64(i))))
		p.Legs = append(p.Legs, plan.Leg{
			ID:   plan.ID(fmt.Sprintf("bench-%d", i)),
			From: end(p.Sheets[0].EPSG, from), To: end(p.Sheets[0].EPSG, to),
		})
	}
	if err := s.Use(&p); err != nil {
		fmt.Fprintln(os.Stderr, "benchwindow:", err)
		os.Exit(1)
	}
}

func end(epsg int, g geodesy.Grid) plan.End { return plan.AtPosition(plan.ImportedAt(epsg, g, 5)) }

func picture(x, y float64) calib.PicturePt { return calib.PicturePt{Col: x, Row: y} }
