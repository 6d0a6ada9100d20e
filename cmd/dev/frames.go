package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// Fyne has no public hook around the swap of its buffers, and the swap is
// what a software renderer spends most of a frame in. So the bench program is
// built with a copy of Fyne's loop, patched at that moment from the module
// cache, that notes what the main thread did for each frame and leaves the
// swap out.

// framesEnv names the file to which the patched loop writes its frames.
const framesEnv = "LEGWRIGHT_FRAMES"

// frameHooks is the file added to Fyne's package: it sums the main thread's
// work between two frames and subtracts the swap.
const frameHooks = `package glfw

import (
	"fmt"
	"os"
	"time"
)

type benchFrame struct{ end, work int64 }

var (
	benchAt, benchSwapAt time.Time
	benchWork, benchSwap time.Duration
	benchSwapped         bool
	benchFrames          = make([]benchFrame, 0, 1<<16)
)

func benchBegin()     { benchAt = time.Now() }
func benchEnd()       { benchWork += time.Since(benchAt) }
func benchSwapBegin() { benchSwapAt = time.Now() }
func benchSwapEnd()   { benchSwap += time.Since(benchSwapAt); benchSwapped = true }

func benchTick() {
	benchEnd()
	if benchSwapped {
		benchFrames = append(benchFrames, benchFrame{time.Now().UnixNano(), int64(benchWork - benchSwap)})
		benchWork, benchSwap, benchSwapped = 0, 0, false
	}
}

func benchDump() {
	name := os.Getenv("LEGWRIGHT_FRAMES")
	if name == "" {
		return
	}
	f, err := os.Create(name)
	if err != nil {
		return
	}
	defer f.Close()
	for _, b := range benchFrames {
		fmt.Fprintln(f, b.end, b.work)
	}
}
`

// patchLoop puts the hooks into Fyne's loop. Each place must be found exactly
// once, so that another version of Fyne fails here and not in the figures.
func patchLoop(source string) (string, error) {
	return patch(source, []edit{
		{"\t\t\tf.f()\n\t\t\tif f.done", "\t\t\tbenchBegin()\n\t\t\tf.f()\n\t\t\tbenchEnd()\n\t\t\tif f.done"},
		{"\t\t\td.pollEvents()\n", "\t\t\tbenchBegin()\n\t\t\td.pollEvents()\n"},
		{"\t\t\td.drawSingleFrame()\n", "\t\t\td.drawSingleFrame()\n\t\t\tbenchTick()\n"},
		{"\t\tview.SwapBuffers()\n", "\t\tbenchSwapBegin()\n\t\tview.SwapBuffers()\n\t\tbenchSwapEnd()\n"},
		{"\t\t\teventTick.Stop()\n", "\t\t\teventTick.Stop()\n\t\t\tbenchDump()\n"},
	})
}

// textureHooks is the file added to the package of Fyne that talks to the
// graphics side: it counts textures there.
const textureHooks = `package gl

import "expvar"

var (
	benchTextures = expvar.NewInt("legwright.textures")
	benchUploads  = expvar.NewInt("legwright.uploads")
)
`

// patchTextures counts textures where they are made, filled and freed.
func patchTextures(source string) (string, error) {
	return patch(source, []edit{
		{"\tgl.GenTextures(1, &tex)\n", "\tgl.GenTextures(1, &tex)\n\tbenchTextures.Add(1)\n"},
		{"\tgl.DeleteTextures(1, &tex)\n", "\tgl.DeleteTextures(1, &tex)\n\tbenchTextures.Add(-1)\n"},
		{"\tgl.TexImage2D(\n", "\tbenchUploads.Add(1)\n\tgl.TexImage2D(\n"},
	})
}

// edit replaces a text that stands in a source once.
type edit struct{ old, with string }

func patch(source string, edits []edit) (string, error) {
	for _, p := range edits {
		if n := strings.Count(source, p.old); n != 1 {
			return "", fmt.Errorf("the source of Fyne holds %d places like %q, want 1", n, p.old)
		}
		source = strings.Replace(source, p.old, p.with, 1)
	}
	return source, nil
}

// patchedFyne copies Fyne's module into dir with the hooks and returns a
// go.mod that uses the copy, for go build -modfile. A copy that is there
// already is patched anew from the module cache.
func (r *runner) patchedFyne(ctx context.Context, dir string) (modfile string, err error) {
	from, err := r.capture(ctx, "go", "list", "-m", "-f", "{{.Dir}}", "fyne.io/fyne/v2")
	if err != nil {
		return "", err
	}
	from = strings.TrimSpace(from)
	copied := filepath.Join(dir, filepath.Base(from))
	if _, err := os.Stat(copied); err != nil {
		if err := os.CopyFS(copied, os.DirFS(from)); err != nil {
			return "", err
		}
	}
	for _, f := range []struct {
		folder, file, hooks string
		patch               func(string) (string, error)
	}{
		{"internal/driver/glfw", "loop.go", frameHooks, patchLoop},
		{"internal/painter/gl", "gl_core.go", textureHooks, patchTextures},
	} {
		source, err := os.ReadFile(filepath.Join(from, f.folder, f.file))
		if err != nil {
			return "", err
		}
		patched, err := f.patch(string(source))
		if err != nil {
			return "", err
		}
		if err := errors.Join(rewrite(filepath.Join(copied, f.folder, f.file), patched),
			rewrite(filepath.Join(copied, f.folder, "bench_hooks.go"), f.hooks)); err != nil {
			return "", err
		}
	}
	modfile = filepath.Join(dir, "bench.mod")
	return modfile, r.replacing(ctx, modfile, copied)
}

// replacing writes a copy of go.mod and go.sum in which Fyne is the copy.
func (r *runner) replacing(ctx context.Context, modfile, copied string) error {
	for _, c := range [][2]string{{"go.mod", modfile}, {"go.sum", strings.TrimSuffix(modfile, ".mod") + ".sum"}} {
		raw, err := os.ReadFile(filepath.Join(r.root, c[0]))
		if err != nil {
			return err
		}
		if err := os.WriteFile(c[1], raw, 0o644); err != nil {
			return err
		}
	}
	return r.do(ctx, "go", "mod", "edit", "-replace", "fyne.io/fyne/v2="+copied, modfile)
}

// rewrite puts a text in the place of a file of the module cache's copy, which
// cannot be written into.
func rewrite(name, text string) error {
	if old, err := os.ReadFile(name); err == nil && string(old) == text {
		return nil // the build's cache stays warm
	}
	if err := os.Remove(name); err != nil && !os.IsNotExist(err) {
		return err
	}
	return os.WriteFile(name, []byte(text), 0o644)
}

// frame is one painted frame: when it ended, and the main thread's work for
// it in nanoseconds.
type frame struct{ endNs, workNs int64 }

func readFrames(name string) ([]frame, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var out []frame
	for lines := bufio.NewScanner(f); lines.Scan(); {
		end, work, _ := strings.Cut(lines.Text(), " ")
		e, err1 := strconv.ParseInt(end, 10, 64)
		w, err2 := strconv.ParseInt(work, 10, 64)
		if err1 != nil || err2 != nil {
			return nil, fmt.Errorf("frame line %q is not two numbers", lines.Text())
		}
		out = append(out, frame{e, w})
	}
	return out, nil
}
