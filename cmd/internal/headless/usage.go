package headless

import (
	"fmt"
	"io"
)

// ways are the calls that open the bench, each with what it does.
func ways() [][2]string {
	return [][2]string{
		{"legwright", "open the bench, on the plan you had open last"},
		{"legwright demo", demoAbout},
		{"legwright PICTURE...", "open the bench on a picture of a map, or several"},
		{"legwright NAME.legplan", "open the bench on a plan; NAME.legpack unpacks and opens a packed one"},
		{"legwright SUBCOMMAND ...", "run without a window; the subcommands are:"},
	}
}

const demoAbout = "open the bench on the demo"

// DemoUsage is the help of the demo.
func DemoUsage(w io.Writer) {
	fmt.Fprintf(w, "usage: legwright demo\n\n%s: a plan on an invented island, with its map and terrain\n\n", demoAbout)
	fmt.Fprintln(w, "The demo is part of the program: what you change is saved as a plan of your own. The\nsubcommands take demo as the name of a PLAN too, as in legwright legs demo.")
}

// Usage writes every way to call the program.
func Usage(w io.Writer) {
	for _, way := range ways() {
		fmt.Fprintf(w, "%-29s %s\n", way[0], way[1])
	}
	fmt.Fprintln(w)
	Summary(w)
}

// exitStatus and planningAid end the list of subcommands.
const (
	exitStatus  = "Exit status: 0 done, 1 something failed, 2 wrong usage."
	planningAid = "Legwright is a planning aid: check every bearing by eye against the map; ground and weather overrule the plan."
)

// Summary writes a line for every subcommand, and what holds for all of them.
func Summary(w io.Writer) {
	for _, c := range commands() {
		fmt.Fprintf(w, "  %-10s %s\n", c.name, c.about)
	}
	fmt.Fprintf(w, "\nlegwright SUBCOMMAND --help explains each of them.\n%s\n%s\n", exitStatus, planningAid)
}
