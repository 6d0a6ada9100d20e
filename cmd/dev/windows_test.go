package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestWindowsCasesAreWhole: each subcommand of README's table is compared under Wine.
func TestWindowsCasesAreWhole(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile(filepath.Join(moduleRoot(), "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	compared := map[string]bool{}
	for _, c := range winCases() {
		compared[c.args[0]] = true
	}
	rows := 0
	for _, row := range regexp.MustCompile("(?m)^\\| `.*").FindAllString(string(text), -1) {
		cell := regexp.MustCompile(`^[^|]*\|[^|]*`).FindString(row)
		for _, m := range regexp.MustCompile("(?:^\\| |, )`([a-z][a-z-]*)").FindAllStringSubmatch(cell, -1) {
			rows++
			if !compared[m[1]] {
				t.Errorf("the subcommand %s is not compared", m[1])
			}
		}
	}
	if rows < 20 {
		t.Errorf("%d subcommands in README, want 20 or more", rows)
	}
}

// TestWhatDiffersByRight: only what the systems say each in its own way is levelled.
func TestWhatDiffersByRight(t *testing.T) {
	t.Parallel()
	at := func(status int, out, folder string) outcome {
		return outcome{status, map[string]string{"standard output": leveled(out, folder)}}
	}
	for _, row := range []struct {
		name  string
		a, b  outcome
		alike bool
	}{
		{"alike", at(0, "1\n", "/a"), at(0, "1\n", "/b"), true},
		{"line ends", at(0, "1\n", "/a"), at(0, "1\r\n", "/b"), false},
		{"status", at(0, "1\n", "/a"), at(1, "1\n", "/b"), false},
		{"paths", at(0, "/a/out/x\n", "/a"), at(0, `Z:\b\out\x`+"\n", "/b"), true},
		{"search", at(0, "took 3.20 s", "/a"), at(0, "took 3.7 s", "/b"), true},
		{"figures", at(0, "057.1", "/a"), at(0, "057.2", "/b"), false},
		{"GPX", at(0, "<metadata>\n <time>1</time> <wpt>1", "/a"), at(0, "<metadata>\n <time>2</time> <wpt>1", "/b"), true},
		{"GPX, a point", at(0, "<metadata>\n <time>1</time> <wpt>1", "/a"), at(0, "<metadata>\n <time>2</time> <wpt>2", "/b"), false},
	} {
		if got := row.a.differs(row.b); (got == "") != row.alike {
			t.Errorf("%s: got %q, want alike %v", row.name, got, row.alike)
		}
	}
}

// TestReadRooms: a test that fails at its removal alone has passed; what else fails is a fault.
func TestReadRooms(t *testing.T) {
	t.Parallel()
	line := func(action, test, output string) string {
		return `{"Action":"` + action + `","Package":"room","Test":"` + test + `","Output":"` + output + `"}` + "\n"
	}
	removal := line("output", "A", "--- FAIL: A") + line("output", "A", "  x.go:1: "+endsInRemoval+"Invalid function.") + line("fail", "A", "")
	wrong := line("output", "B", "--- FAIL: B") + line("output", "B", "  y.go:2: got 1, want 2") + line("fail", "B", "")
	for _, c := range []struct {
		name, from string
		passed     int
		fault      string
	}{
		{"passed", line("pass", "A", "") + line("pass", "", ""), 1, ""},
		{"removal", removal + line("fail", "", ""), 1, ""},
		{"wrong", removal + wrong + line("fail", "", ""), 1, "got 1, want 2"},
		{"removal below", strings.ReplaceAll(removal, `"A"`, `"A/a"`) + line("fail", "A", ""), 2, ""},
		{"silent", line("fail", "A", ""), 0, "room A"},
		{"not built", line("output", "", "FAIL room [build failed]") + line("fail", "", ""), 0, "build failed"},
	} {
		passed, faults, err := readRooms(strings.NewReader(c.from))
		if err != nil || passed != c.passed || (faults == "") != (c.fault == "") || !strings.Contains(faults, c.fault) {
			t.Errorf("%s: %d passed, faults %q, %v; want %d and %q", c.name, passed, faults, err, c.passed, c.fault)
		}
	}
}
