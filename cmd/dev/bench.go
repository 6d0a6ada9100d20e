package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// bench holds the tools of the figures: a runner, a folder for their files, and the
// programs built so far, by package.
type bench struct {
	r     *runner
	dir   string
	built map[string]string
}

// group is a list of figures that are measured together.
type group struct {
	figures []figure // with their bounds
	long    bool     // measured only by name
	do      func(ctx context.Context, m *measuring)
}

// one is a group of one figure: its value and, if there is a peer, the peer's.
func one(f figure, do func(ctx context.Context, m *measuring) []float64) group {
	return group{figures: []figure{f}, do: func(ctx context.Context, m *measuring) { m.put(f.Name, do(ctx, m)...) }}
}

// measuring is one run of a group: its values and its first error, after which
// nothing more is measured.
type measuring struct {
	*bench
	got map[string][]float64
	err error
}

// put keeps a figure's value and, after it, the peer's. After an error it keeps
// nothing.
func (m *measuring) put(name string, values ...float64) {
	if m.err == nil {
		m.got[name] = values
	}
}

func groups() []group {
	return slices.Concat(windowGroups(), sheetGroups(), rowGroups(), terrainGroups(), testGroups(), checkGroups(), packageGroups())
}

// runFigures measures and prints the speed figures. A figure that misses its bound
// or could not be measured is printed like the others and makes the run fail.
func runFigures(ctx context.Context, r *runner, args []string) error {
	asJSON := slices.Contains(args, "--json")
	chosen, err := choose(slices.DeleteFunc(slices.Clone(args), func(a string) bool { return a == "--json" }))
	if err != nil {
		return err
	}
	quiet := *r
	quiet.out = r.errw // the figures alone go to the output
	dir, err := os.MkdirTemp("", "legwright-bench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	b := &bench{r: &quiet, dir: dir, built: map[string]string{}}
	if err := quiet.install(ctx, append(buildPackages(), testPackages()...)); err != nil {
		fmt.Fprintf(r.errw, "Some figures may be missing: %v\n", err)
	}
	var list []figure
	for _, g := range chosen {
		list = append(list, b.measure(ctx, g)...)
	}
	return errors.Join(writeFigures(r.out, list, asJSON), failing(list))
}

// measure runs one group and returns each of its figures, measured or not. It also
// prints them, so that an early end of the run does not lose them.
func (b *bench) measure(ctx context.Context, g group) (list []figure) {
	m, began := &measuring{bench: b, got: map[string][]float64{}}, time.Now()
	fmt.Fprintf(b.r.errw, "Measuring %s…\n", g.figures[0].Name)
	g.do(ctx, m)
	for _, f := range g.figures {
		list = append(list, f.measured(m.got[f.Name], m.err))
	}
	_ = writeFigures(b.r.errw, list, false)
	fmt.Fprintf(b.r.errw, "after %.0f s\n", time.Since(began).Seconds())
	return list
}

// failing returns an error that names the figures with a missed bound, or with no value
// where they must have one.
func failing(list []figure) error {
	var missed, missing []error
	for _, f := range list {
		if f.Missed {
			missed = append(missed, fmt.Errorf("%s missed its bound", f.Name))
		}
		if f.Value == nil && !f.mayLack {
			missing = append(missing, fmt.Errorf("%s was not measured", f.Name))
		}
	}
	return errors.Join(append(missed, missing...)...)
}

// choose returns the groups with a figure whose name begins with one of the names;
// without names, all but the long groups.
func choose(names []string) (out []group, err error) {
	unknown := slices.Clone(names)
	usage := "usage: bench [--json] [NAME…], names of figures or their beginnings:"
	for _, g := range groups() {
		among := func(n string) bool {
			return slices.ContainsFunc(g.figures, func(f figure) bool { return strings.HasPrefix(f.Name, n) })
		}
		if len(names) == 0 && !g.long || slices.ContainsFunc(names, among) {
			out = append(out, g)
		}
		unknown = slices.DeleteFunc(unknown, among)
		for _, f := range g.figures {
			usage += " " + f.Name
		}
	}
	if len(unknown) > 0 {
		return nil, fmt.Errorf("there is no figure %q; %s", unknown[0], usage)
	}
	return out, nil
}

// program builds a command of the module once and returns its file.
func (m *measuring) program(ctx context.Context, pkg string, flags ...string) string {
	file := filepath.Join(m.dir, filepath.Base(pkg)+".bin") // a name unlike the store's folder
	if m.err == nil && m.built[pkg] == "" {
		fmt.Fprintf(m.r.errw, "Building %s: minutes after a new version of Go or Fyne, else seconds…\n", filepath.Base(pkg))
		m.err = m.r.do(ctx, "go", slices.Concat([]string{"build", "-tags", buildTag, "-o", file}, flags, []string{pkg})...)
	}
	if m.err == nil {
		m.built[pkg] = file
	}
	return file
}

// job does some work and returns the seconds it took.
type job func() (float64, error)

// inTurn does the jobs in turn, n times, and returns the median seconds of each: a
// slow spell of the machine then affects all of them.
func (m *measuring) inTurn(rounds int, jobs ...job) []float64 {
	took, medians := make([][]float64, len(jobs)), make([]float64, len(jobs))
	for range rounds {
		for i, do := range jobs {
			if m.err != nil {
				return nil
			}
			var s float64
			s, m.err = do()
			took[i] = append(took[i], s)
			medians[i] = median(took[i])
		}
	}
	return medians
}

// seconds runs a command from start to end.
func seconds(cmd *exec.Cmd) (float64, error) {
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	began := time.Now()
	if err := cmd.Run(); err != nil {
		return 0, fmt.Errorf("%s: %w: %s", filepath.Base(cmd.Path), err, bytes.TrimSpace(complaint.Bytes()))
	}
	return time.Since(began).Seconds(), nil
}

func command(ctx context.Context, name string, args ...string) job {
	return func() (float64, error) { return seconds(exec.CommandContext(ctx, name, args...)) }
}
