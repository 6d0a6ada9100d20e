package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
)

// windowsPackages build for Windows and run what was built.
func windowsPackages() []string {
	return append([]string{"gcc-mingw-w64-x86-64"}, winePackages()...)
}

// runWindows builds the program for Windows and compares each subcommand under Wine with the
// same one here: what it prints, how it ends and what it writes. Then it tests rooms that
// write files, works the window and kills it: windows [KILLS].
func runWindows(ctx context.Context, r *runner, args []string) error {
	kills := 5
	if len(args) > 0 {
		var err error
		if kills, _, err = countAndSeed(args[:1]); err != nil {
			return err
		}
	}
	if err := r.install(ctx, slices.Concat(buildPackages(), testPackages(), windowsPackages())); err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "legwright-windows")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	here, bin := filepath.Join(dir, "legwright"), filepath.Join(r.root, "bin")
	if err := r.build(ctx, here, buildTag); err != nil {
		return err
	}
	if err := r.buildWindows(ctx, bin); err != nil {
		return err
	}
	w := &wine{runner: r, dir: dir, program: filepath.Join(bin, winConsole)}
	if err := w.prepare(ctx); err != nil {
		return err
	}
	defer w.end()
	if err := w.runScript(ctx); err != nil {
		return err
	}
	return errors.Join(compareAll(ctx, r, w, here), w.runRooms(ctx), w.runWindow(ctx, kills))
}

// wine runs one Windows program in a prefix of its own.
type wine struct {
	*runner
	dir, program string
}

func (w *wine) environment() []string {
	return append(append([]string{}, w.env...), "WINEPREFIX="+filepath.Join(w.dir, "prefix"), "WINEDEBUG=-all", "WINEDLLOVERRIDES=mscoree,mshtml=")
}

// end stops what still runs in the prefix.
func (w *wine) end() {
	cmd := exec.Command("wineserver", "--kill")
	cmd.Env = w.environment()
	_ = cmd.Run() // nothing runs any more
}

// prepare makes the prefix and puts the missing library into it. Wine's server then runs until
// end, or until nothing has run for a minute: one that ends between two commands is started
// anew by the next, with all its services, and what these print stands among what the command
// prints. They print to a file, as they would hold a pipe open.
func (w *wine) prepare(ctx context.Context) error {
	if err := os.MkdirAll(filepath.Join(w.dir, "prefix"), 0o700); err != nil {
		return err
	}
	said, err := os.Create(filepath.Join(w.dir, "services.log"))
	if err != nil {
		return err
	}
	defer said.Close()
	quiet := *w.runner
	quiet.env, quiet.out, quiet.errw = w.environment(), said, said
	for _, args := range [][]string{{"wineserver", "--persistent=60"}, {"wine", "wineboot", "--init"}} {
		if err := quiet.do(ctx, args[0], args[1:]...); err != nil {
			w.end()
			text, _ := os.ReadFile(said.Name())
			return fmt.Errorf("%w\n%s", err, text)
		}
	}
	library := filepath.Join(w.dir, "prefix", "drive_c", "windows", "system32", "bcryptprimitives.dll")
	return os.WriteFile(library, randomLibrary(), 0o600)
}
