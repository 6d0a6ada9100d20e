package headless

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// outcome is what one run left behind.
type outcome struct {
	code     int
	out, err string
}

// answersRows are the commands that answer rows, see runBatch. Only they start goroutines
// of this room.
var answersRows = []string{"field", "gridref", "height", "light", "pace", "project", "sight"}

// run runs a command line with a standard input. A short run, as under the race detector,
// ends the test at a command that does not answer rows; any other run goes through all.
func run(t *testing.T, stdin string, args ...string) outcome {
	t.Helper()
	if testing.Short() && (len(args) == 0 || !slices.Contains(answersRows, args[0])) {
		t.Skip("this command starts no goroutine of its room")
	}
	var out, errw bytes.Buffer
	code := Run(args, strings.NewReader(stdin), &out, &errw)
	return outcome{code, out.String(), errw.String()}
}

// rows returns the lines of the standard output, each cut at its tabs.
func (o outcome) rows() [][]string {
	var rows [][]string
	for line := range strings.Lines(o.out) {
		rows = append(rows, strings.Split(strings.TrimSuffix(line, "\n"), "\t"))
	}
	return rows
}

// object returns the standard output as a JSON object.
func (o outcome) object(t *testing.T) map[string]any {
	t.Helper()
	var got map[string]any
	if err := json.Unmarshal([]byte(o.out), &got); err != nil {
		t.Fatalf("output is not a JSON object: %v\n%s%s", err, o.out, o.err)
	}
	return got
}

func float(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%q is not a number", text)
	}
	return v
}

// wantNear compares with a tolerance in the value's own unit; NaN fails.
func wantNear(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %v, want %v ± %v", name, got, want, tolerance)
	}
}

// wantCode checks the exit code and shows the output if it is another.
func wantCode(t *testing.T, o outcome, code int) {
	t.Helper()
	if o.code != code {
		t.Errorf("exit code: got %d, want %d\nout: %s\nerr: %s", o.code, code, o.out, o.err)
	}
}

func TestKnown(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"sight", "fit", "find-grid", "locate", "rectify", "project", "field", "gridref", "legs", "profile", "visible", "escapes", "export", "slip", "identify"} {
		if !Known(name) {
			t.Errorf("%s: not known", name)
		}
	}
	for _, name := range []string{"", "help", "Sight", "walk.legplan", "--help", "bench"} {
		if Known(name) {
			t.Errorf("%q: known", name)
		}
	}
}

