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

// arrows says what each room may import, from the roof to the ground. An arrow
// names one room and not those inside it, and is transitive: a room may also
// import what the rooms it names may.
func arrows() map[string][]string {
	return map[string][]string{
		"cmd/legwright": {"assets/release", "app/ui", "cmd/internal/headless", "cmd/internal/plainlocale"},
		"cmd/dev":       {"cmd/internal/benchsheet", "cmd/internal/windowtest", "cmd/internal/xdisplay", "assets/demo", "assets/field", "assets/look", "assets/release"},
		"cmd/demosheet": {"cmd/demosheet/internal/sheet"},

		"cmd/demosheet/internal/sheet":  {"cmd/demosheet/internal/ground", "cmd/demosheet/internal/ink", "assets/demo", "assets/look"},
		"cmd/demosheet/internal/ground": {},
		"cmd/demosheet/internal/ink":    {},

		"cmd/internal/headless": {
			"app/calib/lattice", "app/escape", "app/leg", "app/light", "app/misread", "app/pace", "app/teach", "assets/demo",
			"mapio/atomicfile", "mapio/card", "mapio/dem", "mapio/export", "mapio/georef", "mapio/gpx", "mapio/legpack", "mapio/openfile", "mapio/planfile", "mapio/rectify", "mapio/scan",
		},
		"cmd/internal/benchwindow": {"app/ui", "cmd/internal/plainlocale"},
		"cmd/internal/benchsheet":  {"assets/demo"},
		"cmd/internal/sheetsteps":  {"canvas/pyramid", "mapio/scan"},
		"cmd/internal/checksheet":  {"app/geodesy"},
		"cmd/internal/checkrows":   {"cmd/internal/checksheet", "app/leg", "app/calib/lattice"},
		"cmd/internal/manpage":     {"cmd/internal/headless"},
		"cmd/internal/demoplan":    {"assets/demo", "mapio/planfile"},
		"cmd/internal/windowtest":  {"cmd/internal/xdisplay", "assets/demo", "mapio/planfile"},
		"cmd/internal/xdisplay":    {},
		"cmd/internal/plainlocale": {},
		"cmd/internal/winconsole":  {},

		"app/ui": {
			"app/ui/aim", "app/ui/ask", "app/ui/dial", "app/ui/escapepanel", "app/ui/files", "app/ui/foot", "app/ui/jobs", "app/ui/ledger", "app/ui/look", "app/ui/opening", "app/ui/papers", "app/ui/projector", "app/ui/relief", "app/ui/routepanel", "app/ui/sheetpanel", "app/ui/sheetview", "app/ui/teachpanel", "app/ui/widgets",
			"app/session", "canvas/alike", "canvas/mapview", "assets/demo", "assets/notices",
			"mapio/atomicfile", "mapio/georef", "mapio/gpx", "mapio/openfile", "mapio/planfile", "mapio/rectify", "mapio/scan",
		},
		"app/ui/benchtest":           {"app/ui", "app/ui/uitest"}, // for tests alone
		"app/ui/hidetest":            {},                          // tests alone, as the next three
		"app/ui/lessontest":          {},
		"app/ui/menutest":            {},
		"app/ui/sheettest":           {},
		"app/ui/aim":                 {"app/ui/look", "app/ui/widgets", "canvas/pyramid", "canvas/view"},
		"app/ui/dial":                {"app/ui/dial/housing", "app/ui/look", "app/ui/widgets", "app/leg"},
		"app/ui/dial/housing":        {"app/ui/pen", "app/lettering", "app/units"},
		"app/ui/baseplate":           {"app/ui/dial/housing", "app/ui/pen", "app/lettering", "app/teach", "app/units"},
		"app/ui/compassview":         {"app/ui/baseplate", "app/ui/dial"},
		"app/ui/pen":                 {},
		"app/ui/profile":             {"app/terrain"},
		"app/ui/jobs":                {},
		"app/ui/opening":             {"app/ui/jobs", "app/session", "canvas/pyramid", "assets/demo", "mapio/georef", "mapio/openfile", "mapio/planfile", "mapio/scan"},
		"app/ui/opening/openingtest": {"mapio/scan"}, // for tests alone
		"app/ui/ask":                 {"app/ui/foot", "app/geodesy", "mapio/atomicfile", "mapio/openfile"},
		"app/ui/files": {
			"app/ui/ask", "app/ui/foot", "app/ui/jobs", "app/ui/opening", "app/ui/widgets", "app/session", "canvas/pyramid",
			"assets/demo", "mapio/atomicfile", "mapio/dem", "mapio/export", "mapio/geojson", "mapio/gpx", "mapio/legpack", "mapio/openfile", "mapio/planfile", "mapio/rectify", "mapio/scan", "mapio/table",
		},
		"app/ui/papers":      {"app/ui/files", "mapio/card", "mapio/pdf"},
		"app/ui/escapepanel": {"app/ui/sheetview", "app/ui/thinglist"},
		"app/ui/foot":        {"app/lettering", "app/ui/widgets", "app/units"},
		"app/ui/ledger":      {"app/session", "app/ui/ask", "app/ui/profile"},
		"app/ui/lessondraw":  {"app/teach", "canvas/overlay"},
		"app/ui/look":        {"assets/look"},
		"app/ui/projector":   {"app/ui/compassview", "app/ui/lessondraw", "app/ui/look", "app/session", "canvas/mapview"},
		"app/ui/relief":      {"app/ui/ask", "app/ui/jobs", "app/ui/sheetview"},
		"app/ui/routepanel":  {"app/ui/ask", "app/ui/thinglist", "app/ui/profile", "app/ui/sheetview"},
		"app/ui/sheetpanel":  {"app/ui/aim", "app/ui/ask", "app/ui/jobs", "app/ui/sheetview", "canvas/alike", "mapio/georef"},
		"app/ui/sheetview":   {"app/ui/dial", "app/ui/foot", "app/ui/widgets", "app/session", "canvas/mapview"},
		"app/ui/teachpanel":  {"app/ui/ask", "app/ui/compassview", "app/ui/lessondraw", "app/ui/sheetview"},
		"app/ui/widgets":     {"app/ui/look", "app/lettering"},
		"app/ui/thinglist":   {"app/session", "app/ui/foot", "app/ui/look"},
		"app/ui/uitest":      {"app/session", "app/ui/widgets", "assets/demo", "canvas/pyramid", "mapio/planfile"}, // for tests alone

		"canvas/mapview": {"canvas/overlay", "canvas/pyramid", "canvas/tool", "canvas/view"},
		"canvas/overlay": {"canvas/view", "app/calib/lattice", "app/escape", "app/lettering"},
		"canvas/tool":    {"canvas/view", "app/plan"},
		"canvas/view":    {},
		"canvas/pyramid": {},
		"canvas/alike":   {},

		"mapio/planfile":   {"mapio/atomicfile", "mapio/filelock", "mapio/openfile", "app/plan"},
		"mapio/gpx":        {"assets/release", "mapio/feature"},
		"mapio/rectify":    {"assets/release", "mapio/atomicfile", "mapio/georef", "app/calib/check", "app/lettering"},
		"mapio/scan":       {"mapio/jpg", "mapio/kml", "mapio/openfile", "mapio/pdf", "mapio/planes", "mapio/tiff", "app/calib"},
		"mapio/georef":     {"mapio/scan", "mapio/tiff", "mapio/pdf", "mapio/kml", "app/calib"}, // and scan never imports it
		"mapio/dem":        {"mapio/georef", "app/terrain"},                                     // the grid of a GeoTIFF is read in one place
		"mapio/pdf":        {"mapio/planes", "app/geodesy"},
		"mapio/feature":    {"app/escape"},
		"mapio/geojson":    {"mapio/feature"},
		"mapio/kml":        {},
		"mapio/placemark":  {"mapio/feature"},
		"mapio/table":      {"app/leg"},
		"mapio/legpack":    {"app/leg", "mapio/dem", "mapio/planfile"},
		"mapio/export":     {"mapio/geojson", "mapio/gpx", "mapio/placemark", "mapio/table"}, // one way from a plan to a file for bench and headless
		"mapio/card":       {"mapio/paper", "app/escape", "mapio/planfile"},
		"mapio/paper":      {"mapio/rectify", "app/lettering", "app/plan", "app/terrain"},
		"mapio/jpg":        {},
		"mapio/tiff":       {"mapio/jpg"},
		"mapio/atomicfile": {"mapio/openfile"},
		"mapio/filelock":   {},
		"mapio/openfile":   {},
		"mapio/planes":     {},

		"app/lettering": {"assets/look"}, // the domain's rooms set no text; canvas, ui and mapio do

		"app/teach":         {"app/leg"},
		"app/escape":        {"app/leg"},
		"app/session":       {"app/history", "app/escape", "app/calib/lattice"},
		"app/history":       {"app/plan"},
		"app/leg":           {"app/plan", "app/geomag", "app/terrain", "app/calib/check", "app/misread"},
		"app/plan":          {"app/calib", "app/ground", "app/light", "app/pace"},
		"app/ground":        {"app/geodesy"},
		"app/calib/lattice": {"app/calib"}, // the finder knows calib, never the other way
		"app/calib/slips":   {"app/calib"},
		"app/calib/check":   {"app/calib/slips"},
		"app/calib":         {"app/geodesy"},
		"app/terrain":       {"app/geodesy"},
		"app/geomag":        {"app/geodesy", "assets/field"},
		"app/geodesy":       {"app/geodesy/crs", "app/caution"}, // the façade: nobody else imports its rooms
		"app/geodesy/crs":   {"app/geodesy/datum"},
		"app/geodesy/datum": {"app/geodesy/proj", "assets/datum"},
		"app/geodesy/proj":  {"app/geodesy/earth"},
		"app/geodesy/earth": {"app/units"},
		"app/caution":       {"app/units"}, // everything may speak a caution
		"app/light":         {"app/geodesy"},
		"app/misread":       {"app/units"},
		"app/pace":          {},
		"app/units":         {},

		"assets/datum":   {},
		"assets/demo":    {},
		"assets/field":   {},
		"assets/look":    {},
		"assets/notices": {},
		"assets/release": {},
	}
}

