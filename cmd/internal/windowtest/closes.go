package windowtest

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"time"

	"legwright/cmd/internal/xdisplay"
)

// endsWithin is how long a bench may take to end after it was closed.
const endsWithin = 10 * time.Second

// Closes opens and closes the bench n times, by key, by menu and by the window
// manager, at rest and while a large picture opens. Each must end by itself, with
// exit status 0. dir is an empty folder for its files; out gets a line for each
// kind of close, and what the goroutines of a bench that stays are doing.
func Closes(ctx context.Context, bin, dir string, n int, out io.Writer) error {
	display, err := xdisplay.Start(ctx, 1400, 900)
	if err != nil {
		return err
	}
	defer display.Close()
	large := filepath.Join(dir, "large.jpg")
	if err := writeLarge(large); err != nil {
		return err
	}
	kinds := closeKinds()
	took := make([][]time.Duration, len(kinds))
	var faults []error
	for i := range n {
		k, home := i%len(kinds), filepath.Join(dir, fmt.Sprint(i))
		var args []string
		if kinds[k].opening {
			args = append(args, large)
		}
		d, err := kinds[k].once(ctx, bin, home, display, args)
		_ = os.RemoveAll(home) // a gigabyte of pictures kept otherwise
		if err != nil {
			err = fmt.Errorf("close %d, %s: %w", i+1, kinds[k].name, err)
			fmt.Fprintln(out, err)
			faults = append(faults, err)
			continue
		}
		took[k] = append(took[k], d)
	}
	for i, all := range took {
		if len(all) > 0 {
			fmt.Fprintf(out, "%-45s %3d closes, the longest %.2f s\n", kinds[i].name, len(all), slices.Max(all).Seconds())
		}
	}
	fmt.Fprintf(out, "%d of %d ended by themselves\n", n-len(faults), n)
	return errors.Join(faults...)
}

// closeKind is one way to close a window at one moment. If a dialog may take the
// key, it is pressed again until the bench has ended.
type closeKind struct {
	name           string
	opening, again bool
	do             func(r *Rig) error
}

// closeKinds are all ways at both moments, but for the menu while a picture
// opens, which covers it.
func closeKinds() []closeKind {
	key := func(args ...string) func(r *Rig) error {
		return func(r *Rig) error {
			_, err := r.display.Tool(r.ctx, append([]string{"key"}, args...)...)
			return err
		}
	}
	menu := func(r *Rig) error { return errors.Join(r.Click(20, 12), r.Key("Up", "Return")) }
	return []closeKind{
		{"Ctrl+Q", false, true, key("ctrl+q")},
		{"Ctrl+Q while a picture opens", true, true, key("ctrl+q")},
		{"File, Quit", false, false, menu},
		{"Alt+F4", false, false, key("alt+F4")},
		{"Alt+F4 while a picture opens", true, false, key("alt+F4")},
		{"Alt+F4 twice at once", false, false, atOnce("alt+F4", "alt+F4")},
		{"Alt+F4 twice at once while a picture opens", true, false, atOnce("alt+F4", "alt+F4")},
		{"Alt+F4 and Ctrl+Q at once", false, false, atOnce("alt+F4", "ctrl+q")},
	}
}

// atOnce presses keys while the program is stopped, so that it gets them all
// together.
func atOnce(keys ...string) func(r *Rig) error {
	return func(r *Rig) error {
		if err := r.signal("STOP"); err != nil {
			return err
		}
		_, err := r.display.Tool(r.ctx, append([]string{"key"}, keys...)...)
		time.Sleep(200 * time.Millisecond) // the window manager passes them on
		return errors.Join(err, r.signal("CONT"))
	}
}

// signal sends the program a signal.
func (r *Rig) signal(name string) error {
	return exec.CommandContext(r.ctx, "kill", "-"+name, strconv.Itoa(r.cmd.Process.Pid)).Run()
}

// once opens a bench, closes it and returns how long its end took.
func (k closeKind) once(ctx context.Context, bin, home string, display *xdisplay.Display, args []string) (time.Duration, error) {
	if err := os.Mkdir(home, 0o700); err != nil {
		return 0, err
	}
	r, err := Start(ctx, bin, home, display, args...)
	if err != nil {
		return 0, err
	}
	defer r.Close()
	if _, err := r.State("the window", func(p xdisplay.Probe) bool { return p.Sharp || k.opening }); err != nil {
		return 0, err
	}
	began := time.Now()
	if err := k.do(r); err != nil {
		return 0, err
	}
	done := make(chan error, 1)
	go func() { done <- r.cmd.Wait() }()
	for time.Since(began) < endsWithin {
		select {
		case err := <-done:
			if err != nil {
				return 0, fmt.Errorf("it ended with %w: %s", err, r.said)
			}
			return time.Since(began), nil
		case <-time.After(200 * time.Millisecond):
			switch p, err := xdisplay.ReadProbe(r.probe); {
			case err == nil && p.Asked: // the sheet is there and not saved
				began = time.Now()
				_ = r.Key("shift+Tab", "Return") // from Save to Discard
			case k.again:
				_ = k.do(r)
			}
		}
	}
	_ = r.signal("QUIT") // it then prints its goroutines
	<-done
	return 0, fmt.Errorf("it did not end within %v: %s", endsWithin, r.said)
}

// writeLarge writes a picture that takes seconds to open.
func writeLarge(path string) error {
	img := image.NewGray(image.Rect(0, 0, 14000, 10000))
	for i := range img.Pix {
		img.Pix[i] = uint8(200 + i*7919%50)
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	return errors.Join(jpeg.Encode(f, img, nil), f.Close())
}
