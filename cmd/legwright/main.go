// Command legwright opens the bench, or runs one headless subcommand. It only
// wires: the bench is app/ui, the subcommands are cmd/internal/headless. Built with the
// tag headless it has the subcommands alone and needs no C compiler.
package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"legwright/assets/release"
	"legwright/cmd/internal/headless"
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
	case asksHelp(first) || first == "help":
		headless.Usage(out)
		return 0, true
	case first == demoArgument && len(args) == 1:
		return 0, false
	case first == demoArgument && asksHelp(args[1]):
		headless.DemoUsage(out)
		return 0, true
	case first == demoArgument && !exists(first):
		fmt.Fprintf(errw, "legwright: unexpected argument %q after demo\n", args[1])
		return 2, true
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

func asksHelp(arg string) bool { return arg == "--help" || arg == "-help" || arg == "-h" }

func exists(name string) bool {
	_, err := os.Stat(name)
	return err == nil
}