// testArrows says what the tests of a room may import besides: pictures to work
// on, and what a whole way through the house ends in.
func testArrows() map[string][]string {
	return map[string][]string{
		"app/calib/lattice":       {"assets/demo"},
		"app/terrain":             {"app/ground"},
		"app/ui":                  {"app/ui/benchtest"},
		"app/ui/hidetest":         {"app/ui/benchtest"},
		"app/ui/lessontest":       {"app/ui/benchtest"},
		"app/ui/menutest":         {"app/ui/benchtest"},
		"app/ui/sheettest":        {"app/ui/benchtest", "app/ui/opening/openingtest"},
		"app/ui/opening":          {"app/ui/opening/openingtest"},
		"app/ui/ask":              {"app/ui/uitest"},
		"app/ui/compassview":      {"app/ui/uitest"},
		"app/ui/dial":             {"app/ui/uitest"},
		"app/ui/escapepanel":      {"app/ui/ask", "app/ui/uitest"},
		"app/ui/files":            {"app/ui/uitest", "mapio/georef"},
		"app/ui/lessondraw":       {"app/ui/uitest"},
		"app/ui/widgets":          {"app/ui/uitest"},
		"app/ui/sheetpanel":       {"app/ui/uitest"},
		"app/ui/papers":           {"app/ui/uitest"},
		"app/ui/projector":        {"app/ui/uitest"},
		"app/ui/relief":           {"app/ui/uitest"},
		"app/ui/routepanel":       {"app/ui/uitest"},
		"app/ui/sheetview":        {"app/ui/uitest"},
		"app/ui/teachpanel":       {"app/ui/uitest"},
		"mapio/card":              {"assets/demo", "mapio/dem"},
		"mapio/export":            {"assets/demo", "mapio/planfile"},
		"mapio/paper":             {"assets/demo", "app/leg", "mapio/planfile"},
		"mapio/dem":               {"assets/demo"},
		"mapio/planfile":          {"app/session"},
		"cmd/internal/windowtest": {"mapio/gpx"},
		"cmd/internal/demoplan":   {"app/escape"},
	}
}

