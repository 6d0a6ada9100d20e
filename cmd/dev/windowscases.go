package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
)

// winCase is one command, what it reads, and the file or folder that it writes.
type winCase struct {
	in, wrote string
	args      []string
}

// winCases has every subcommand of the program at least once; a test compares it with the
// list of subcommands. The rest are refusals.
func winCases() []winCase {
	const plan = "halvasay.legplan"
	row := func(in, wrote, line string) winCase {
		args := strings.Split(line, " ")
		for i := range args {
			args[i] = strings.ReplaceAll(args[i], "_", " ")
		}
		return winCase{in, wrote, args}
	}
	return []winCase{
		row("", "", "sight --grid EPSG:27700 --date 2026-11-28 --from NL_2745_4314 --to NL_2776_4333 --json"),
		row("", "", "fit --grid EPSG:27700 --points points.csv --json"),
		row("", "", "find-grid --picture halvasay-sheet.png"),
		row("", "", "locate --picture halvasay-sheet.png"),
		row("", "straight.png", "rectify --picture halvasay-sheet.png --grid EPSG:27700 --points points.csv --out straight.png"),
		row("", "", "picture halvasay-scan.jpg"),
		row("56.5 -5\n95 0\n", "", "project --grid EPSG:32630"),
		row("56.5 -5\n", "", "field --date 2026-11-28"),
		row("27600 743300\n", "", "height --terrain halvasay-terrain.tif --grid EPSG:27700"),
		row("56.5 -5\n", "", "light --date 2026-11-28 --zone Europe/London"),
		row("1000 100 20\n", "", "pace --method naismith-metric --langmuir"),
		row("27455 743150\n", "", "gridref --grid EPSG:27700"),
		row("NL 27455 43150\r\n", "", "gridref --grid EPSG:27700 --inverse"),
		row("", "", "legs "+plan),
		row("", "", "legs "+plan+" --json"),
		row("", "", "profile "+plan+" --json"),
		row("", "", "visible "+plan+" --from Skelvig_quay"),
		row("", "", "escapes "+plan+" --json"),
		row("", "", "identify --plan "+plan+" --from Skelvig_quay --bearing 060_grid"),
		row("", "", "slip --right 057_grid --said 237_grid"),
		row("", "plan.gpx", "export "+plan+" --gpx plan.gpx"),
		row("", "plan.geojson", "export "+plan+" --geojson plan.geojson"),
		row("", "plan.kml", "export "+plan+" --kml plan.kml"),
		row("", "plan.csv", "export "+plan+" --csv plan.csv"),
		row("", "hill.pdf", "card "+plan+" --form hill --paper a4 --pdf hill.pdf"),
		row("", "legs.pdf", "card "+plan+" --form legs --paper letter --pdf legs.pdf"),
		row("", "sheet.pdf", "card "+plan+" --form sheet --paper a5 --pdf sheet.pdf"),
		row("", "plan.legpack", "pack "+plan+" --to plan.legpack"),
		row("", "out", "unpack plan.legpack --to out"),
		row("", "", "legs missing.legplan"),
		row("", "", "legs halvasay-scan.jpg"),
		row("", "", "legs"),
		row("", "", "nonsense"),
	}
}

// winInputs are files of the demo that the commands read.
func winInputs() []string {
	return []string{"halvasay.legplan", "halvasay-scan.jpg", "halvasay-sheet.png", "halvasay-terrain.tif"}
}

var errDiffers = errors.New("commands do something else under Wine than here")

// compareAll runs every case here and under Wine, in two folders whose names hold what
// people's folders hold.
func compareAll(ctx context.Context, r *runner, w *wine, here string) error {
	name := "Glüne a’ Bhràigh ż " + strings.Repeat("n", 120)
	folders := [2]string{filepath.Join(w.dir, "here", name), filepath.Join(w.dir, "there", name)}
	for _, f := range folders {
		if err := r.layOut(f); err != nil {
			return err
		}
	}
	differ := 0
	for _, c := range winCases() {
		diff, err := compare(c,
			exec.CommandContext(ctx, here, c.args...), place{folders[0], r.env},
			exec.CommandContext(ctx, "wine", append([]string{w.program}, c.args...)...), place{folders[1], w.environment()})
		if ctx.Err() != nil && differ == 0 {
			return ctx.Err()
		}
		if err != nil {
			return err
		}
		if ctx.Err() != nil {
			break // what is cut short differs by that
		}
		if diff != "" {
			differ++
			fmt.Fprintf(r.out, "DIFFERS  %s\n%s", strings.Join(c.args, " "), diff)
			continue
		}
		fmt.Fprintf(r.out, "same     %s\n", strings.Join(c.args, " "))
	}
	fmt.Fprintln(r.out, "by right the paths of files differ")
	for _, d := range differsByRight {
		fmt.Fprintf(r.out, "by right %s differs\n", d.what)
	}
	if differ > 0 {
		return fmt.Errorf("%w: %d of %d commands", errDiffers, differ, len(winCases()))
	}
	return nil
}

