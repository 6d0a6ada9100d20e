package windowtest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/units"
	"legwright/assets/demo"
	"legwright/cmd/internal/xdisplay"
	"legwright/mapio/gpx"
	"legwright/mapio/planfile"
)

// The task runner sets these: the tests open windows only when asked to.
const (
	wantEnv      = "LEGWRIGHT_WINDOW_TESTS"
	tagEnv       = "LEGWRIGHT_WINDOW_TAG"
	programEnv   = "LEGWRIGHT_WINDOW_PROGRAM" // tried instead of one that is built
	shotsEnv     = "LEGWRIGHT_SHOTS"          // a folder to leave pictures in
	referenceEnv = "LEGWRIGHT_REFERENCE"
)

// program returns the path of the program, which it builds where the environment names none.
func program(t *testing.T) string {
	t.Helper()
	if os.Getenv(wantEnv) == "" {
		t.Skip("window tests run in the task runner's own step")
	}
	for _, name := range []string{"Xvfb", "openbox", "xdotool"} {
		if _, err := exec.LookPath(name); err != nil {
			t.Skipf("needs %s", name)
		}
	}
	if bin := os.Getenv(programEnv); bin != "" {
		return bin
	}
	bin := filepath.Join(t.TempDir(), "legwright")
	cmd := exec.Command("go", "build", "-tags", os.Getenv(tagEnv), "-o", bin, "legwright/cmd/legwright")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("build: %v\n%s", err, out)
	}
	return bin
}

// open starts a rig and waits until its sheet is sharp.
func open(t *testing.T, bin, home string, args ...string) *Rig {
	t.Helper()
	r, err := Start(t.Context(), bin, home, nil, args...)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(r.Close)
	t.Cleanup(func() {
		if dir := os.Getenv(shotsEnv); dir != "" || t.Failed() {
			if dir == "" {
				dir = os.TempDir()
			}
			file := filepath.Join(dir, "window-"+strings.ReplaceAll(t.Name(), "/", "-")+".png")
			if r.Shot(file) == nil {
				t.Logf("the window at the end: %s", file)
			}
		}
		if said := r.Said(); strings.Contains(said, "call thread") {
			t.Errorf("the program called Fyne from a wrong thread:\n%s", said)
		}
	})
	p, err := r.State("a sharp sheet", func(p xdisplay.Probe) bool { return p.Sharp })
	must(t, err)
	r.Fitted = p.View
	return r
}

// must ends the test where a step of the hand failed.
func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// calibrate zooms to a place of the picture, clicks it and types its
// reference.
func calibrate(t *testing.T, r *Rig, col, row float64, ref string, points int) {
	t.Helper()
	p := wholeSheet(t, r)
	must(t, r.MoveTo(p.At(col, row)))
	must(t, r.Wheel(9))
	p, err := r.State("a nearer view", func(p xdisplay.Probe) bool { return p.Sharp && p.View[0] > 2*r.Fitted[0] })
	must(t, err)
	must(t, r.Click(p.At(col, row)))
	must(t, r.Type(ref))
	must(t, r.Key("Return"))
	_, err = r.State(fmt.Sprintf("control point %d", points), func(p xdisplay.Probe) bool { return p.Points == points })
	must(t, err)
}

// wholeSheet shows the whole sheet and waits until it rests: a panel may have folded
// the ledger, so that the view is another than at the start.
func wholeSheet(t *testing.T, r *Rig) xdisplay.Probe {
	t.Helper()
	must(t, r.Key("ctrl+0"))
	var last [6]float64
	alike := 0
	p, err := r.State("the whole sheet", func(p xdisplay.Probe) bool {
		if alike++; p.View != last {
			last, alike = p.View, 0
		}
		return p.Sharp && alike >= 5 && p.View[0] < 1.5*r.Fitted[0]
	})
	must(t, err)
	return p
}

// place is a feature with its true coordinates and its place in the picture.
type place struct{ e, n, col, row float64 }