// windowRooms are the only ones that may reach Fyne.
func windowRooms() []string {
	return []string{
		"cmd/legwright", "cmd/internal/benchwindow", "canvas/mapview",
		"app/ui", "app/ui/aim", "app/ui/ask", "app/ui/benchtest", "app/ui/compassview", "app/ui/dial", "app/ui/escapepanel", "app/ui/files", "app/ui/foot", "app/ui/ledger", "app/ui/look", "app/ui/papers", "app/ui/projector", "app/ui/relief", "app/ui/routepanel", "app/ui/sheetpanel", "app/ui/sheetview", "app/ui/teachpanel", "app/ui/thinglist", "app/ui/uitest", "app/ui/widgets",
	}
}

// mayImport follows the arrows from one room to another.
func mayImport(from, to string) bool { return leads(arrows(), from, to) }

func leads(arrows map[string][]string, from, to string) bool {
	seen := map[string]bool{}
	var onward func(string) bool
	onward = func(from string) bool {
		if seen[from] {
			return false
		}
		seen[from] = true
		return slices.Contains(arrows[from], to) || slices.ContainsFunc(arrows[from], onward)
	}
	return onward(from)
}

// panelsTogether lists the arrows by which a room of the window reaches a panel that
// is not its own. Only app/ui knows the panels: it shows them and joins them to the
// rest, so that a panel can be added or removed without touching another. What drives all
// of the window for tests reaches them through it.
func panelsTogether(arrows map[string][]string) (wrong []string) {
	for from := range arrows {
		for to := range arrows {
			panel := strings.HasPrefix(to, "app/ui/") && strings.HasSuffix(to, "panel")
			if panel && from != to && strings.HasPrefix(from, "app/ui/") && from != "app/ui/benchtest" && leads(arrows, from, to) {
				wrong = append(wrong, from+" → "+to)
			}
		}
	}
	slices.Sort(wrong)
	return wrong
}