// layOut makes a folder with what the commands read.
func (r *runner) layOut(folder string) error {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	for _, name := range winInputs() {
		data, err := os.ReadFile(filepath.Join(r.root, "assets", "demo", name))
		if err == nil {
			err = os.WriteFile(filepath.Join(folder, name), data, 0o600)
		}
		if err != nil {
			return err
		}
	}
	return os.WriteFile(filepath.Join(folder, "points.csv"), []byte(winPoints), 0o600)
}

// winPoints are four grid intersections of the demo's sheet, from assets/demo/truth.json.
const winPoints = "col,row,easting,northing\n400,300,21000,748000\n4400,300,31000,748000\n4400,3500,31000,740000\n400,3500,21000,740000\n"

// place is where a command runs.
type place struct {
	folder string
	env    []string
}

// outcome is what a command left: its exit status, and by name what it printed and wrote.
type outcome struct {
	status int
	texts  map[string]string
}

// compare runs both commands side by side and says how they differ, in a line each; nothing where they do not.
func compare(c winCase, here *exec.Cmd, at place, there *exec.Cmd, in place) (string, error) {
	var a outcome
	done := make(chan error, 1)
	go func() {
		var err error
		a, err = c.run(here, at)
		done <- err
	}()
	b, err := c.run(there, in)
	if err := errors.Join(<-done, err); err != nil {
		return "", err
	}
	return a.differs(b), nil
}

// run starts the command and waits for it. A status that is not 0 is no error here.
func (c winCase) run(cmd *exec.Cmd, p place) (outcome, error) {
	var out, errw bytes.Buffer
	cmd.Dir, cmd.Env, cmd.Stdin, cmd.Stdout, cmd.Stderr = p.folder, p.env, strings.NewReader(c.in), &out, &errw
	var exit *exec.ExitError
	if err := cmd.Run(); err != nil && !errors.As(err, &exit) {
		return outcome{}, fmt.Errorf("%s: %w", strings.Join(cmd.Args, " "), err)
	}
	o := outcome{cmd.ProcessState.ExitCode(), map[string]string{"standard output": out.String(), "standard error": errw.String()}}
	if c.wrote != "" {
		if err := o.read(p.folder, c.wrote); err != nil {
			return outcome{}, err
		}
	}
	for name, text := range o.texts {
		o.texts[name] = leveled(text, p.folder)
	}
	return o, nil
}

// read takes in the file that a command wrote, or all files of the folder. A command that
// wrote none leaves none.
func (o outcome) read(folder, wrote string) error {
	return filepath.WalkDir(filepath.Join(folder, wrote), func(path string, e fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) {
			o.texts[wrote] = "not written"
			return nil
		}
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(folder, path)
		o.texts[name] = string(data)
		return err
	})
}

// differsByRight is what the two systems say each in its own way, or what differs from one
// run to the next.
var differsByRight = []struct {
	what    string
	pattern *regexp.Regexp
	with    string
}{
	{"how long a search took", regexp.MustCompile(`took [0-9.]+ s`), "took TIME"},
	{"the time in a GPX", regexp.MustCompile(`<metadata>([^\n]*\n)*?\s*<time>[^<]*</time>`), "<time>NOW</time>"},
	{"what the system says of a missing file", regexp.MustCompile(`no such file or directory|File not found\.`), "NO FILE"},
}

// leveled replaces what differs by right, and the folder in the system's own notation.
func leveled(text, folder string) string {
	windows := windowsPath(folder)
	if strings.Contains(text, windows) {
		text = strings.ReplaceAll(text, windows, "FOLDER")
		text = strings.ReplaceAll(text, `\`, "/")
	}
	text = strings.ReplaceAll(text, folder, "FOLDER")
	for _, d := range differsByRight {
		text = d.pattern.ReplaceAllString(text, d.with)
	}
	return text
}

// windowsPath is a whole path of this machine as Windows names it under Wine.
func windowsPath(path string) string { return `Z:` + strings.ReplaceAll(path, "/", `\`) }

// differs says where b is not as a, a line for each text.
func (a outcome) differs(b outcome) string {
	var out strings.Builder
	if a.status != b.status {
		fmt.Fprintf(&out, "  exit status: here %d, under Wine %d\n", a.status, b.status)
	}
	names := map[string]bool{}
	for name := range a.texts {
		names[name] = true
	}
	for name := range b.texts {
		names[name] = true
	}
	for name := range names {
		if x, y := a.texts[name], b.texts[name]; x != y {
			n := 0
			for n < len(x) && n < len(y) && x[n] == y[n] {
				n++
			}
			fmt.Fprintf(&out, "  %s, from byte %d: here %.80q, under Wine %.400q\n", name, n, x[n:], y[n:])
		}
	}
	return out.String()
}
