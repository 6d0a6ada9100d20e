package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"time"
)

// runTests does everything that continuous integration checks. All steps run
// even when one fails, so that one run tells everything.
func runTests(ctx context.Context, r *runner, _ []string) error {
	wineUntil := time.Now().Add(wineBound)
	if err := r.step("system packages", func() error {
		return r.install(ctx, append(buildPackages(), testPackages()...))
	}); err != nil {
		return err
	}
	underWine := r.commandsBeside(ctx, wineUntil)
	systems := r.beside(func(r *runner) error { return r.vetSystems(ctx, "windows", "darwin") })
	vulns := r.beside(func(r *runner) error { return r.checkVulnerabilities(ctx) })
	rooms, err := roomsBelow(r.root)
	if err != nil {
		return err
	}
	var sum tally
	steps := []struct {
		name string
		do   func() error
	}{
		{"gofumpt", func() error { return r.checkFormat(ctx) }},
		{"go vet", func() error { return r.do(ctx, "go", "vet", "-tags", buildTag, "./...") }},
		{"staticcheck", func() error { return r.do(ctx, "go", "tool", "staticcheck", "-tags", buildTag, "./...") }},
		{"go vet for other systems", systems},
		{"known vulnerabilities", vulns},
		{"tests", func() error { return r.plainTests(ctx, &sum, rooms.plain) }},
		{"tests under the race detector", func() error {
			return r.goTest(ctx, &sum, append([]string{"-race", "-short", "-timeout", "20m", "-tags", buildTag}, rooms.raced...)...)
		}},
		{"window tests and thread check", func() error { return r.windowPasses(ctx, &sum) }},
		{"headless commands under Wine", underWine},
	}
	var failed []error
	for _, s := range steps {
		if err := r.step(s.name, s.do); err != nil {
			failed = append(failed, fmt.Errorf("%s: %w", s.name, err))
		}
	}
	sum.print(r.out)
	return errors.Join(failed...)
}

// beside runs a check beside the steps that follow: loading sources leaves processors idle.
// What it returns waits for the end, prints what was said, and reports how it ended.
func (r *runner) beside(check func(r *runner) error) func() error {
	var said bytes.Buffer
	with := *r
	with.out, with.errw = &said, &said
	done := make(chan error, 1)
	go func() { done <- check(&with) }()
	return func() error {
		err := <-done
		fmt.Fprint(r.out, said.String())
		return err
	}
}

// plainTests runs rooms without the race detector. The made wrong sheets get a seed from
// the commit's hash.
func (r *runner) plainTests(ctx context.Context, sum *tally, rooms []string) error {
	with := *r
	if seeds, err := r.commitSeeds(ctx); err == nil {
		with.env = append(append([]string{}, r.env...), fmt.Sprintf("LEGWRIGHT_WRONG_SEED=%d", seeds[0]))
		fmt.Fprintf(r.out, "wrong sheets from seed %d\n", seeds[0])
	}
	return with.goTest(ctx, sum, append([]string{"-tags", buildTag}, rooms...)...)
}

// checkFormat fails when a file is not as gofumpt writes it.
func (r *runner) checkFormat(ctx context.Context) error {
	text, err := r.capture(ctx, "go", "tool", "gofumpt", "-l", "app", "assets", "canvas", "cmd", "mapio")
	if err != nil {
		return err
	}
	if list := strings.Fields(text); len(list) > 0 {
		return fmt.Errorf("not formatted: %s; run: go tool gofumpt -w %s",
			strings.Join(list, " "), strings.Join(list, " "))
	}
	return nil
}

func runWindowTests(ctx context.Context, r *runner, _ []string) error {
	if err := r.install(ctx, append(buildPackages(), testPackages()...)); err != nil {
		return err
	}
	var sum tally
	err := r.windowTests(ctx, &sum, buildTag)
	sum.print(r.out)
	return err
}

// windowTests builds the program and works its real window by mouse.
func (r *runner) windowTests(ctx context.Context, sum *tally, tag string) error {
	with := *r
	with.env = append(append([]string{}, r.env...), "LEGWRIGHT_WINDOW_TESTS=1", "LEGWRIGHT_WINDOW_TAG="+tag)
	return with.goTest(ctx, sum, "-count=1", "-timeout", "15m", "./cmd/internal/windowtest")
}

// windowPasses runs the window tests and the thread check side by side, each on a display
// of its own: for half of the time both wait for the window.
func (r *runner) windowPasses(ctx context.Context, sum *tally) error {
	var said bytes.Buffer
	var checked tally
	with := *r
	with.out = &said
	done := make(chan error, 1)
	go func() { done <- with.threadCheck(ctx, &checked) }()
	worked := r.windowTests(ctx, sum, buildTag)
	if worked != nil {
		worked = fmt.Errorf("window tests: %w", worked)
	}
	check := <-done
	if check != nil {
		check = fmt.Errorf("thread check: %w", check)
	}
	fmt.Fprintf(r.out, "thread check:\n%s", said.String())
	sum.add(&checked)
	return errors.Join(worked, check)
}

// threadCheck works the window once more without the migration tag: only
// that build reports calls from a wrong thread. Pictures are of the other pass.
func (r *runner) threadCheck(ctx context.Context, sum *tally) error {
	with := *r
	with.env = append(append([]string{}, r.env...), "LEGWRIGHT_SHOTS=")
	return with.windowTests(ctx, sum, "threadcheck")
}

// runFuzz gives every fuzz target of the project the same time.
func runFuzz(ctx context.Context, r *runner, args []string) error {
	seconds := "20"
	if len(args) > 0 {
		seconds = args[0]
	}
	text, err := r.capture(ctx, "go", "test", "-tags", buildTag, "-list", "^Fuzz", "./...")
	if err != nil {
		return err
	}
	targets := fuzzTargets(text)
	if len(targets) == 0 {
		return errors.New("no fuzz target was found")
	}
	for _, t := range targets {
		if err := r.step(t.pkg+" "+t.name, func() error {
			return r.do(ctx, "go", "test", "-tags", buildTag, "-run", "^$",
				"-fuzz", "^"+t.name+"$", "-fuzztime", seconds+"s", t.pkg)
		}); err != nil {
			return err
		}
	}
	return nil
}

type fuzzTarget struct{ pkg, name string }

// fuzzTargets reads the output of go test -list: names, then the package's
// closing line.
func fuzzTargets(text string) []fuzzTarget {
	var out []fuzzTarget
	var names []string
	for _, line := range strings.Split(text, "\n") {
		f := strings.Fields(line)
		switch {
		case len(f) == 1 && strings.HasPrefix(f[0], "Fuzz"):
			names = append(names, f[0])
		case len(f) >= 2 && f[0] == "ok":
			for _, n := range names {
				out = append(out, fuzzTarget{f[1], n})
			}
			names = nil
		}
	}
	return out
}