// TestUsage: exit codes and what is said, for everything that is wrong on the
// command line itself.
func TestUsage(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		args []string
		code int
		says string // on the standard error
	}{
		{"nothing", nil, 2, "there is no subcommand"},
		{"unknown command", []string{"wander"}, 2, `no subcommand "wander"`},
		{"unknown flag", []string{"sight", "--colour", "red"}, 2, "no flag --colour"},
		{"flag without value", []string{"sight", "--grid"}, 2, "--grid needs a value"},
		{"no grid", []string{"project"}, 2, "--grid is missing"},
		{"grid not a code", []string{"project", "--grid", "british"}, 2, "such as EPSG:27700"},
		{"grid unknown", []string{"project", "--grid", "EPSG:4277"}, 2, "EPSG:4277 is not in the catalogue"},
		{"grid huge", []string{"project", "--grid", "EPSG:99999999999999999999"}, 2, "such as EPSG:27700"},
		{"datum unknown", []string{"project", "--grid", "27700", "--datum", "nad27"}, 2, "give own or wgs84"},
		{"stray word", []string{"project", "--grid", "27700", "rows.txt"}, 2, `unexpected argument "rows.txt"`},
		{"odd figures", []string{"gridref", "--grid", "27700", "--figures", "5"}, 2, "2, 4, 6, 8 or 10"},
		{"too many figures", []string{"gridref", "--grid", "27700", "--figures", "12"}, 2, "2, 4, 6, 8 or 10"},
		{"figures both ways", []string{"gridref", "--grid", "27700", "--figures", "6", "--inverse"}, 2, "--figures does not go with"},
		{"no date", []string{"sight", "--grid", "27700", "--from", "NN123456", "--to", "NN124456"}, 2, "--date is missing"},
		{"bad date", []string{"sight", "--grid", "27700", "--date", "25.11.2026"}, 2, "year-month-day"},
		{"no such day", []string{"field", "--date", "2026-02-29"}, 2, "year-month-day"},
		{"no from", []string{"sight", "--grid", "27700", "--date", "2026-11-25", "--to", "NN124456"}, 2, "--from or --to is missing"},
		{"batch and from", []string{"sight", "--grid", "27700", "--date", "2026-11-25", "--batch", "--from", "NN124456"}, 2, "--batch does not go with"},
		{"height not a number", []string{"field", "--height-km", "NaN"}, 2, "not a plain number"},
		{"height out of range", []string{"field", "--height-km", "900"}, 2, "from -1 to 850"},
		{"no points", []string{"fit", "--grid", "27700"}, 2, "--points is missing"},
		{"medium unknown", []string{"fit", "--grid", "27700", "--medium", "cubic"}, 2, "give scan, photograph or drawn"},
		{"sigma zero", []string{"fit", "--grid", "27700", "--point-sigma-px", "0"}, 2, "from 0.001"},
		{"at not a pair", []string{"fit", "--grid", "27700", "--at", "12"}, 2, "a comma between"},
		{"at infinite", []string{"fit", "--grid", "27700", "--at", "Inf,2"}, 2, "a comma between"},
		{"legs without plan", []string{"legs"}, 2, "name one plan"},
		{"export without plan", []string{"export", "--gpx", "x.gpx"}, 2, "name one plan"},
		{"export without gpx", []string{"export", "a.legplan"}, 2, "name the file to write, such as --gpx"},
		{"export name limit", []string{"export", "a.legplan", "--gpx", "x.gpx", "--name-limit", "3"}, 2, "from 10"},
		{"name limit in words", []string{"export", "a.legplan", "--gpx", "x.gpx", "--name-limit", "ten"}, 2, "--name-limit: give a whole number"},
		{"switch with a word", []string{"legs", "a.legplan", "--json=maybe"}, 2, "--json: give true or false"},
	} {
		got := run(t, "", c.args...)
		if got.code != c.code || !strings.Contains(got.err, c.says) || got.out != "" {
			t.Errorf("%s: got code %d, error %q, output %q; want code %d, %q and no output", c.name, got.code, got.err, got.out, c.code, c.says)
		}
	}
}

func TestHelp(t *testing.T) {
	t.Parallel()
	for _, c := range commands() {
		for _, args := range [][]string{{c.name, "--help"}, {c.name, "-h"}, {c.name, "-help"}} {
			got := run(t, "", args...)
			wantCode(t, got, 0)
			if !strings.HasPrefix(got.out, "usage: legwright "+c.name+" ") || !strings.Contains(got.out, "\nflags:\n  --") || got.err != "" {
				t.Errorf("%v: got output %q, error %q, want usage and flags", args, got.out, got.err)
			}
		}
	}
	var summary bytes.Buffer
	Summary(&summary)
	for _, c := range commands() {
		if !strings.Contains(summary.String(), "  "+c.name+" ") {
			t.Errorf("summary leaves out %s", c.name)
		}
	}
	if !strings.Contains(summary.String(), "planning aid") {
		t.Error("summary leaves out the caution")
	}
}

func TestFlagsTakeOneDashAsWell(t *testing.T) {
	t.Parallel()
	got := run(t, "400000 100000\n", "gridref", "-grid=27700", "-figures", "4")
	if got.code != 0 || got.out != "SU0000\n" {
		t.Errorf("got %d %q %q, want SU0000", got.code, got.out, got.err)
	}
}
