// Command benchwindow opens the real bench and works it from within, so that
// its frames, its memory and its patience can be measured. The task runner
// builds it with a patched copy of Fyne that notes each frame and counts
// textures. It prints lines of JSON.
//
// One of the modes is chosen by a flag; without one the frames of a drag, a
// pan and a zoom are made:
//
//	--empty           an empty window and nothing else
//	--demo            the demo, until its sheet is shown sharp
//	--open            a sheet, until all of it is ready: times and memory
//	--wander MINUTES  moves over a sheet: memory each second
//	--monkey SECONDS  random acts over several sheets
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	"legwright/app/ui"
	"legwright/cmd/internal/memory"
	_ "legwright/cmd/internal/plainlocale"
)

// options are the flags.
type options struct {
	empty, demo, open bool
	hold              time.Duration
	wander            float64 // minutes
	monkey            float64 // seconds
	seed              uint64
	frames            int
	only, profile     string
	sheets            []string // pictures; none means the demo
}

func main() {
	began := time.Now()
	var o options
	flag.BoolVar(&o.empty, "empty", false, "open an empty window and quit after its first frames")
	flag.DurationVar(&o.hold, "hold", 50*time.Millisecond, "how long the empty window stands")
	flag.BoolVar(&o.demo, "demo", false, "open the bench on the demo and quit when its sheet is shown sharp")
	flag.BoolVar(&o.open, "open", false, "open the sheet and quit when every level is ready")
	flag.Float64Var(&o.wander, "wander", 0, "move over the sheet for so many minutes")
	flag.Float64Var(&o.monkey, "monkey", 0, "do things at random for so many seconds")
	flag.Uint64Var(&o.seed, "seed", 1, "seed of what is done at random")
	flag.IntVar(&o.frames, "frames", 2000, "steps of each scenario")
	flag.StringVar(&o.profile, "profile", "", "write a CPU profile of the scenarios to this file")
	flag.StringVar(&o.only, "only", "", "run one scenario: drag, pan or zoom")
	flag.Parse()
	o.sheets = flag.Args()
	if o.empty {
		emptyWindow(o.hold)
		return
	}
	if err := ui.RunWith("bench", first(o), func(b *ui.Bench) { o.work(b, began) }); err != nil {
		fail(err)
	}
}

// first is what the bench opens of itself.
func first(o options) []string {
	if len(o.sheets) == 0 || o.monkey > 0 {
		return nil
	}
	return o.sheets[:1]
}

// work does what was asked for and ends the program.
func (o options) work(b *ui.Bench, began time.Time) {
	switch {
	case o.monkey > 0:
		waitSharp(b)
		newMonkey(b, o).run(time.Duration(o.monkey * float64(time.Second)))
	case o.open:
		opening(b, began)
	case o.wander > 0:
		waitSharp(b)
		wander(b, time.Duration(o.wander*float64(time.Minute)), o.seed)
	case o.demo:
		waitShown(b)
	default:
		waitSharp(b)
		stop := profiling(o.profile)
		script(b, o)
		stop()
	}
	fyne.Do(b.Quit)
}

// emptyWindow is the peer of the start and of the memory: a window of the
// same size with nothing in it.
func emptyWindow(hold time.Duration) {
	a := app.NewWithID("legwright.empty")
	w := a.NewWindow("Legwright")
	w.Resize(fyne.NewSize(1400, 900))
	a.Lifecycle().SetOnStarted(func() {
		go func() {
			time.Sleep(hold)
			tell(sample{Name: "empty", NowMB: memory.NowMB()})
			fyne.Do(a.Quit)
		}()
	})
	ui.ShowAndRun(a, w)
}

// tell prints one line.
func tell(line any) {
	if err := json.NewEncoder(os.Stdout).Encode(line); err != nil {
		fail(err)
	}
}

// fail ends the program: what it was to measure cannot be measured.
func fail(err error) {
	fmt.Fprintln(os.Stderr, "benchwindow:", err)
	os.Exit(1)
}
