// Command legwright opens the bench, or runs one headless subcommand. It only
// wires: the bench is app/ui, the subcommands are cmd/internal/headless.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"

	"legwright/app/ui"
	"legwright/assets/release"
	"legwright/cmd/internal/headless"
	_ "legwright/cmd/internal/plainlocale" // before the window library looks at the language
)

func main() {
	if code, done := withoutWindow(os.Args[1:], os.Stdin, os.Stdout, os.Stderr); done {
		os.Exit(code)
	}
	if err := openBench(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "legwright:", err)
		os.Exit(1)
	}
}

// errNoScreen: the bench cannot open a window.
var errNoScreen = errors.New("there is no screen to open a window on (DISPLAY names none that answers); legwright --help lists what works without one")

// openBench opens the bench until its window is closed. The window library
// panics where there is no screen; that is an error here.
func openBench(args []string) (err error) {
	if screenless(runtime.GOOS, os.Getenv) {
		return errNoScreen
	}
	defer func() {
		if r := recover(); r != nil {
			if !strings.Contains(fmt.Sprint(r), "GLFW library is not initialized") {
				panic(r)
			}
			err = errNoScreen
		}
	}()
	return ui.Run(args)
}

// screenless reports whether the system names no screen at all. Windows and
// macOS have one without naming it.
func screenless(goos string, getenv func(string) string) bool {
	return goos != "windows" && goos != "darwin" && getenv("DISPLAY") == "" && getenv("WAYLAND_DISPLAY") == ""
}

// withoutWindow does what needs no window. It reports false where the bench
// is to be opened.
func withoutWindow(args []string, in io.Reader, out, errw io.Writer) (code int, done bool) {
	if len(args) == 0 {
		return 0, false
	}
	switch first := args[0]; {
	case headless.Known(first):
		return headless.Run(args, in, out, errw), true
	case first == "--version" || first == "-version" || first == "version":
		fmt.Fprintln(out, release.Program)
		return 0, true
	case first == "--help" || first == "-h" || first == "-help" || first == "help":
		headless.Usage(out)
		return 0, true
	case first == ui.DemoArgument && len(args) == 1:
		return 0, false
	case strings.HasPrefix(first, "-") || !exists(first):
		fmt.Fprintf(errw, "legwright: %q is neither a subcommand nor a file\n", first)
		headless.Usage(errw)
		return 2, true
	}
	for _, name := range args[1:] {
		if !exists(name) {
			fmt.Fprintf(errw, "legwright: there is no file %q\n", name)
			return 1, true
		}
	}
	return 0, false
}

func exists(name string) bool {
	_, err := os.Stat(name)
	return err == nil
}
