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

// winePackages run programs of Windows.
func winePackages() []string { return []string{"wine", "wine64"} }

// fetchLimit is how long Wine may take to arrive.
const fetchLimit = 4 * time.Minute

// wineBeside installs Wine while other steps run. What stood in the way comes through the
// channel. Only fetching is cut short: an installation that is stopped leaves the system broken.
func (r *runner) wineBeside(ctx context.Context) <-chan error {
	done := make(chan error, 1)
	go func() {
		var said bytes.Buffer
		with := *r
		with.out, with.errw = &said, &said
		err := with.fetch(ctx, winePackages())
		if err == nil {
			err = with.install(ctx, winePackages())
		}
		if err == nil {
			_, err = exec.LookPath("wine")
		}
		if err != nil {
			err = fmt.Errorf("%w %s", err, strings.TrimSpace(said.String()))
		}
		done <- err
	}()
	return done
}

// fetch downloads the packages that are missing, without asking for a password.
func (r *runner) fetch(ctx context.Context, packages []string) error {
	ctx, cancel := context.WithTimeout(ctx, fetchLimit)
	defer cancel()
	if _, err := exec.LookPath("dpkg-query"); err != nil || len(r.missing(ctx, packages)) == 0 {
		return nil // install says what to do
	}
	apt, err := aptCommand()
	if err != nil {
		return err
	}
	if apt[0] == "sudo" {
		apt = slices.Insert(apt, 1, "-n")
	}
	if err := r.do(ctx, apt[0], append(slices.Clone(apt[1:]), "update", "-qq")...); err != nil {
		return err
	}
	get := append(slices.Clone(apt[1:]), "install", "--download-only", "-y", "-qq", "--no-install-recommends")
	return r.do(ctx, apt[0], append(get, packages...)...)
}

// wineBound is how long after the start of all checks the commands may run under Wine, where
// it has to be installed and everything built for Windows first.
const wineBound = 14*time.Minute + 30*time.Second

// commandsBeside runs commandsUnderWine beside other steps, as Wine mostly waits.
func (r *runner) commandsBeside(ctx context.Context, until time.Time) func() error {
	installed := r.wineBeside(ctx)
	return r.beside(func(r *runner) error { return r.commandsUnderWine(ctx, installed, until) })
}

// commandsUnderWine compares the subcommands under Wine with the same ones here, where Wine
// can be installed and starts. A difference fails; running out of time is said.
func (r *runner) commandsUnderWine(ctx context.Context, installed <-chan error, until time.Time) error {
	limited, cancel := context.WithDeadline(ctx, until)
	defer cancel()
	select {
	case err := <-installed:
		if err != nil {
			fmt.Fprintln(r.out, "not run: Wine could not be installed:", err)
			return nil
		}
	case <-limited.Done():
	}
	err := r.compareHeadless(limited)
	if late := limited.Err(); late != nil && ctx.Err() == nil && !errors.Is(err, errDiffers) {
		fmt.Fprintf(r.out, "not run to the end: the checks have taken %s\n", wineBound)
		return nil
	}
	return err
}

// compareHeadless compares the headless half of the program, built without its window and so
// without a C compiler for Windows; runWindows compares the whole program.
func (r *runner) compareHeadless(ctx context.Context) error {
	dir, err := os.MkdirTemp("", "legwright-wine")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	here, there := filepath.Join(dir, "legwright"), filepath.Join(dir, winProgram)
	with := *r
	with.env = append(slices.Clone(r.env), "CGO_ENABLED=0")
	if err := with.build(ctx, here, headlessTag); err != nil {
		return err
	}
	with.env = append(with.env, "GOOS=windows", "GOARCH=amd64")
	if err := with.build(ctx, there, headlessTag); err != nil {
		return err
	}
	fmt.Fprintln(r.out, "the headless half of the program, built without its window:")
	w := &wine{runner: r, dir: dir, program: there}
	if err := w.prepare(ctx); err != nil {
		fmt.Fprintln(r.out, "not run: Wine does not start:", err)
		return nil
	}
	defer w.end()
	return compareAll(ctx, r, w, here)
}
