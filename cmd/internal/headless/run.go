package headless

import (
	"errors"
	"flag"
	"fmt"
	"io"
)

// Exit codes of Run.
const (
	exitDone   = 0
	exitFailed = 1
	exitUsage  = 2
)

// streams are the three standard streams of one run.
type streams struct {
	in  io.Reader
	out io.Writer
	err io.Writer

	manual *page // takes the help as a section of the manual page, if not nil
}

// command is one subcommand: its name, a usage line without the name, a
// sentence, and what it does.
type command struct {
	name, usage, about string
	run                func(c command, args []string, s streams) error
}

func commands() []command {
	return []command{
		sightCommand(),
		fitCommand(),
		findGridCommand(),
		locateCommand(),
		rectifyCommand(),
		pictureCommand(),
		projectCommand(),
		fieldCommand(),
		heightCommand(),
		lightCommand(),
		paceCommand(),
		gridrefCommand(),
		legsCommand(),
		profileCommand(),
		visibleCommand(),
		escapesCommand(),
		exportCommand(),
		packCommand(),
		unpackCommand(),
		cardCommand(),
		slipCommand(),
		identifyCommand(),
	}
}

// Known reports whether name is a subcommand, so that the program must not
// open its window.
func Known(name string) bool {
	_, ok := find(name)
	return ok
}

func find(name string) (command, bool) {
	for _, c := range commands() {
		if c.name == name {
			return c, true
		}
	}
	return command{}, false
}

// errQuiet is a failure that has been reported already, row by row.
var errQuiet = errors.New("some rows failed")

// usageError is wrong usage: exit code 2.
type usageError struct{ text string }

func (e *usageError) Error() string { return e.text }

func usagef(format string, values ...any) error {
	return &usageError{text: fmt.Sprintf(format, values...)}
}

// Run runs the subcommand args[0] with the arguments after it and returns the exit code of
// the process. It closes none of the streams.
func Run(args []string, in io.Reader, out, errw io.Writer) int {
	name := ""
	if len(args) > 0 {
		name = args[0]
	}
	c, ok := find(name)
	if !ok {
		fmt.Fprintf(errw, "legwright: there is no subcommand %q; these exist:\n\n", name)
		Summary(errw)
		return exitUsage
	}
	return conclude(c, c.run(c, args[1:], streams{in: in, out: out, err: errw}), errw)
}

// conclude turns the outcome of a command into its exit code and says on the
// standard error what went wrong.
func conclude(c command, err error, errw io.Writer) int {
	var usage *usageError
	switch {
	case err == nil || errors.Is(err, flag.ErrHelp):
		return exitDone
	case errors.Is(err, errQuiet):
		return exitFailed
	case errors.As(err, &usage):
		fmt.Fprintf(errw, "legwright %s: %s\nusage: legwright %s %s\n(legwright %s --help explains)\n",
			c.name, usage.text, c.name, c.usage, c.name)
		return exitUsage
	}
	fmt.Fprintf(errw, "legwright %s: %s\n", c.name, oneLine(err.Error()))
	return exitFailed
}
