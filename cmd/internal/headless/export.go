package headless

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/mapio/atomicfile"
	"legwright/mapio/gpx"
	"legwright/mapio/planfile"
)

const exportHelp = `
PLAN is a plan file, NAME.legplan, or demo for the demo plan. Legs that follow on from
each other become one route, marks become waypoints; --track writes each route as a
track too. Escapes are routes of their own, E03-1 the first from the start of leg 3; one
that is not ticked begins with DRAFT. An existing file is overwritten, a read-only one only with --force, a plan
never; if writing fails the old file stays as it was.
`

// leastNameLimit is the shortest limit of names that receivers are known to
// have (common practice, no source).
const leastNameLimit = 10

func exportCommand() command {
	return command{
		name:  "export",
		usage: "PLAN --gpx OUT [--name-limit 30] [--track] [--force]",
		about: "export the legs and marks of a plan as GPX",
		run:   runExport,
	}
}

func runExport(c command, args []string, s streams) error {
	o := newOptions(c, exportHelp)
	out := o.String("gpx", "", "the `FILE` to write")
	limit := o.Int("name-limit", gpx.DefaultNameLimit, "the longest name, `N` letters (default 30)")
	track := o.Bool("track", false, "write the route as a track too")
	force := o.Bool("force", false, "overwrite a read-only file")
	words, err := o.read(args, s)
	if err != nil {
		return err
	}
	name, err := onePlan(words)
	switch {
	case err != nil:
		return err
	case *out == "":
		return usagef("--gpx is missing: name the file to write, such as --gpx walk.gpx")
	case *limit < leastNameLimit || *limit > 255:
		return usagef("--name-limit %d: want a number from %d to 255", *limit, leastNameLimit)
	}
	return export(name, target{*out, *force}, gpx.Options{NameLimit: *limit, Track: *track, Time: time.Now().UTC()}, s)
}

// target is a file to write; with force over a read-only one.
type target struct {
	file  string
	force bool
}

// write writes the content whole or not at all.
func (t target) write(content []byte) error {
	err := atomicfile.WriteBytes(t.file, atomicfile.Options{ReadOnly: t.force}, content)
	if readOnly := new(atomicfile.ReadOnly); errors.As(err, &readOnly) {
		return fmt.Errorf("%s is read-only: name another file, or overwrite it with --force", readOnly.Path)
	}
	return err
}

// export writes the plan's GPX and says what is in it.
func export(name string, to target, o gpx.Options, s streams) error {
	out := to.file
	if sameFile(name, out) {
		return fmt.Errorf("%s is the plan itself: name another file for the GPX", out)
	}
	if strings.EqualFold(filepath.Ext(out), planfile.Ext) {
		return fmt.Errorf("%s is the name of a plan: name a .gpx file for the GPX", out)
	}
	reader, _, err := readGround(name, s)
	if err != nil {
		return err
	}
	p := reader.Plan()
	x, err := leg.Export(p, reader.Model())
	if err != nil {
		return err
	}
	off, err := escape.Export(p, reader.Model())
	if err != nil {
		return err
	}
	if len(x.Marks) == 0 && len(x.Routes) == 0 {
		return errors.New("the plan has neither legs nor marks: there is nothing to write")
	}
	var text bytes.Buffer
	if err := gpx.Write(&text, gpx.FromLegs(x, off, p.Date), o); err != nil {
		return err
	}
	if err := to.write(text.Bytes()); err != nil {
		return err
	}
	speakRaised(leg.Raised(reader.Legs()), s)
	speakRaised(escape.Of(reader).Raised(), s)
	text.Reset()
	fmt.Fprintf(&text, "%s: %s in %s, %s", out, count(len(p.Legs), "leg"), count(len(x.Routes), "route"), count(len(x.Marks), "mark"))
	if len(off) > 0 {
		text.WriteString(", " + count(len(off), "escape"))
	}
	_, err = fmt.Fprintln(s.out, text.String())
	return err
}

// sameFile reports whether two names lead to one file that exists.
func sameFile(a, b string) bool {
	first, errA := os.Stat(a)
	second, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(first, second)
}

// count writes a number of things.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
