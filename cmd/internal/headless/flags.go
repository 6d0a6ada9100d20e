package headless

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"legwright/app/geodesy"
	"legwright/mapio/openfile"
)

// options is a flag set that reports in the house's way.
type options struct {
	*flag.FlagSet
	c    command
	more string // further help: rows, columns, keys
}

func newOptions(c command, more string) *options {
	o := &options{FlagSet: flag.NewFlagSet(c.name, flag.ContinueOnError), c: c, more: more}
	o.Usage = func() {}
	return o
}

// read parses args, flags and plain words in any order, and returns the words.
// It writes the help itself and returns flag.ErrHelp.
func (o *options) read(args []string, s streams) ([]string, error) {
	var said bytes.Buffer
	o.SetOutput(&said)
	var words []string
	for {
		if err := o.Parse(args); err == flag.ErrHelp {
			o.help(s)
			return nil, err
		} else if err != nil {
			return nil, usagef("%s", flagWords(err))
		}
		if o.NArg() == 0 {
			return words, nil
		}
		words = append(words, o.Arg(0))
		args = o.Args()[1:]
	}
}

// flagWords rewrites the messages of package flag in the way flags are typed.
func flagWords(err error) string {
	text := strings.Replace(err.Error(), " for flag -", " for --", 1)
	if name, ok := strings.CutPrefix(text, "flag provided but not defined: -"); ok {
		return "there is no flag --" + strings.TrimPrefix(name, "-")
	}
	if strings.HasPrefix(text, "invalid boolean value") {
		text = strings.Replace(text, " for -", " for --", 1)
		return strings.Replace(text, ": parse error", ": give true or false", 1)
	}
	text = strings.Replace(text, ": parse error", ": give a whole number", 1)
	if name, ok := strings.CutPrefix(text, "flag needs an argument: -"); ok {
		return "--" + strings.TrimPrefix(name, "-") + " needs a value"
	}
	return text
}

// readFlags parses args of a command that takes no plain words.
func (o *options) readFlags(args []string, s streams) error {
	words, err := o.read(args, s)
	if err == nil && len(words) > 0 {
		return usagef("unexpected argument %q", words[0])
	}
	return err
}

func (o *options) help(s streams) {
	if s.manual != nil {
		s.manual.subcommand(o)
		return
	}
	fmt.Fprintf(s.out, "usage: legwright %s %s\n\n%s\n\nflags:\n", o.c.name, o.c.usage, o.c.about)
	o.VisitAll(func(f *flag.Flag) {
		name, about := flag.UnquoteUsage(f)
		fmt.Fprintf(s.out, "  --%-22s %s\n", strings.TrimSpace(f.Name+" "+name), about)
	})
	fmt.Fprintf(s.out, "\n%s\n", strings.TrimSpace(o.more))
}

// set reports whether a flag was given.
func (o *options) set(name string) bool {
	found := false
	o.Visit(func(f *flag.Flag) { found = found || f.Name == name })
	return found
}

// gridWords is the help of --grid.
const gridWords = "the `GRID`: a code such as EPSG:27700, a definition (PROJ string or well-known text), or @FILE.prj, a file with one"

// gridFlag reads a code, a definition, or the name of a file with one.
type gridFlag struct{ system *geodesy.System }

func (g *gridFlag) String() string {
	if g.system == nil {
		return ""
	}
	return string(g.system.Code())
}

func (g *gridFlag) Set(text string) error {
	if name, ok := strings.CutPrefix(text, "@"); ok {
		content, err := readDefinition(name)
		if err != nil {
			return err
		}
		text = content
	}
	if _, err := strconv.Atoi(text); err == nil {
		text = "EPSG:" + text
	}
	system, err := geodesy.Define(text)
	if err == nil {
		g.system = system
	}
	return err
}

// maxDefinitionBytes bounds a file with the definition of a grid.
const maxDefinitionBytes = 64 << 10

func readDefinition(name string) (string, error) {
	f, err := openfile.Open(name)
	if err != nil {
		return "", fmt.Errorf("the definition of the grid cannot be read: %w", err)
	}
	defer f.Close()
	content, err := io.ReadAll(io.LimitReader(f, maxDefinitionBytes+1))
	if err != nil {
		return "", fmt.Errorf("the definition of the grid cannot be read: %w", err)
	}
	if len(content) > maxDefinitionBytes {
		return "", fmt.Errorf("%s has more than %d bytes, too long for the definition of a grid", name, maxDefinitionBytes)
	}
	return string(content), nil
}

// need returns the grid or wrong usage.
func (g *gridFlag) need() (*geodesy.System, error) {
	if g.system == nil {
		return nil, usagef("--grid is missing: give the grid, such as --grid EPSG:27700")
	}
	return g.system, nil
}

// dateFlag reads a calendar day, 2026-11-25.
type dateFlag struct {
	day time.Time
	set bool
}

func (d *dateFlag) String() string {
	if !d.set {
		return ""
	}
	return d.day.Format(time.DateOnly)
}

func (d *dateFlag) Set(text string) error {
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return fmt.Errorf("give a day as year-month-day, such as 2026-11-25")
	}
	d.day, d.set = day, true
	return nil
}

// numberFlag is a finite number within a closed range.
type numberFlag struct {
	value, min, max float64
}

func (n *numberFlag) String() string { return strconv.FormatFloat(n.value, 'g', -1, 64) }

func (n *numberFlag) Set(text string) error {
	v, err := parseNumber([]byte(text))
	if err != nil {
		return err
	}
	if !(v >= n.min && v <= n.max) || math.IsNaN(v) {
		return fmt.Errorf("give a number from %g to %g", n.min, n.max)
	}
	n.value = v
	return nil
}
