package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"legwright/cmd/internal/xdisplay"
)

// startFigures compares the starts of the bench with those of an empty window, and subtracts
// the empty window's memory from the bench's.
func startFigures(ctx context.Context, m *measuring) {
	display, err := xdisplay.Start(ctx, 1400, 900)
	if err != nil {
		m.err = err
		return
	}
	defer display.Close()
	memory := map[string][]float64{}
	m.starts("start", func() error { return os.RemoveAll(m.home()) }, func(arg string) (float64, error) {
		var out bytes.Buffer
		s, err := m.start(ctx, display, &out, arg)
		var window said
		if err == nil {
			err = json.Unmarshal(out.Bytes(), &window)
		}
		memory[arg] = append(memory[arg], window.NowMB)
		return s, err
	})
	if m.err == nil {
		m.put("start_memory", median(memory["-demo"][firstStarts:])-median(memory["-empty"][firstStarts:]))
	}
}

// firstStarts is how often a window starts for the first time, and laterStarts how often after
// that. The first of each is not counted.
const firstStarts, laterStarts = 4, 6

// starts compares the first starts of the bench, until the demo's sheet is sharp, and later
// ones with the starts of an empty window. forget deletes settings and store, which a first
// start has not; the disk's cache is warm at each.
func (m *measuring) starts(name string, forget func() error, start func(arg string) (float64, error)) {
	first := func(arg string) job {
		return func() (float64, error) {
			if err := forget(); err != nil {
				return 0, err
			}
			return start(arg)
		}
	}
	second := func(arg string) job { return func() (float64, error) { return start(arg) } }
	fmt.Fprintf(m.r.errw, "Starting the bench and an empty window, in turn, %d times each…\n", firstStarts+laterStarts)
	m.inTurn(1, first("-demo"), first("-empty"))
	m.put(name+"_first", m.inTurn(firstStarts-1, first("-demo"), first("-empty"))...)
	m.inTurn(1, second("-demo"), second("-empty"))
	m.put(name+"_second", m.inTurn(laterStarts-1, second("-demo"), second("-empty"))...)
}

// startUnderWine does the same with the bench for Windows.
func startUnderWine(ctx context.Context, m *measuring) {
	display, err := xdisplay.Start(ctx, 1400, 900)
	if err != nil {
		m.err = err
		return
	}
	defer display.Close()
	with, home := *m.r, filepath.Join(m.dir, "wine")
	state, window := filepath.Join(home, "state"), filepath.Join(home, "benchwindow.exe")
	with.env = append(display.Env(), "HOME="+home, "XDG_STATE_HOME="+windowsPath(state), "LEGWRIGHT_SIZE=1400x900", "FYNE_SCALE=1")
	w := &wine{runner: &with, dir: home}
	m.err = errors.Join(m.r.install(ctx, windowsPackages()), os.MkdirAll(home, 0o700), m.r.forWindows().do(ctx, "go", "build", "-trimpath", "-tags", buildTag, "-o", window, "./cmd/internal/benchwindow"))
	if m.err == nil {
		m.err = w.prepare(ctx)
	}
	if m.err != nil {
		return
	}
	defer w.end()
	m.starts("start_wine", w.forget, func(arg string) (float64, error) {
		cmd := exec.CommandContext(ctx, "wine", window, arg)
		cmd.Env = w.environment()
		if err := os.RemoveAll(state); err != nil { // see start
			return 0, err
		}
		began := time.Now() // no pipes: Wine's services would hold them open
		err := cmd.Run()
		return time.Since(began).Seconds(), err
	})
}

// forget deletes the program's settings and stored pictures.
func (w *wine) forget() error {
	var failed []error
	for _, name := range []string{"Roaming/fyne", "Roaming/legwright", "Local/legwright"} {
		found, err := filepath.Glob(filepath.Join(w.dir, "prefix/drive_c/users/*/AppData", name))
		failed = append(failed, err)
		for _, folder := range found {
			failed = append(failed, os.RemoveAll(folder))
		}
	}
	return errors.Join(failed...)
}
