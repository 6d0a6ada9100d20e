package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strconv"
	"strings"
)

// tally counts tests over several runs of go test.
type tally struct {
	passed, failed, skipped int
	skips                   map[string]int // what a skip said → how often
}

// event is one line of go test -json (documented by `go doc test2json`).
type event struct {
	Action, Package, Test, Output string
}

// print closes a run with one line of counts, and each reason for a skip.
func (t *tally) print(out io.Writer) {
	for reason, n := range t.skips {
		fmt.Fprintf(out, "skipped %d×: %s\n", n, reason)
	}
	fmt.Fprintf(out, "%d passed, %d failed, %d skipped\n", t.passed, t.failed, t.skipped)
}

// goTest runs go test with args and adds to the tally. It prints the closing
// line of each package, and all of what a failed test printed. What go test would
// vet is a part of what the step "go vet" vets of every package.
func (r *runner) goTest(ctx context.Context, sum *tally, args ...string) error {
	cmd := r.command(ctx, "go", slices.Concat([]string{"test", "-json", "-vet=off", "-p", strconv.Itoa(roomsAtOnce())}, args)...)
	cmd.Stdout = nil
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return err
	}
	sum.read(pipe, r.out)
	if err := cmd.Wait(); err != nil {
		return fmt.Errorf("go test %s: %w", strings.Join(args, " "), err)
	}
	return nil
}

// roomsAtOnce is how many rooms are tested at once: twice as many as there are processors, for
// tests of windows and of jobs beside them wait for half of their time.
func roomsAtOnce() int { return 2 * runtime.NumCPU() }

// read follows the events of one run.
func (t *tally) read(in io.Reader, out io.Writer) {
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, 4<<20)
	printed := map[string][]string{}
	for lines.Scan() {
		var e event
		if json.Unmarshal(lines.Bytes(), &e) != nil {
			fmt.Fprintln(out, lines.Text())
			continue
		}
		key := e.Package + " " + e.Test
		if e.Action == "output" || e.Action == "build-output" {
			if e.Action == "build-output" {
				fmt.Fprint(out, e.Output)
			}
			printed[key] = append(printed[key], e.Output)
			continue
		}
		if t.count(e, printed[key], out) {
			delete(printed, key)
		}
	}
}

// count takes in the end of a test or of a package. It reports whether the
// event was an end.
func (t *tally) count(e event, printed []string, out io.Writer) bool {
	switch {
	case e.Action != "pass" && e.Action != "fail" && e.Action != "skip":
		return false
	case e.Test == "" && e.Action != "skip":
		closing(out, e, printed)
	case e.Test == "":
	case e.Action == "pass":
		t.passed++
	case e.Action == "fail":
		t.failed++
		fmt.Fprint(out, strings.Join(printed, ""))
	case e.Action == "skip":
		t.skipped++
		t.note(printed)
	}
	return true
}

// closing prints a package's own last line, or all it said when it failed.
func closing(out io.Writer, e event, printed []string) {
	if e.Action == "fail" {
		fmt.Fprint(out, strings.Join(printed, ""))
		return
	}
	for i := len(printed) - 1; i >= 0; i-- {
		if strings.HasPrefix(printed[i], "ok") {
			fmt.Fprint(out, printed[i])
			return
		}
	}
}

// add takes in the counts of another tally.
func (t *tally) add(o *tally) {
	t.passed, t.failed, t.skipped = t.passed+o.passed, t.failed+o.failed, t.skipped+o.skipped
	for reason, n := range o.skips {
		t.skip(reason, n)
	}
}

func (t *tally) skip(reason string, n int) {
	if t.skips == nil {
		t.skips = map[string]int{}
	}
	t.skips[reason] += n
}

// note remembers why a test was skipped.
func (t *tally) note(printed []string) {
	for _, line := range printed {
		_, reason, ok := strings.Cut(line, ".go:")
		if _, text, found := strings.Cut(reason, ": "); ok && found {
			t.skip(strings.TrimSpace(text), 1)
			return
		}
	}
}
