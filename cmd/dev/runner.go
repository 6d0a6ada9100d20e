package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// buildTag makes Fyne check threads cheaply; without it every refresh walks
// the stack. And it leaves out Fyne's own font of pictograms, which is read
// once for each style of text; those of the system serve where names hold any.
const buildTag = "migrated_fynedo,no_emoji"

// headlessTag builds the program without its window.
const headlessTag = "headless"

// referenceEnv names the folder of reference pictures and terrain that may be
// read in place but not copied into the project.
const referenceEnv = "LEGWRIGHT_REFERENCE"

// runner starts commands in the module's root and shows what they print.
type runner struct {
	root      string
	out, errw io.Writer
	env       []string
}

func newRunner(out, errw io.Writer) *runner {
	r := &runner{root: moduleRoot(), out: out, errw: errw, env: os.Environ()}
	if newer := r.toolchain(); newer != "" {
		r.env = append(r.env, "GOTOOLCHAIN="+newer)
	}
	if ref := r.reference(); ref != "" {
		r.env = append(r.env, referenceEnv+"="+ref)
	}
	return r
}

// moduleRoot walks up from the working folder to the one that holds go.mod.
func moduleRoot() string {
	dir, err := os.Getwd()
	if err != nil {
		return "."
	}
	for at := dir; ; at = filepath.Dir(at) {
		if _, err := os.Stat(filepath.Join(at, "go.mod")); err == nil {
			return at
		}
		if at == filepath.Dir(at) {
			return dir
		}
	}
}

// toolchain is the Go that go.mod names, where this one is another. A machine may be set
// to use only the Go installed on it, which can hold known vulnerabilities.
func (r *runner) toolchain() string {
	raw, err := os.ReadFile(filepath.Join(r.root, "go.mod"))
	if err != nil {
		return ""
	}
	for line := range strings.Lines(string(raw)) {
		if name, ok := strings.CutPrefix(strings.TrimSpace(line), "toolchain "); ok && name != runtime.Version() {
			return name + "+auto"
		}
	}
	return ""
}

// reference finds the folder of reference data: the one the environment
// names, or shared/reference beside the checkout.
func (r *runner) reference() string {
	if dir := os.Getenv(referenceEnv); dir != "" {
		return dir
	}
	dir := filepath.Join(filepath.Dir(r.root), "shared", "reference")
	if info, err := os.Stat(dir); err == nil && info.IsDir() {
		return dir
	}
	return ""
}

func (r *runner) command(ctx context.Context, name string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Dir, cmd.Env = r.root, r.env
	cmd.Stdout, cmd.Stderr = r.out, r.errw
	return cmd
}

// do runs one command and names it in the error.
func (r *runner) do(ctx context.Context, name string, args ...string) error {
	if err := r.command(ctx, name, args...).Run(); err != nil {
		return fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return nil
}

// capture runs one command and returns what it printed on standard output.
func (r *runner) capture(ctx context.Context, name string, args ...string) (string, error) {
	cmd := r.command(ctx, name, args...)
	cmd.Stdout = nil
	text, err := cmd.Output()
	if err != nil {
		return string(text), fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return string(text), nil
}

// step prints a heading, runs f and prints how long it took.
func (r *runner) step(name string, f func() error) error {
	fmt.Fprintf(r.out, "── %s\n", name)
	began := time.Now()
	err := f()
	verdict := "ok"
	if err != nil {
		verdict = "FAILED: " + err.Error()
	}
	fmt.Fprintf(r.out, "   %s, %.1f s: %s\n", name, time.Since(began).Seconds(), verdict)
	return err
}

// build compiles the program into out.
func (r *runner) build(ctx context.Context, out string, tags ...string) error {
	args := []string{"build", "-tags", strings.Join(tags, ","), "-o", out}
	return r.do(ctx, "go", append(args, "./cmd/legwright")...)
}