// dragLeg drags between two places of the fitted sheet and keeps the leg.
func dragLeg(t *testing.T, r *Rig, from, to place, legs int) {
	t.Helper()
	p := wholeSheet(t, r)
	x0, y0 := p.At(from.col, from.row)
	x1, y1 := p.At(to.col, to.row)
	must(t, r.Drag(x0, y0, x1, y1))
	_, err := r.State("the strip", func(p xdisplay.Probe) bool { return p.Controls["keep as leg"].W > 0 })
	must(t, err)
	must(t, r.Key("l"))
	if legs == 1 {
		must(t, r.Key("Return")) // the cautions are understood
	}
	_, err = r.State(fmt.Sprintf("leg %d", legs), func(p xdisplay.Probe) bool { return p.Legs == legs })
	must(t, err)
}

// saveBoth writes the GPX and the plan through their dialogs.
func saveBoth(t *testing.T, r *Rig, gpxPath, planPath string) {
	t.Helper()
	for _, s := range []struct{ keys, path, said string }{
		{"ctrl+e", gpxPath, "Exported"},
		{"ctrl+s", planPath, "Saved"},
	} {
		must(t, r.Key(s.keys))
		must(t, r.Key("ctrl+a"))
		must(t, r.Type(r.Named(s.path)))
		must(t, r.Key("Return"))
		_, err := r.State(s.said, func(p xdisplay.Probe) bool { return strings.HasPrefix(p.Message, s.said) })
		must(t, err)
	}
}

// hold compares what was written with the true coordinates of the places:
// every bearing and every distance within twice its stated σ.
func hold(t *testing.T, gpxPath, planPath string, places []place) {
	t.Helper()
	text, err := os.ReadFile(gpxPath)
	must(t, err)
	head, _, _ := strings.Cut(string(text), "</metadata>")
	if src := "Legwright cautions: "; !strings.Contains(head, "unchecked") || strings.Count(string(text), src) < len(places) {
		t.Errorf("the GPX does not say at its head and at each position that the sheet is unchecked: %s", text)
	}
	doc, err := gpx.Read(bytes.NewReader(text))
	must(t, err)
	if len(doc.Routes) != 1 || len(doc.Routes[0].Points) != len(places) {
		t.Fatalf("the GPX holds %d routes, want one of %d points: %+v", len(doc.Routes), len(places), doc.Routes)
	}
	p, _, err := planfile.NewStore().Load(planPath)
	must(t, err)
	reader, err := leg.NewReader(p)
	must(t, err)
	for i, row := range reader.Legs() {
		if row.Err != nil {
			t.Fatal(row.Err)
		}
		a, b := gridOf(t, reader, doc.Routes[0].Points[i].At), gridOf(t, reader, doc.Routes[0].Points[i+1].At)
		got, _ := units.GridBearingOf(b.E-a.E, b.N-a.N)
		want, _ := units.GridBearingOf(places[i+1].e-places[i].e, places[i+1].n-places[i].n)
		off := math.Abs((got.Angle() - want.Angle()).Signed().Deg())
		if allowed := 2 * row.Reading.BearingSigma.Deg(); off > allowed || allowed > 2 {
			t.Errorf("leg %d: bearing off by %.3f°, 2σ as stated %.3f°", i+1, off, allowed)
		}
		far := math.Hypot(places[i+1].e-places[i].e, places[i+1].n-places[i].n)
		miss := math.Abs(math.Hypot(b.E-a.E, b.N-a.N) - far)
		if allowed := 2 * row.Reading.DistanceSigmaM; miss > allowed {
			t.Errorf("leg %d: length off by %.1f m, 2σ as stated %.1f m", i+1, miss, allowed)
		}
		closed := row.Reading.Closed(units.WholeDegrees)
		for _, figure := range []string{closed.Grid, closed.Magnetic} {
			if desc := doc.Routes[0].Points[i].Desc; !strings.Contains(desc, figure) {
				t.Errorf("leg %d: description %q lacks %q", i+1, desc, figure)
			}
		}
		t.Logf("leg %d: bearing off by %.3f° (2σ %.3f°), length by %.1f m (2σ %.1f m)",
			i+1, off, 2*row.Reading.BearingSigma.Deg(), miss, 2*row.Reading.DistanceSigmaM)
	}
}

func gridOf(t *testing.T, r *leg.Reader, at geodesy.LatLon) geodesy.Grid {
	t.Helper()
	g, _, _, err := r.System().FromWGS84(at)
	must(t, err)
	return g
}

