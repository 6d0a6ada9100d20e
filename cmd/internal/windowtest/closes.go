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
// manager, at rest, while a large picture opens and with the question about
// unsaved work on the screen. Each must end by itself, with exit status 0. dir
// is an empty folder for its files; out gets a line for each kind of close, and
// what the goroutines of a bench that stays are doing.
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
	kinds := closeKinds(large)
	took := make([][]time.Duration, len(kinds))
	var faults []error
	for i := range n {
		k := kinds[i%len(kinds)]
		home := filepath.Join(dir, fmt.Sprint(i))
		d, err := k.once(ctx, bin, home, display)
		_ = os.RemoveAll(home) // a gigabyte of pictures kept otherwise
		if err != nil {
			fmt.Fprintf(out, "%d, %s: %v\n", i+1, k.name(), err)
			faults = append(faults, fmt.Errorf("close %d, %s: %w", i+1, k.name(), err))
			continue
		}
		took[i%len(kinds)] = append(took[i%len(kinds)], d)
	}
	for i, all := range took {
		if len(all) > 0 {
			fmt.Fprintf(out, "%-45s %3d closes, the longest %.2f s\n", kinds[i].name(), len(all), slices.Max(all).Seconds())
		}
	}
	fmt.Fprintf(out, "%d of %d ended by themselves\n", n-len(faults), n)
	return errors.Join(faults...)
}

// moment is when a bench is closed: what it opens, and how to come there.
type moment struct {
	when, open string
	reach      func(r *Rig) error
}

// closeKind is one way to close a window at one moment.
type closeKind struct {
	moment
	closeWay
}

func (k closeKind) name() string { return k.way + ", " + k.when }

// closeKinds are all ways at all moments, but for the menu while a picture
// opens, which covers it.
func closeKinds(large string) []closeKind {
	var list []closeKind
	for _, w := range closeWays() {
		for _, m := range []moment{
			{"at rest", "", atRest},
			{"while a picture opens", large, func(r *Rig) error {
				_, err := r.State("the window", func(xdisplay.Probe) bool { return true })
				return err
			}},
			{"with unsaved work", "", unsaved},
		} {
			if !w.covered || m.open == "" {
				list = append(list, closeKind{m, w})
			}
		}
	}
	return list
}

// closeWay is one way to close a window.
type closeWay struct {
	way     string
	covered bool // a dialog covers it
	again   bool // a dialog takes it, and then it is done again
	do      func(r *Rig) error
}

func closeWays() []closeWay {
	tool := func(args ...string) func(r *Rig) error {
		return func(r *Rig) error { _, err := r.display.Tool(r.ctx, args...); return err }
	}
	return []closeWay{
		{"Ctrl+Q", false, true, tool("key", "ctrl+q")},
		{"File, Quit", true, false, func(r *Rig) error {
			if err := r.Click(20, 12); err != nil {
				return err
			}
			return r.Key("Up", "Return")
		}},
		{"Alt+F4", false, false, tool("key", "alt+F4")},
		{"Alt+F4 twice", false, false, tool("key", "--delay", "1", "alt+F4", "alt+F4")},
		{"Alt+F4 twice at once", false, false, atOnce("alt+F4", "alt+F4")},
		{"Alt+F4 and Ctrl+Q at once", false, false, atOnce("alt+F4", "ctrl+q")},
	}
}

// atOnce presses keys while the program stands still, so that it finds them all
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

func atRest(r *Rig) error {
	_, err := r.State("a sharp sheet", func(p xdisplay.Probe) bool { return p.Sharp })
	return err
}

// unsaved keeps a leg.
func unsaved(r *Rig) error {
	if err := atRest(r); err != nil {
		return err
	}
	if err := r.Key("Escape", "Escape"); err != nil { // the welcome
		return err
	}
	p, err := r.State("the sheet", func(p xdisplay.Probe) bool { return p.Sharp })
	if err != nil {
		return err
	}
	if err := r.Drag(p.Sheet.X+200, p.Sheet.Y+200, p.Sheet.X+400, p.Sheet.Y+300); err != nil {
		return err
	}
	if err := r.Key("l"); err != nil {
		return err
	}
	_, err = r.State("a leg", func(p xdisplay.Probe) bool { return p.Dirty })
	return err
}

// once opens a bench, closes it and returns how long its end took.
func (k closeKind) once(ctx context.Context, bin, home string, display *xdisplay.Display) (time.Duration, error) {
	if err := os.Mkdir(home, 0o700); err != nil {
		return 0, err
	}
	var args []string
	if k.open != "" {
		args = append(args, k.open)
	}
	r, err := Start(ctx, bin, home, Options{Display: display}, args...)
	if err != nil {
		return 0, err
	}
	defer r.Close()
	if err := k.reach(r); err != nil {
		return 0, err
	}
	began := time.Now()
	if err := k.do(r); err != nil {
		return 0, err
	}
	done := make(chan error, 1)
	go func() { done <- r.cmd.Wait() }()
	for {
		select {
		case err := <-done:
			if err != nil {
				return 0, fmt.Errorf("it ended with %w: %s", err, r.said)
			}
			return time.Since(began), nil
		case <-time.After(200 * time.Millisecond):
			k.answer(r, &began)
		}
		if time.Since(began) > endsWithin {
			_ = r.signal("QUIT") // it says what its goroutines do
			<-done
			return 0, fmt.Errorf("it did not end within %v: %s", endsWithin, r.said)
		}
	}
}

// answer discards unsaved work where that is asked about, after another request
// to close, which asks no second time.
func (k closeKind) answer(r *Rig, began *time.Time) {
	p, err := xdisplay.ReadProbe(r.probe)
	switch {
	case err != nil:
	case p.Asked:
		if !k.covered {
			_ = k.do(r)
			time.Sleep(200 * time.Millisecond)
		}
		*began = time.Now()
		_ = r.Key("shift+Tab", "Return") // from Save to Discard
	case k.again && k.open != "":
		_ = k.do(r)
	}
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
