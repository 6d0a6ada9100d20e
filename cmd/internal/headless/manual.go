package headless

import (
	"flag"
	"fmt"
	"io"
	"strings"
	"time"

	"legwright/assets/release"
)

// Manual writes the manual page of the program, section 1, in the macros of man(7), from
// the texts that --help prints. The day is the one that the page bears.
func Manual(w io.Writer, day time.Time) error {
	p := &page{w: w}
	p.line(".TH LEGWRIGHT 1 %s %s", quoted(day.Format(time.DateOnly)), quoted(release.Program))
	p.line(".SH NAME\nlegwright \\- a desktop bench for people who navigate by map and compass\n.SH SYNOPSIS")
	for _, way := range ways() {
		p.line(".TP\n.B %s", roff(way[0]))
		p.text(way[1])
	}
	p.line(".SH CAUTION")
	p.text(planningAid)
	p.line(".SH SUBCOMMANDS")
	for _, c := range commands() {
		if err := c.run(c, []string{"--help"}, streams{out: io.Discard, err: io.Discard, manual: p}); err != flag.ErrHelp {
			return fmt.Errorf("the help of %s: %v", c.name, err)
		}
	}
	p.line(".SH EXIT STATUS")
	p.text(exitStatus)
	return p.err
}

// page is a manual page that is being written. It keeps the first error.
type page struct {
	w   io.Writer
	err error
}

func (p *page) line(format string, values ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", values...)
	}
}

func (p *page) text(text string) { p.line("%s", roff(text)) }

// subcommand writes the section of one subcommand.
func (p *page) subcommand(o *options) {
	p.line(".SS %s", roff(o.c.name))
	p.text(o.c.about + ".")
	p.line(".PP\n.B legwright %s", roff(o.c.name+" "+o.c.usage))
	o.VisitAll(func(f *flag.Flag) {
		name, about := flag.UnquoteUsage(f)
		p.line(".TP\n.B %s", roff(strings.TrimSpace("--"+f.Name+" "+name)))
		p.text(about)
	})
	for part := range strings.SplitSeq(strings.TrimSpace(o.more), "\n\n") {
		p.line(".PP")
		if strings.Contains("\n"+part, "\n ") { // a list or table keeps its lines
			p.line(".nf\n%s\n.fi", roff(part))
			continue
		}
		p.text(part)
	}
}

// roff writes text so that no character of it is a request or an escape.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "^", `\(ha`, "~", `\(ti`, "`", `\(ga`).Replace(text)
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, ".") {
			lines[i] = `\&` + line
		}
	}
	return strings.Join(lines, "\n")
}

func quoted(text string) string { return `"` + roff(text) + `"` }
