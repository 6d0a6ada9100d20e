package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"time"

	"legwright/cmd/internal/xdisplay"
)

// runBench builds the program and opens it on the demo. Without a display it
// does the same job headless.
func runBench(ctx context.Context, r *runner, args []string) error {
	if err := r.install(ctx, buildPackages()); err != nil {
		return err
	}
	bin := filepath.Join("bin", programName())
	fmt.Fprintln(r.out, "Building the bench. The first build takes some minutes, later ones seconds.")
	if err := r.build(ctx, bin, buildTag); err != nil {
		return err
	}
	if reason := noDisplay(); reason != "" {
		return r.runHeadless(ctx, filepath.Join(r.root, bin), reason)
	}
	if len(args) == 0 {
		args = []string{"demo"}
	}
	return r.do(ctx, filepath.Join(r.root, bin), args...)
}

func programName() string {
	if runtime.GOOS == "windows" {
		return "legwright.exe"
	}
	return "legwright"
}

// noDisplay says why no window can be opened, or nothing where one can.
func noDisplay() string {
	if runtime.GOOS != "linux" {
		return ""
	}
	if os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
		return "neither DISPLAY nor WAYLAND_DISPLAY is set, so there is no screen to open a window on"
	}
	return ""
}

// runHeadless prints the demo's ledger and escapes, writes its GPX and takes a picture of
// the bench on a virtual display.
func (r *runner) runHeadless(ctx context.Context, bin, reason string) error {
	fmt.Fprintf(r.out, "Running headless: %s.\n\n", reason)
	if err := r.install(ctx, append(screenPackages(), "xdotool")); err != nil {
		return err
	}
	dir := filepath.Join(r.root, "out", "demo")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("folder for the demo: %w", err)
	}
	gpx := filepath.Join(dir, "demo.gpx")
	for _, args := range [][]string{{"legs", "demo"}, {"escapes", "demo"}, {"export", "demo", "--gpx", gpx}} {
		if err := r.tell(ctx, bin, args...); err != nil {
			return err
		}
	}
	picture := filepath.Join(dir, "bench.png")
	if err := benchPicture(ctx, bin, picture); err != nil {
		return err
	}
	fmt.Fprintf(r.out, "The demo is in %s:\n  demo.gpx   the legs for a GPS\n  bench.png  a picture of the bench\n", dir)
	return nil
}

// tell runs a command and shows what it answers. What it says beside that is shown if it fails:
// else the tables of legs and escapes hold every caution, and would be followed by them again.
func (r *runner) tell(ctx context.Context, bin string, args ...string) error {
	var beside bytes.Buffer
	cmd := r.command(ctx, bin, args...)
	cmd.Stderr = &beside
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("%s: %w\n%s", args[0], err, beside.String())
	}
	_, err := fmt.Fprintln(r.out)
	return err
}

// benchPicture opens the bench on a virtual display, in a settings folder of
// its own, and writes what it shows.
func benchPicture(ctx context.Context, bin, file string) error {
	display, err := xdisplay.Start(ctx, 1400, 900)
	if err != nil {
		return err
	}
	defer display.Close()
	home, err := os.MkdirTemp("", "legwright-home")
	if err != nil {
		return err
	}
	defer os.RemoveAll(home)
	cmd := exec.CommandContext(ctx, bin, "demo")
	cmd.Env = append(display.Env(), "HOME="+home, "XDG_CONFIG_HOME="+home, "XDG_CACHE_HOME="+home,
		"XDG_STATE_HOME="+home, "LEGWRIGHT_SIZE=1400x900", "LEGWRIGHT_PROBE="+filepath.Join(home, "probe.json"))
	return windowPicture(ctx, display, cmd, filepath.Join(home, "probe.json"), file)
}

// windowPicture starts the bench, waits until its probe says that the sheet is sharp, and writes what
// the display shows.
func windowPicture(ctx context.Context, display *xdisplay.Display, cmd *exec.Cmd, probe, file string) error {
	ctx, stop, err := startWatched(ctx, cmd)
	if err != nil {
		return err
	}
	defer stop()
	if _, err := display.Window(ctx, "Legwright", 60*time.Second); err != nil {
		return err
	}
	if err := settled(probe, 60*time.Second); err != nil {
		return err
	}
	return writePicture(display, file)
}

// startWatched starts a program. The context ends with it, and then says how: without that
// a program that ends at once would be waited for. stop kills it.
func startWatched(ctx context.Context, cmd *exec.Cmd) (watched context.Context, stop func(), err error) {
	var said bytes.Buffer
	cmd.Stderr = &said
	if err := cmd.Start(); err != nil {
		return nil, nil, err
	}
	watched, end := context.WithCancelCause(ctx)
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		_ = cmd.Wait() // its state says as much
		end(fmt.Errorf("%s ended too early: %v\n%s", filepath.Base(cmd.Path), cmd.ProcessState, said.String()))
	}()
	return watched, func() { _ = cmd.Process.Kill(); <-ended }, nil
}

// settled waits until the bench says that its sheet is shown sharp.
func settled(probe string, patience time.Duration) error {
	for until := time.Now().Add(patience); time.Now().Before(until); time.Sleep(100 * time.Millisecond) {
		state, err := xdisplay.ReadProbe(probe)
		if err == nil && state.Sharp {
			time.Sleep(500 * time.Millisecond) // the frame after the last tile
			return nil
		}
	}
	return errors.New("the bench did not show its sheet in time")
}

func writePicture(display *xdisplay.Display, file string) error {
	img, err := display.Picture()
	if err != nil {
		return err
	}
	out, err := os.Create(file)
	if err != nil {
		return err
	}
	if err := png.Encode(out, img); err != nil {
		out.Close()
		return err
	}
	return out.Close()
}
