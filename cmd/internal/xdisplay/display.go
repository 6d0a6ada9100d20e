// Package xdisplay stands up a virtual X display with a window manager, takes
// pictures of it and works its mouse and keyboard. It serves the window
// tests, the speed figures and the picture that the task runner makes where
// there is no display. It needs Xvfb and openbox, and xdotool for the mouse.
package xdisplay

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// Display is one running virtual display.
type Display struct {
	Name string // ":12", for DISPLAY
	dir  string
	all  []*exec.Cmd
}

// Start brings up a display of w × h pixels, 24 bits deep, and a window
// manager on it. The display takes the first free number.
func Start(ctx context.Context, w, h int) (*Display, error) {
	dir, err := os.MkdirTemp("", "legwright-x")
	if err != nil {
		return nil, fmt.Errorf("folder for the display: %w", err)
	}
	d := &Display{dir: dir}
	if err := d.startServer(ctx, w, h); err != nil {
		d.Close()
		return nil, err
	}
	wm := exec.CommandContext(ctx, "openbox", "--sm-disable")
	wm.Env = d.Env()
	if err := d.begin(wm); err != nil {
		d.Close()
		return nil, fmt.Errorf("window manager: %w", err)
	}
	time.Sleep(300 * time.Millisecond) // openbox takes the root window
	return d, nil
}

func (d *Display) startServer(ctx context.Context, w, h int) error {
	read, write, err := os.Pipe()
	if err != nil {
		return err
	}
	defer read.Close()
	srv := exec.CommandContext(ctx, "Xvfb", "-displayfd", "3",
		"-screen", "0", fmt.Sprintf("%dx%dx24", w, h), "+extension", "GLX",
		"-fbdir", d.dir, "-nolisten", "tcp", "-noreset")
	srv.ExtraFiles = []*os.File{write}
	if err := d.begin(srv); err != nil {
		write.Close()
		return fmt.Errorf("virtual display: %w", err)
	}
	write.Close()
	_ = read.SetReadDeadline(time.Now().Add(20 * time.Second))
	line, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		return fmt.Errorf("virtual display did not come up: %w", err)
	}
	d.Name = ":" + strings.TrimSpace(line)
	return nil
}

func (d *Display) begin(cmd *exec.Cmd) error {
	if err := cmd.Start(); err != nil {
		return err
	}
	d.all = append(d.all, cmd)
	return nil
}

// Env is the environment for a program that shall open on the display.
func (d *Display) Env() []string {
	return append(os.Environ(), "DISPLAY="+d.Name, "LIBGL_ALWAYS_SOFTWARE=1")
}

// Close ends the window manager and the display.
func (d *Display) Close() {
	for i := len(d.all) - 1; i >= 0; i-- {
		_ = d.all[i].Process.Kill()
		_ = d.all[i].Wait()
	}
	_ = os.RemoveAll(d.dir)
}

// Picture returns what the display shows now.
func (d *Display) Picture() (*image.RGBA, error) {
	raw, err := os.ReadFile(filepath.Join(d.dir, "Xvfb_screen0"))
	if err != nil {
		return nil, fmt.Errorf("frame buffer: %w", err)
	}
	return decodeXWD(raw)
}

// ErrNoWindow is returned when a window did not appear in time.
var ErrNoWindow = errors.New("no such window appeared")

// Window waits until a visible window's title contains name, and returns its
// identifier for xdotool, which is none of those that others have. The error is
// ErrNoWindow, or the cause that ended ctx.
func (d *Display) Window(ctx context.Context, name string, patience time.Duration, others ...string) (string, error) {
	until := time.Now().Add(patience)
	for time.Now().Before(until) && ctx.Err() == nil {
		list, err := d.Tool(ctx, "search", "--onlyvisible", "--name", name)
		for _, id := range strings.Fields(list) {
			if err == nil && !slices.Contains(others, id) {
				return id, nil
			}
		}
		time.Sleep(50 * time.Millisecond)
	}
	if err := context.Cause(ctx); err != nil {
		return "", err
	}
	return "", fmt.Errorf("%w: %q within %v", ErrNoWindow, name, patience)
}

// Tool runs one xdotool command on the display and returns its output.
func (d *Display) Tool(ctx context.Context, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, "xdotool", args...)
	cmd.Env = d.Env()
	out, err := cmd.Output()
	return string(out), err
}
