package main

import (
	"os"
	"path/filepath"
	"regexp"
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
