package windowtest

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"legwright/assets/demo"
	"legwright/cmd/internal/xdisplay"
)

// Names of marks that tell the work of two benches apart. The demo has neither.
const inFirst, inSecond = "Alder", "Birch"

// Second opens one plan in two benches at once, named on their command lines. Neither may
// lose the other's work: not when both save it, and not when one is killed. dir is a folder
// for its files; out gets a line for each thing that was seen.
func Second(ctx context.Context, bin, dir string, out io.Writer) error {
	display, err := xdisplay.Start(ctx, 1500, 1000)
	if err != nil {
		return err
	}
	defer display.Close()
	plan := filepath.Join(dir, "walk.legplan")
	err = errors.Join(os.WriteFile(plan, demo.Plan(), 0o600), os.WriteFile(filepath.Join(dir, demo.SheetName), demo.Sheet(), 0o600),
		os.WriteFile(filepath.Join(dir, demo.TerrainName), demo.Terrain(), 0o600))
	if err != nil {
		return err
	}
	first, err := Start(ctx, bin, dir, display, plan)
	if err != nil {
		return err
	}
	defer first.Close()
	if err := errors.Join(first.opened(plan), first.Key("ctrl+h", "Return"), first.mark(inFirst, 0.3)); err != nil {
		return fmt.Errorf("the first bench: %w", err)
	}
	second, err := first.Beside(plan)
	if err != nil {
		return err
	}
	defer second.Close()
	if err := errors.Join(second.opened(plan), second.mark(inSecond, 0.3)); err != nil {
		return fmt.Errorf("a second bench beside the first: %w", err)
	}
	fmt.Fprintln(out, "same     a second bench beside the first opens the plan by its path, and offers none of the first's work")
	if err := bothSave(first, second, plan); err != nil {
		return fmt.Errorf("both save: %w", err)
	}
	fmt.Fprintln(out, "same     what one saved stays when the other saves: it asks, and saves under another name; the .bak is the plan before")
	if err := oneDies(first, second, plan); err != nil {
		return fmt.Errorf("the second is killed: %w", err)
	}
	fmt.Fprintln(out, "same     after a kill the next start offers the work of the bench that died, and not of the one that runs")
	return nil
}

// opened waits until the plan is open and nothing is asked.
func (r *Rig) opened(plan string) error {
	p, err := r.State("the plan", func(p xdisplay.Probe) bool {
		return p.Sharp && strings.HasPrefix(p.Title, filepath.Base(plan))
	})
	if err == nil && p.Dirty {
		err = errors.New("it opened with unsaved changes")
	}
	return err
}

// mark marks a position, so far across the sheet, and names it.
func (r *Rig) mark(name string, across float64) error {
	r.activate()
	p, err := xdisplay.ReadProbe(r.probe)
	if err != nil {
		return err
	}
	if err := r.MoveTo(p.Sheet.X+across*p.Sheet.W, p.Sheet.Y+p.Sheet.H/3); err != nil {
		return err
	}
	if _, err := r.display.Tool(r.ctx, "click", "--repeat", "2", "--delay", "60", "1"); err != nil {
		return err
	}
	pause()
	if err := errors.Join(r.Type(name), r.Key("Return")); err != nil {
		return err
	}
	_, err = r.State("the mark "+name, func(xdisplay.Probe) bool {
		states, err := xdisplay.ReadPlans(r.probe)
		return err == nil && holds(states[len(states)-1].Plan, name)
	})
	return err
}

// holds reports whether a plan as text has a mark of this name.
func holds(text, mark string) bool { return strings.Contains(text, `"`+mark+`"`) }

// bothSave saves in the second, then in the first. What each file must hold is known.
func bothSave(first, second *Rig, plan string) error {
	if err := second.save(); err != nil {
		return err
	}
	first.activate()
	mine := filepath.Join(filepath.Dir(plan), "mine.legplan")
	err := errors.Join(first.Key("ctrl+s", "Return"), // the question's default: save under another name
		first.Key("ctrl+a"), first.Type(first.Named(mine)), first.Key("Return"))
	if err != nil {
		return err
	}
	if _, err := first.State("Saved mine", func(p xdisplay.Probe) bool { return p.Message == "Saved mine.legplan." }); err != nil {
		return err
	}
	for _, f := range []struct {
		path  string
		marks [2]bool
	}{{plan, [2]bool{false, true}}, {plan + ".bak", [2]bool{}}, {mine, [2]bool{true, false}}} {
		text, err := os.ReadFile(f.path)
		if err != nil {
			return err
		}
		if got := [2]bool{holds(string(text), inFirst), holds(string(text), inSecond)}; got != f.marks {
			return fmt.Errorf("%s has the marks of first and second: %v, want %v", filepath.Base(f.path), got, f.marks)
		}
	}
	return nil
}

// save saves a plan that has a file.
func (r *Rig) save() error {
	r.activate()
	if err := r.Key("ctrl+s"); err != nil {
		return err
	}
	_, err := r.State("Saved", func(p xdisplay.Probe) bool { return strings.HasPrefix(p.Message, "Saved ") && !p.Dirty })
	return err
}

// oneDies changes both plans, kills the second and opens it again.
func oneDies(first, second *Rig, plan string) error {
	if err := errors.Join(first.mark(inFirst+" 2", 0.5), second.mark(inSecond+" 2", 0.5)); err != nil {
		return err
	}
	kept := func(p xdisplay.Probe) bool { return p.Dirty }
	if _, err := second.State("unsaved work", kept); err != nil {
		return err
	}
	time.Sleep(2 * lossAllowed) // the journal has the last mark by then
	second.Kill()
	third, err := first.Beside(plan)
	if err != nil {
		return err
	}
	defer third.Close()
	if _, err := third.State("the offer to restore", func(p xdisplay.Probe) bool { return p.Controls["restore"].W > 0 }); err != nil {
		return err
	}
	if err := third.Key("Return"); err != nil {
		return err
	}
	_, err = third.State("the work of the second", func(p xdisplay.Probe) bool {
		states, err := xdisplay.ReadPlans(third.probe)
		if err != nil || len(states) == 0 {
			return false
		}
		now := states[len(states)-1].Plan
		return p.Dirty && holds(now, inSecond+" 2") && !holds(now, inFirst+" 2")
	})
	return err
}
