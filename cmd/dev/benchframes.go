package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// Fyne has no public hook around the swap of its buffers, in which a software
// renderer spends most of a frame. So the scripted window is compiled with a
// patched loop of Fyne, which measures the main thread's work for each frame
// without the swap.

// frameHooks is the file added to Fyne's package. The scripted window takes the
// frames since it last asked, in milliseconds, on the main thread: the time that each
// took, and how much of it the main thread had a processor.
const frameHooks = `package glfw

import (
	"expvar"
	"time"

	"golang.org/x/sys/unix"
)

// benchClocks are the time and the main thread's processor time, in milliseconds.
type benchClocks [2]float64

var (
	benchStart, benchAt, benchSwapAt, benchWork = time.Now(), benchClocks{}, benchClocks{}, benchClocks{}

	benchSwapped bool
	benchFrames  [][2]float64
)

func benchNow() benchClocks {
	var t unix.Timespec
	_ = unix.ClockGettime(unix.CLOCK_THREAD_CPUTIME_ID, &t)
	return benchClocks{time.Since(benchStart).Seconds() * 1000, float64(t.Nano()) / 1e6}
}

func (c *benchClocks) add(since benchClocks, sign float64) {
	for i, now := range benchNow() {
		c[i] += sign * (now - since[i])
	}
}

func init() {
	expvar.Publish("legwright.frames", expvar.Func(func() any {
		list := benchFrames
		benchFrames = nil
		return list
	}))
}

func benchBegin()     { benchAt = benchNow() }
func benchEnd()       { benchWork.add(benchAt, 1) }
func benchSwapBegin() { benchSwapAt = benchNow() }
func benchSwapEnd()   { benchWork.add(benchSwapAt, -1); benchSwapped = true }

func benchTick() {
	benchEnd()
	if benchSwapped {
		benchFrames = append(benchFrames, benchWork)
		benchWork, benchSwapped = benchClocks{}, false
	}
}
`

// loopEdits are the edits that add the hooks to Fyne's loop: old, new, old, new …
func loopEdits() []string {
	return []string{
		"\t\t\tf.f()\n\t\t\tif f.done", "\t\t\tbenchBegin()\n\t\t\tf.f()\n\t\t\tbenchEnd()\n\t\t\tif f.done",
		"\t\t\td.pollEvents()\n", "\t\t\tbenchBegin()\n\t\t\td.pollEvents()\n",
		"\t\t\td.drawSingleFrame()\n", "\t\t\td.drawSingleFrame()\n\t\t\tbenchTick()\n",
		"\t\tview.SwapBuffers()\n", "\t\tbenchSwapBegin()\n\t\tview.SwapBuffers()\n\t\tbenchSwapEnd()\n",
	}
}

// patch replaces texts. Each must occur in the source exactly once, so that another
// version of Fyne fails here and not in the figures.
func patch(source string, edits []string) (string, error) {
	for i := 0; i < len(edits); i += 2 {
		if n := strings.Count(source, edits[i]); n != 1 {
			return "", fmt.Errorf("the source of Fyne holds %d places like %q, want 1", n, edits[i])
		}
		source = strings.Replace(source, edits[i], edits[i+1], 1)
	}
	return source, nil
}

// patched copies Fyne with the hooks and returns the flag to build with it. The
// copy has a folder of its own in the user's cache, so that it is compiled once
// for many runs.
func (m *measuring) patched(ctx context.Context) (flag string) {
	from, err := m.r.capture(ctx, "go", "list", "-m", "-f", "{{.Dir}}", "fyne.io/fyne/v2")
	cache, errCache := os.UserCacheDir()
	fyne, mod := filepath.Join(cache, "legwright-bench", "fyne"), filepath.Join(m.dir, "bench.mod")
	if m.err = errors.Join(m.err, err, errCache); m.err != nil {
		return ""
	}
	glfw := filepath.Join(fyne, "internal", "driver", "glfw")
	m.err = errors.Join(os.RemoveAll(fyne), os.CopyFS(fyne, os.DirFS(strings.TrimSpace(from))),
		edited(filepath.Join(glfw, "loop.go"), filepath.Join(glfw, "loop.go"), loopEdits()...),
		os.WriteFile(filepath.Join(glfw, "benchhooks.go"), []byte(frameHooks), 0o600),
		edited(filepath.Join(m.r.root, "go.sum"), filepath.Join(m.dir, "bench.sum")),
		edited(filepath.Join(m.r.root, "go.mod"), mod), m.r.do(ctx, "go", "mod", "edit", "-replace=fyne.io/fyne/v2="+fyne, mod))
	return "-modfile=" + mod
}

// edited copies a file with some of its texts replaced.
func edited(from, to string, edits ...string) error {
	source, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	text, err := patch(string(source), edits)
	return errors.Join(err, os.WriteFile(to, []byte(text), 0o600))
}
