package headless

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/mapio/atomicfile"
	mapexport "legwright/mapio/export"
	"legwright/mapio/gpx"
	"legwright/mapio/planfile"
)

const exportHelp = `
PLAN is a plan file (NAME.legplan), or demo for the demo plan.

In GPX, legs that follow on from each other become one route, and marks become waypoints;
--track writes each route as a track too. Escapes are routes of their own; E03-1 is the
first from the start of leg 3. The name of an escape that is not ticked begins with DRAFT,
and the name of anything with a stop begins with STOP; if --name-limit is below 12, ! stands
for either.

GeoJSON and KML contain everything that is named or drawn, each with its cautions. CSV
contains the ledger for spreadsheets.

An existing file is overwritten, but a read-only file only with --force, and a plan never.
If writing fails, the old file stays unchanged.
`

// leastNameLimit is the shortest limit of names that receivers are known to
// have (common practice, no source).
const leastNameLimit = 10

func exportCommand() command {
	return command{
		name:  "export",
		usage: "PLAN (--gpx|--geojson|--kml|--csv) OUT [--name-limit 30] [--ascii] [--track] [--force]",
		about: "export a plan as GPX, GeoJSON, KML or CSV",
		run:   runExport,
	}
}

func runExport(c command, args []string, s streams) error {
	o := newOptions(c, exportHelp)
	outs := map[mapexport.Format]*string{}
	for _, f := range mapexport.Formats() {
		outs[f] = o.String(string(f)[1:], "", "the `FILE` to write as "+strings.ToUpper(string(f)[1:]))
	}
	limit := o.Int("name-limit", gpx.DefaultNameLimit, "cut names in GPX to `N` letters (default 30)")
	plain := o.Bool("ascii", false, "write names in GPX without accents")
	track := o.Bool("track", false, "write each GPX route as a track too")
	force := o.Bool("force", false, "overwrite a read-only file")
	words, err := o.read(args, s)
	if err != nil {
		return err
	}
	name, err := onePlan(words)
	if err != nil {
		return err
	}
	if *limit < leastNameLimit || *limit > 255 {
		return usagef("--name-limit %d: give a number from %d to 255", *limit, leastNameLimit)
	}
	format, out, err := oneFormat(outs)
	if err != nil {
		return err
	}
	return export(name, format, target{file: out, force: *force}, gpx.Options{NameLimit: *limit, Plain: *plain, Track: *track, Time: time.Now().UTC()}, s)
}

// oneFormat returns the one format that the command line names, and its file.
func oneFormat(outs map[mapexport.Format]*string) (format mapexport.Format, out string, err error) {
	for _, f := range mapexport.Formats() {
		switch {
		case *outs[f] != "" && out != "":
			return "", "", usagef("name one file to write, not several")
		case *outs[f] != "":
			format, out = f, *outs[f]
		}
	}
	if out == "" {
		return "", "", usagef("name the file to write, such as --gpx walk.gpx")
	}
	return format, out, nil
}

// target is a file to write; with force over a read-only one.
type target struct {
	file  string
	force bool
	// private is for personal data: nobody but the owner can read the file.
	private bool
}

// write writes the content whole or not at all.
func (t target) write(content []byte) error {
	return t.fill(func(w io.Writer) error { _, err := w.Write(content); return err })
}

// readOnlyWords says of a read-only file how to overwrite it.
func readOnlyWords(err error) error {
	if readOnly := new(atomicfile.ReadOnly); errors.As(err, &readOnly) {
		return fmt.Errorf("%s is read-only: name another file, or overwrite it with --force", readOnly.Path)
	}
	return err
}

// export writes the plan in a format and says what is in it.
func export(name string, format mapexport.Format, to target, o gpx.Options, s streams) error {
	out := to.file
	if sameFile(name, out) {
		return fmt.Errorf("%s is the plan itself: name another file to export to", out)
	}
	if strings.EqualFold(filepath.Ext(out), planfile.Ext) {
		return fmt.Errorf("%s is the name of a plan: name a %s file to export to", out, format)
	}
	reader, _, err := readGround(name, s)
	if err != nil {
		return err
	}
	text, err := mapexport.Bytes(reader, format, o)
	if err != nil {
		return err
	}
	if err := to.write(text); err != nil {
		return err
	}
	speakRaised(leg.Raised(reader.Legs()), s)
	speakRaised(escape.Of(reader).Raised(), s)
	p := reader.Plan()
	parts := []string{count(len(p.Legs), "leg") + " in " + count(len(p.Chains()), "route"), count(len(p.Marks), "mark")}
	if format == mapexport.CSV {
		parts = []string{count(len(p.Legs), "leg")}
	} else if len(p.Escapes) > 0 {
		parts = append(parts, count(len(p.Escapes), "escape"))
	}
	_, err = fmt.Fprintf(s.out, "%s: %s\n", out, strings.Join(parts, ", "))
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
