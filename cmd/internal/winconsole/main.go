// Command winconsole is legwright.com on Windows, the twin of legwright.exe for consoles and
// scripts. Windows gives a program of windows no console, and neither cmd nor PowerShell waits
// for it; this program is one of the console. It starts legwright.exe beside it, carries
// what is typed and printed, and ends with the same status.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

func main() {
	self, err := os.Executable()
	if err == nil {
		program := strings.TrimSuffix(self, filepath.Ext(self)) + ".exe"
		err = run(exec.Command(program, os.Args[1:]...), os.Stdin, os.Stdout, os.Stderr)
	}
	var ended *exec.ExitError
	if errors.As(err, &ended) {
		os.Exit(ended.ExitCode())
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "legwright:", err)
		os.Exit(1)
	}
}

// run runs the program on the streams of this one.
func run(program *exec.Cmd, in, out, errw *os.File) error {
	program.Stdin, program.Stdout, program.Stderr = in, out, errw
	if console(out) {
		program.Stdout = carried{out}
	}
	if console(errw) {
		program.Stderr = carried{errw}
	}
	if !console(in) {
		return program.Run()
	}
	program.Stdin = nil
	typed, err := program.StdinPipe()
	if err != nil {
		return err
	}
	go func() {
		_, _ = io.Copy(typed, in) // until the program ends: it need not read all
		typed.Close()
	}()
	return program.Run()
}

// carried hides the file below it, so that the program gets a pipe: a console of this program
// would be of no use to it. Files and pipes it gets as they are.
type carried struct{ io.Writer }

// console reports whether a stream is a console, or no file at all.
func console(f *os.File) bool {
	info, err := f.Stat()
	return err != nil || info.Mode()&os.ModeCharDevice != 0
}