// TestPanelsStandApart checks the rooms of the window against panelsTogether, which
// must find what is wrong in a house made up for it.
func TestPanelsStandApart(t *testing.T) {
	t.Parallel()
	for _, w := range panelsTogether(arrows()) {
		t.Errorf("%s: only app/ui may know a panel", w)
	}
	wrong := map[string][]string{
		"app/ui":             {"app/ui/routepanel", "app/ui/sheetpanel", "app/ui/foot"},
		"app/ui/routepanel":  {"app/ui/sheetview", "app/ui/foot"},
		"app/ui/sheetview":   {"app/ui/sheetpanel"},
		"app/ui/sheetpanel":  {"app/ui/foot"},
		"app/ui/foot":        {},
		"cmd/internal/other": {"app/ui"},
	}
	want := []string{"app/ui/routepanel → app/ui/sheetpanel", "app/ui/sheetview → app/ui/sheetpanel"}
	if got := panelsTogether(wrong); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// behindFacade reports whether a room lies behind the façade of geodesy, for one that does
// not: arrows are transitive, and would let everybody in.
func behindFacade(from, to string) bool {
	return strings.HasPrefix(to, "app/geodesy/") && from != "app/geodesy" && !strings.HasPrefix(from, "app/geodesy/")
}

// mayTest says whether a room's tests may import another.
func mayTest(from, to string) bool {
	return from == to || mayImport(from, to) || slices.ContainsFunc(testArrows()[from], func(by string) bool {
		return by == to || mayImport(by, to)
	})
}

type listed struct {
	ImportPath                               string
	Imports, TestImports, XTestImports, Deps []string
}

func listRooms(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports,TestImports,XTestImports,Deps", "-tags", buildTag, "./...")
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
		out = append(out, l)
	}
}

