// Command dev is the project's task runner. It imports no Fyne, so that it
// builds on a machine that has nothing but Go; what else a task needs it
// names and installs.
//
//	go run ./cmd/dev run     open the bench on the demo
//	go run ./cmd/dev test    everything that continuous integration checks
//	go run ./cmd/dev bench   the speed figures, as a table or --json
package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
)

// task is one thing the runner can do.
type task struct {
	name, about string
	do          func(ctx context.Context, r *runner, args []string) error
}

func tasks() []task {
	return []task{
		{"run", "open the bench on the demo (without a display: the same job headless)", runBench},
		{"test", "check everything that continuous integration checks", runTests},
		{"window", "the window tests alone: a real window, a real mouse", runWindowTests},
		{"bench", "print the speed figures: bench [--json] [NAME…]", runFigures},
		{"kills", "kill the bench at work and compare what it restores: kills [N [SEED]]", runKills},
		{"closes", "close the bench in every way; each must end by itself: closes [N]", runCloses},
		{"fuzz", "fuzz every parser for a while: fuzz [SECONDS]", runFuzz},
		{"setup", "install the system packages that test and bench use", runSetup},
		{"words", "list every text a person can meet: words [-n N -seed S]", runWords},
		{"windows", "build for Windows and try commands, files, window and crashes under Wine: windows [KILLS]", runWindows},
		{"notices", "write the licences of the modules that the program is built from", runNotices},
		{"vet", "vet for Windows and macOS what needs no C compiler of theirs", func(ctx context.Context, r *runner, _ []string) error {
			return r.vetSystems(ctx, "windows", "darwin")
		}},
		{"vulns", "compare the program with the known vulnerabilities of Go modules", func(ctx context.Context, r *runner, _ []string) error {
			return r.checkVulnerabilities(ctx)
		}},
		{"package", "make the packages for Linux and Windows and try them: package [linux] [windows]", runPackage},
	}
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(start(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

func start(ctx context.Context, args []string, out, errw io.Writer) int {
	if len(args) > 0 {
		for _, t := range tasks() {
			if t.name == args[0] {
				return report(t.do(ctx, newRunner(out, errw), args[1:]), errw)
			}
		}
	}
	fmt.Fprintln(errw, "usage: go run ./cmd/dev TASK")
	for _, t := range tasks() {
		fmt.Fprintf(errw, "  %-8s %s\n", t.name, t.about)
	}
	return 2
}

func report(err error, errw io.Writer) int {
	if err != nil {
		fmt.Fprintln(errw, "dev:", err)
		return 1
	}
	return 0
}
