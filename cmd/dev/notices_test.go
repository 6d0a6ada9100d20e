package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestNoticesNameEveryModule: whoever gets the program gets the licence of each
// module in it, and of none that was removed.
func TestNoticesNameEveryModule(t *testing.T) {
	t.Parallel()
	cmd := exec.Command("go", "list", "-deps", "-tags", buildTag, "-f", "{{with .Module}}{{if not .Main}}{{.Path}}{{end}}{{end}}", "./cmd/legwright")
	cmd.Dir = moduleRoot()
	cmd.Stderr = os.Stderr
	list, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	modules := strings.Fields(string(list))
	if len(modules) == 0 {
		t.Fatal("go list names no module")
	}
	text, err := os.ReadFile(filepath.Join(moduleRoot(), "assets", "notices", "software-modules.txt"))
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range slices.Compact(slices.Sorted(slices.Values(modules))) {
		if !strings.Contains(string(text), "\n"+m+" (") {
			t.Errorf("%s is compiled into the program, and software-modules.txt does not name its licence and copyright", m)
		}
	}
	required, err := os.ReadFile(filepath.Join(moduleRoot(), "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		m, _, _ := strings.Cut(line, " (")
		host, _, path := strings.Cut(m, "/")
		if path && strings.Contains(host, ".") && !strings.Contains(m, " ") && !strings.Contains(string(required), m+" v") {
			t.Errorf("software-modules.txt names %s, which go.mod does not", m)
		}
	}
}