// TestArrows checks every import of the house against the arrows.
func TestArrows(t *testing.T) {
	t.Parallel()
	there := map[string]bool{}
	for _, l := range listRooms(t) {
		from := strings.TrimPrefix(l.ImportPath, "legwright/")
		there[from] = true
		if _, ok := arrows()[from]; !ok {
			t.Errorf("%s is a room that the arrows do not know: give it an entry", from)
		}
		for _, imp := range l.Imports {
			to, ours := strings.CutPrefix(imp, "legwright/")
			if ours && !mayImport(from, to) {
				t.Errorf("%s imports %s, which no arrow allows", from, to)
			}
			if behindFacade(from, to) {
				t.Errorf("%s imports %s: use app/geodesy, its façade", from, to)
			}
		}
		for _, imp := range slices.Concat(l.TestImports, l.XTestImports) {
			if to, ours := strings.CutPrefix(imp, "legwright/"); ours && !mayTest(from, to) {
				t.Errorf("a test of %s imports %s, which no arrow allows", from, to)
			}
		}
		fyne := slices.ContainsFunc(l.Deps, func(d string) bool { return strings.HasPrefix(d, "fyne.io/fyne") })
		if fyne && !slices.Contains(windowRooms(), from) {
			t.Errorf("%s reaches Fyne; only the rooms of the window may", from)
		}
	}
	for from, list := range arrows() {
		for _, room := range append(list, from) {
			if !there[room] {
				t.Errorf("the arrows name %s, which is no room", room)
			}
		}
	}
	for _, room := range windowRooms() {
		if !there[room] {
			t.Errorf("%s is no room of the window", room)
		}
	}
}

// TestArrowsRefuse shows that the check above can fail.
func TestArrowsRefuse(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from, to   string
		want, test bool
	}{
		{"app/leg", "app/units", true, true},
		{"app/units", "app/geodesy", false, false},
		{"app/session", "mapio/planfile", false, false},
		{"app/plan", "canvas/view", false, false},
		{"app/calib", "app/caution", true, true},
		{"app/caution", "app/geodesy", false, false},
		{"app/plan", "app/calib/lattice", false, false},
		{"mapio/gpx", "app/leg", true, true},
		{"mapio/planfile", "app/session", false, true},
		{"mapio/planfile", "app/leg", false, true},
		{"mapio/planfile", "app/ui", false, false},
		{"canvas/pyramid", "mapio/scan", false, false},
		{"mapio/scan", "mapio/georef", false, false},
		{"app/geodesy/proj", "app/geodesy/datum", false, false},
		{"app/ui/dial", "app/units", true, true},
		{"app/ui/dial", "mapio/scan", false, false},
		{"app/ui/widgets", "app/session", false, true},
		{"cmd/internal/headless", "app/ui", false, false},
		{"cmd/internal/sheetsteps", "app/plan", false, false},
		{"assets/demo", "app/units", false, false},
		{"no/room", "app/units", false, false},
	} {
		if got, test := mayImport(c.from, c.to), mayTest(c.from, c.to); got != c.want || test != c.test {
			t.Errorf("%s → %s: allowed %v, to its tests %v; want %v, %v", c.from, c.to, got, test, c.want, c.test)
		}
	}
}

// TestFacade: only geodesy itself reaches behind its façade.
func TestFacade(t *testing.T) {
	t.Parallel()
	for from, want := range map[string]bool{"app/plan": true, "app/geodesy": false, "app/geodesy/crs": false, "app/geomag": true} {
		if got := behindFacade(from, "app/geodesy/proj"); got != want {
			t.Errorf("%s → app/geodesy/proj: refused %v, want %v", from, got, want)
		}
	}
	if behindFacade("app/plan", "app/geodesy") {
		t.Error("the façade itself is refused")
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
