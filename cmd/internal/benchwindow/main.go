// Command benchwindow opens the real bench and works it from within, so that
// its frames, its memory and its start can be measured. The task runner builds
// it with a patched loop of Fyne that notes each frame. It prints lines of JSON.
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	_ "legwright/cmd/internal/plainlocale"

	"legwright/app/ui"
)

// options are the flags. By default the program measures the frames of a drag, a
// pan and a zoom.
type options struct {
	empty, demo, open bool
	act               string
	hold, wander      time.Duration
	frames            int
	sheets            []string // a picture; none means the demo
}

// line is one printed line: about a scenario, an opening or the memory.
type line struct {
	Name                        string
	FramesMs, BusyMs            []float64 `json:",omitempty"`
	AllocsAStep, LongestPauseMs float64
	SharpMs                     float64 // from the standing window to the sharp sheet
	PeakMB, NowMB               float64 // resident memory: the most until now, and now
}

func main() {
	var o options
	flag.BoolVar(&o.empty, "empty", false, "open an empty window and quit after its first frames")
	flag.DurationVar(&o.hold, "hold", 50*time.Millisecond, "how long the empty window stands")
	flag.BoolVar(&o.demo, "demo", false, "open the bench on the demo and quit when its sheet is shown sharp")
	flag.BoolVar(&o.open, "open", false, "open the sheet and quit when every level is ready")
	flag.StringVar(&o.act, "act", "", "measure the frames of this act by keys and dial on the demo")
	flag.DurationVar(&o.wander, "wander", 0, "move over the sheet for so long")
	flag.IntVar(&o.frames, "frames", 2000, "steps of each scenario")
	flag.Parse()
	o.sheets = flag.Args()
	if o.empty {
		emptyWindow(o.hold)
		return
	}
	if len(o.sheets) == 0 {
		o.sheets = []string{ui.DemoArgument}
	}
	must(ui.RunWith(o.sheets, func(b *ui.Bench) {
		o.work(b)
		fyne.Do(b.Quit)
	}))
}

func (o options) work(b *ui.Bench) {
	stands := time.Now()
	waitSharp(b)
	switch {
	case o.open:
		l := line{Name: "open", SharpMs: time.Since(stands).Seconds() * 1000}
		var whole func() error
		alive.doing("the picture, to be read as a whole")
		fyne.DoAndWait(func() { whole = b.Pyramid().WaitWhole })
		must(whole())
		tell(l)
	case o.wander > 0:
		alive.doing("the main thread, while it moves over the sheet")
		wander(b, o.wander)
		tell(line{Name: "settled"})
	case o.demo:
		// Wait until the sharp sheet is painted. The toolkit reports no frames: it
		// paints changes at its next tick, sixty a second.
		time.Sleep(time.Second / 60)
		time.Sleep(time.Second / 60)
		fyne.DoAndWait(func() {})
		tell(line{Name: "demo"})
	case o.act != "":
		act(b, o)
	default:
		script(b, o)
	}
}

// emptyWindow is the peer for start and memory: an empty window of the same size.
func emptyWindow(hold time.Duration) {
	a := app.NewWithID("legwright.empty")
	w := a.NewWindow("Legwright")
	w.Resize(fyne.NewSize(1400, 900))
	a.Lifecycle().SetOnStarted(func() {
		go func() {
			time.Sleep(hold)
			tell(line{Name: "empty"})
			fyne.Do(a.Quit)
		}()
	})
	ui.ShowAndRun(a, w)
}

// tell prints one line, with the resident memory that Linux gives in
// /proc/self/status; elsewhere it is 0.
func tell(l line) {
	status, _ := os.ReadFile("/proc/self/status")
	for text := range strings.Lines(string(status)) {
		f := append(strings.Fields(text), "", "")
		kib, _ := strconv.ParseFloat(f[1], 64)
		switch f[0] {
		case "VmHWM:":
			l.PeakMB = kib * 1024 / 1e6
		case "VmRSS:":
			l.NowMB = kib * 1024 / 1e6
		}
	}
	must(json.NewEncoder(os.Stdout).Encode(l))
}

// must ends the program if it cannot measure.
func must(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, "benchwindow:", err)
		os.Exit(1)
	}
}

// watch ends a program that has stood still for patience, and says what it waited for.
type watch struct {
	timer *time.Timer
	what  atomic.Value
}

const patience = 2 * time.Minute

var alive watch

// doing says what the program waits for from now on.
func (w *watch) doing(what string) {
	w.what.Store(what)
	w.step()
}

// step says that the program has gone on.
func (w *watch) step() {
	if w.timer == nil {
		w.timer = time.AfterFunc(patience, func() { must(fmt.Errorf("waited %v in vain for %v", patience, w.what.Load())) })
	}
	w.timer.Reset(patience)
}

// waitSharp waits until the sheet is shown at its own level.
func waitSharp(b *ui.Bench) {
	alive.doing("the sharp sheet")
	for range 2 * 60 * 200 {
		sharp := false
		fyne.DoAndWait(func() { sharp = !b.Sheet().View().IsZero() && b.Sheet().Missing() == 0 })
		if sharp {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	must(errors.New("the sheet did not get sharp within two minutes"))
}