// TestMainJob goes from a scan to a GPX with two legs on the demo: open,
// calibrate on two intersections, drag between marks, keep, save.
func TestMainJob(t *testing.T) {
	bin := program(t)
	home := t.TempDir()
	picture := filepath.Join(home, demo.ScanName)
	must(t, os.WriteFile(picture, demo.Scan(), 0o644))
	r := open(t, bin, home, picture)
	corners := demo.CornerIntersections()
	for i, c := range []demo.GridPoint{corners[0], corners[2]} {
		col, row := demo.Intersection(c.E, c.N)
		calibrate(t, r, col, row, reference(t, 27700, c.E, c.N), i+1)
	}
	must(t, r.Key("ctrl+2"))
	var places []place
	for _, i := range []int{0, 3, 5} { // quay, cairn and hut: legs of one to two kilometres
		m := demo.Marks()[i]
		col, row := demo.Intersection(m.E, m.N)
		places = append(places, place{m.E, m.N, col, row})
	}
	dragLeg(t, r, places[0], places[1], 1)
	dragLeg(t, r, places[1], places[2], 2)
	for _, s := range []struct {
		key  string
		legs int
	}{{"ctrl+z", 1}, {"ctrl+z", 0}, {"ctrl+y", 1}, {"ctrl+y", 2}} {
		must(t, r.Key(s.key))
		_, err := r.State(fmt.Sprintf("%d legs after %s", s.legs, s.key), func(p xdisplay.Probe) bool { return p.Legs == s.legs })
		must(t, err)
	}
	gpxPath, planPath := filepath.Join(home, "legs.gpx"), filepath.Join(home, "walk.legplan")
	saveBoth(t, r, gpxPath, planPath)
	hold(t, gpxPath, planPath, places)
}

// reference writes the compact reference of a grid point.
func reference(t *testing.T, epsg int, e, n float64) string {
	t.Helper()
	sys, err := geodesy.Lookup(geodesy.EPSG(epsg))
	must(t, err)
	ref, err := sys.FormatRefCompact(geodesy.Grid{E: e, N: n}, 10)
	must(t, err)
	return ref
}

// TestMainJobOnReferenceSheet does the same on a sheet drawn from real
// terrain, read in place. Its truth: E = 310300 + 5·col, N = 4907700 − 5·row
// on EPSG:32619.
func TestMainJobOnReferenceSheet(t *testing.T) {
	bin := program(t)
	dir := os.Getenv(referenceEnv)
	if dir == "" {
		t.Skip("the folder of reference pictures is not here")
	}
	picture := filepath.Join(dir, "rasters", "made_sheet_A_utm19n.png")
	home := t.TempDir()
	r := open(t, bin, home, picture)
	at := func(e, n float64) place { return place{e, n, (e - 310300) / 5, (4907700 - n) / 5} }
	for i, c := range []place{at(312000, 4906000), at(318000, 4902000)} {
		calibrate(t, r, c.col, c.row, reference(t, 32619, c.e, c.n), i+1)
	}
	must(t, r.Key("ctrl+2"))
	places := []place{at(313000, 4905000), at(315000, 4903000), at(317000, 4904000)}
	dragLeg(t, r, places[0], places[1], 1)
	dragLeg(t, r, places[1], places[2], 2)
	gpxPath, planPath := filepath.Join(home, "legs.gpx"), filepath.Join(home, "walk.legplan")
	saveBoth(t, r, gpxPath, planPath)
	hold(t, gpxPath, planPath, places)
}

// TestKills kills the bench at work and takes back what was not saved; the task
// runner does so as often as asked.
func TestKills(t *testing.T) {
	k := Kills{Bin: program(t), Dir: t.TempDir(), Seed: 1, Out: t.Output()}
	must(t, k.Run(t.Context(), 2))
}

// TestProbeIsRead keeps the rig's and the bench's idea of the probe together:
// the names of the fields are those of the file.
func TestProbeIsRead(t *testing.T) {
	t.Parallel()
	raw, err := json.Marshal(xdisplay.Probe{Scale: 1.5, Legs: 2, View: [6]float64{1, 0, 10, 0, 1, 20}})
	must(t, err)
	file := filepath.Join(t.TempDir(), "probe.json")
	must(t, os.WriteFile(file, raw, 0o644))
	p, err := xdisplay.ReadProbe(file)
	must(t, err)
	if x, y := p.At(3, 4); x != 13 || y != 24 || p.Legs != 2 {
		t.Errorf("got %+v, place %v, %v; want 2 legs, 13, 24", p, x, y)
	}
}
