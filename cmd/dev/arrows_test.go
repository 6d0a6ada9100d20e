package main

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// arrows says what each room may import, from the roof to the ground. They
// are transitive: a room may also import what the rooms it names may. A star
// at the end stands for every room below.
func arrows() map[string][]string {
	return map[string][]string{
		"cmd/legwright":  {"app/ui", "cmd/internal/headless", "cmd/internal/plainlocale"},
		"cmd/dev":        {"cmd/internal/*", "assets/demo", "assets/field"},
		"cmd/demosheet":  {"assets/look", "assets/demo", "mapio/planfile", "cmd/demosheet/*"},
		"cmd/internal/*": {"app/*", "mapio/*", "canvas/*", "assets/*", "cmd/internal/*"},

		"app/ui": {"app/session", "app/calib/lattice", "canvas/mapview", "mapio/*", "assets/*", "app/ui/*", "app/lettering"},

		"canvas/mapview": {"canvas/tool", "canvas/overlay", "canvas/view", "canvas/pyramid"},
		"canvas/overlay": {"canvas/view", "app/leg", "app/lettering"},
		"canvas/tool":    {"canvas/view", "app/plan", "app/calib", "app/units"},
		"canvas/view":    {},
		"canvas/pyramid": {},

		"mapio/card":     {"app/leg", "app/escape", "app/teach", "mapio/*"},
		"mapio/*":        {"app/plan", "app/calib", "app/geodesy", "app/terrain", "app/units"},
		"mapio/gpx":      {"mapio/*", "app/leg"}, // one way from legs to a file for bench and headless
		"mapio/tiff":     {},
		"mapio/openfile": {},
		"mapio/planes":   {},
		"mapio/scan":     {"mapio/tiff", "mapio/planes", "mapio/jpg", "mapio/pdf", "mapio/kml", "mapio/openfile", "app/calib"},
		"mapio/pdf":      {"mapio/planes", "app/geodesy"},
		"mapio/dem":      {"mapio/tiff", "app/terrain"},

		"mapio/rectify":    {"app/calib", "app/geodesy", "app/lettering", "mapio/atomicfile", "mapio/scan"},
		"mapio/planfile":   {"app/plan", "app/calib", "app/geodesy", "app/units", "mapio/atomicfile", "mapio/openfile"},
		"mapio/atomicfile": {"mapio/openfile"},

		"app/lettering": {"assets/look"}, // the domain's rooms set no text; canvas, ui and mapio do

		"app/session": {"app/history", "app/escape", "app/teach", "app/debrief", "app/leg"},
		"app/escape":  {"app/leg"},
		"app/teach":   {"app/leg"},
		"app/debrief": {"app/leg"},
		"app/history": {"app/plan"},
		"app/leg":     {"app/plan", "app/calib", "app/terrain", "app/geomag"},
		"app/plan":    {"app/calib"},
		"app/calib":   {"app/geodesy"},

		"app/calib/lattice": {"app/calib"}, // the finder knows calib, never the other way

		"app/terrain": {"app/geodesy"},
		"app/geomag":  {"app/geodesy", "assets/field"},
		"app/geodesy": {"app/units", "assets/datum"},
		"app/units":   {},
		"assets/*":    {},
	}
}

// windowRooms are the only ones that may reach Fyne.
func windowRooms() []string {
	return []string{"cmd/legwright", "app/ui", "canvas/mapview", "cmd/internal/benchwindow"}
}

type listed struct {
	ImportPath string
	Imports    []string
	Deps       []string
}

// rules returns what the most exact entry for a room allows.
func rules(room string) ([]string, bool) {
	all := arrows()
	for at := room; at != ""; {
		if allowed, ok := all[at]; ok {
			return allowed, true
		}
		up := at[:max(strings.LastIndex(at, "/"), 0)]
		if up != "" {
			if allowed, ok := all[up+"/*"]; ok && at == room {
				return allowed, true
			}
		}
		at = up
	}
	return nil, false
}

func matches(pattern, room string) bool {
	if base, ok := strings.CutSuffix(pattern, "*"); ok {
		return strings.HasPrefix(room, base)
	}
	return room == pattern || strings.HasPrefix(room, pattern+"/")
}

// mayImport follows the arrows from one room to another.
func mayImport(from, to string, seen map[string]bool) bool {
	if seen[from] {
		return false
	}
	seen[from] = true
	allowed, _ := rules(from)
	for _, a := range allowed {
		if matches(a, to) {
			return true
		}
		if !strings.HasSuffix(a, "*") && mayImport(a, to, seen) {
			return true
		}
	}
	return false
}

func listRooms(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-deps", "-json=ImportPath,Imports,Deps", "-tags", buildTag, "./...")
	cmd.Dir = moduleRoot()
	cmd.Stderr = os.Stderr
	pipe, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var out []listed
	for dec := json.NewDecoder(strings.NewReader(string(pipe))); ; {
		var l listed
		if err := dec.Decode(&l); errors.Is(err, io.EOF) {
			return out
		} else if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(l.ImportPath, "legwright/") {
			out = append(out, l)
		}
	}
}

// TestArrows holds every import of the house against the arrows.
func TestArrows(t *testing.T) {
	t.Parallel()
	rooms := listRooms(t)
	if len(rooms) < 10 {
		t.Fatalf("only %d rooms were listed", len(rooms))
	}
	for _, l := range rooms {
		from := strings.TrimPrefix(l.ImportPath, "legwright/")
		if _, ok := rules(from); !ok {
			t.Errorf("%s is a room that the arrows do not know", from)
		}
		for _, imp := range l.Imports {
			to, ours := strings.CutPrefix(imp, "legwright/")
			if ours && !mayImport(from, to, map[string]bool{}) {
				t.Errorf("%s imports %s, which no arrow allows", from, to)
			}
		}
		fyne := slices.ContainsFunc(l.Deps, func(d string) bool { return strings.HasPrefix(d, "fyne.io/fyne") })
		window := slices.ContainsFunc(windowRooms(), func(w string) bool { return matches(w, from) })
		if fyne && !window {
			t.Errorf("%s reaches Fyne; only the rooms of the window may", from)
		}
	}
}

// TestArrowsRefuse shows that the check above can fail.
func TestArrowsRefuse(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from, to string
		want     bool
	}{
		{"app/leg", "app/units", true},
		{"app/units", "app/geodesy", false},
		{"app/session", "mapio/planfile", false},
		{"app/plan", "canvas/view", false},
		{"mapio/gpx", "app/leg", true},
		{"mapio/planfile", "app/leg", false},
		{"mapio/card", "app/leg", true},
		{"canvas/pyramid", "mapio/scan", false},
		{"app/ui/dial", "app/units", true},
		{"assets/demo", "app/units", false},
	} {
		if got := mayImport(c.from, c.to, map[string]bool{}); got != c.want {
			t.Errorf("%s → %s: allowed %v, want %v", c.from, c.to, got, c.want)
		}
	}
}

// TestNoCodeInTheWings: app, canvas and mapio hold rooms, no files of Go.
func TestNoCodeInTheWings(t *testing.T) {
	t.Parallel()
	for _, wing := range []string{"app", "canvas", "mapio"} {
		entries, err := os.ReadDir(moduleRoot() + "/" + wing)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			if strings.HasSuffix(e.Name(), ".go") {
				t.Errorf("%s/%s: Go files belong into a room", wing, e.Name())
			}
		}
	}
}
