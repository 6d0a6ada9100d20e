package sheetpanel_test

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/session"
	"legwright/app/ui/uitest"
	"legwright/canvas/overlay"
	"legwright/mapio/georef"
	"legwright/mapio/scan"
	"legwright/mapio/tiff"
)

// georeference is that of a file with 10 m a pixel, whose position is out by so many
// metres east.
func georeference(t *testing.T, outM float64) *georef.Georeference {
	t.Helper()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	return &georef.Georeference{Source: "GeoTIFF keys", System: sys, Matrix: &[6]float64{10, 0, 20000 + outM, 0, -10, 744000}}
}

// placed is a desk whose picture says itself where it lies.
func placed(t *testing.T, outM float64) *desk {
	t.Helper()
	d := newDesk(t)
	d.panel.TakeFile(georef.Found{Georeference: georeference(t, outM)}, true)
	if !d.sheet().ByMatrix() {
		t.Fatalf("the sheet is not positioned: %s", d.line.Message())
	}
	return d
}

// nameIntersection names intersection (i, j) of uitest.Lattice as a person reads it off.
func (d *desk) nameIntersection(i, j float64, ref string) { d.point(102+100*i, 199-100*j, ref) }

// The printed grid is compared with what a file says; three intersections that a
// person names, and a corner's latitude and longitude, check it.
func TestFileIsComparedWithThePrintedGrid(t *testing.T) {
	d := placed(t, 0)
	if !d.Shows("GeoTIFF keys") || !d.Shows("± 17 m") { // 0.7 px of 10 m is σ, twice that the 95 %
		t.Fatalf("the panel says %q", d.Texts())
	}
	d.panel.Grid().Found(uitest.Lattice())
	if d.s.Verdict().Checked || d.offers("Use the intersections") {
		t.Error("lines alone check the sheet, or replace what the file says")
	}
	d.nameIntersection(0, 0, "NL 21 42")
	d.nameIntersection(2, 0, "NL 23 42")
	if n := len(d.sheet().Evidence); n != 2 || d.spots(overlay.Agrees) != 2 {
		t.Fatalf("%d pieces of evidence, %d marks", n, d.spots(overlay.Agrees))
	}
	d.nameIntersection(1, 1, "NL 22 44")
	if !caution.Stops(d.s.Verdict().Cautions, caution.All) {
		t.Error("a wrong name is no stop")
	}
	d.s.Undo()
	d.nameIntersection(1, 1, "NL 22 43")
	if d.s.Verdict().Checked {
		t.Error("checked without latitude and longitude")
	}
	d.check(t, 350, 50, "the map's margin", latLon(t, d, 350, 50))
	if !d.s.Verdict().Checked || !d.sheet().ByMatrix() {
		t.Fatalf("verdict %+v: %s", d.s.Verdict(), d.line.Message())
	}
	d.s.Undo()
	if d.s.Verdict().Checked {
		t.Error("undo left the check")
	}
}

// A file that is whole squares out agrees with the lines, and the first name shows it;
// one that is some pixels out disagrees with the lines.
func TestFileThatIsWrongIsFoundOut(t *testing.T) {
	d := placed(t, 2000)
	d.panel.Grid().Found(uitest.Lattice())
	d.nameIntersection(0, 0, "NL 21 42")
	if v := d.s.Verdict(); v.Checked || !caution.Has(v.Cautions, caution.EvidenceDisagree) {
		t.Errorf("whole squares out: %+v", v.Cautions)
	}
	d = placed(t, 120)
	d.panel.Grid().Found(uitest.Lattice())
	if v := d.s.Verdict(); !caution.Stops(v.Cautions, caution.All) || !d.Shows("12.0 px off") {
		t.Errorf("120 m out: %+v, the panel says %q", v.Cautions, d.Texts())
	}
	d.nameIntersection(0, 0, "NL 21 42") // begins a calibration by the lines
	if d.sheet().ByMatrix() || len(d.sheet().Points) != 1 || d.asks.Open() != 1 {
		t.Errorf("by the lines: %d points, %d questions", len(d.sheet().Points), d.asks.Open())
	}
}

// Points of the file stay the file's while intersections are named; a change of the
// sheet drops the comparison.
func TestPositionedByPointsOfTheFile(t *testing.T) {
	d := newDesk(t)
	g := georeference(t, 0)
	g.Matrix = nil
	for _, p := range [][2]float64{{0, 0}, {400, 0}, {400, 300}, {0, 300}} {
		g.Points = append(g.Points, calib.ControlPoint{At: calib.PicturePt{Col: p[0], Row: p[1]}, Ref: geodesy.Grid{E: 20000 + 10*p[0], N: 744000 - 10*p[1]}, Text: "p"})
	}
	d.panel.TakeFile(georef.Found{Georeference: g}, true)
	d.panel.Grid().Found(uitest.Lattice())
	d.nameIntersection(0, 0, "NL 21 42")
	d.nameIntersection(2, 0, "NL 23 42")
	d.nameIntersection(1, 1, "NL 22 43")
	if s := d.sheet(); len(s.Evidence) != 3 || len(s.Points) != 4 {
		t.Errorf("%d pieces of evidence with %d points: %s", len(s.Evidence), len(s.Points), d.line.Message())
	}
	if err := d.s.RemoveControlPoint(0); err != nil || d.Shows("Positioned by its file") {
		t.Errorf("%v; after a change the panel says %q", err, d.Texts())
	}
}

// A page drawn at another resolution still has its position from the file that gave it.
func TestARedrawnPageKeepsItsSource(t *testing.T) {
	const times = 7
	drawn := func(finer float64) *georef.Georeference { // as the file says it at a resolution
		g := georeference(t, 0)
		for _, i := range []int{0, 1, 3, 4} {
			g.Matrix[i] *= 1 / finer
		}
		g.Matrix[2] += 1e-9 * finer
		return g
	}
	for name, points := range map[string]bool{"matrix": false, "points": true} {
		asFile := func(finer float64) georef.Found {
			g := drawn(finer)
			if points {
				g.Matrix = nil
				for _, p := range [][2]float64{{0, 0}, {400, 0}, {400, 300}, {0, 300}} {
					g.Points = append(g.Points, calib.ControlPoint{
						At: calib.PicturePt{Col: finer * p[0], Row: finer * p[1]}, Ref: geodesy.Grid{E: 20000 + 10*p[0], N: 744000 - 10*p[1]}, Text: "p", Source: calib.FilePoint,
					})
				}
			}
			return georef.Found{Georeference: g}
		}
		d := newDesk(t)
		d.panel.TakeFile(asFile(1), true)
		s := d.sheet()
		if err := d.s.Redraw(session.Picture{Path: s.Picture, SHA256: s.SHA256, Page: s.Page, Width: times * s.Width, Height: times * s.Height}); err != nil {
			t.Fatal(err)
		}
		d.panel.TakeFile(asFile(times), false)
		if !d.Shows("From GeoTIFF keys") {
			t.Errorf("%s: the panel says %q", name, d.Texts())
		}
		d.panel.TakeFile(georef.Found{Georeference: georeference(t, 100)}, false) // which the sheet is not calibrated by
		if d.Shows("From GeoTIFF keys") {
			t.Errorf("%s: another position is said to be the file's: %q", name, d.Texts())
		}
	}
}

// A file with a position but no known grid asks for it, as a world file does, and is
// used on the grid that is named.
func TestGridOfAFileIsNamed(t *testing.T) {
	geo := &tiff.Geo{Model: tiff.Projected}
	for _, p := range [][2]float64{{0, 0}, {400, 0}, {400, 300}, {0, 300}} {
		geo.Points = append(geo.Points, tiff.TiePoint{Column: p[0], Row: p[1], X: 20000 + 10*p[0], Y: 744000 - 10*p[1]})
	}
	header := scan.Header{Width: 400, Height: 300, Page: 1, Pages: 1}
	world := fstest.MapFS{"ground.pgw": {Data: []byte("10\n0\n0\n-10\n20005\n743995\n")}}
	for name, says := range map[string]georef.Found{
		"a GeoTIFF":    georef.Find(scan.GeoData{TIFF: geo, Header: header, Folder: fstest.MapFS{}, Name: "ground.tif"}),
		"a world file": georef.Find(scan.GeoData{Header: header, Folder: world, Name: "ground.png"}),
	} {
		d := newDesk(t)
		d.panel.TakeFile(says, true)
		if d.asks.Open() != 1 {
			t.Fatalf("%s: %d questions, want the one for the grid", name, d.asks.Open())
		}
		d.Type("27700")
		d.Key(fyne.KeyReturn)
		c, err := d.s.Calibration()
		if err != nil || d.sheet().Code != geodesy.EPSG(27700) || d.s.Verdict().Checked {
			t.Fatalf("%s: %v on %s: %s", name, err, d.sheet().Code, d.line.Message())
		}
		if g := c.ToGrid(calib.PicturePt{Col: 200, Row: 150}); math.Hypot(g.E-22000, g.N-742500) > 0.1 {
			t.Errorf("%s: the middle lies at %+v", name, g)
		}
	}
}

// A file that gives no position, and one with too many points, calibrate nothing and
// say so.
func TestFilesThatCannotBeUsed(t *testing.T) {
	many := georeference(t, 0)
	many.Matrix, many.Points = nil, make([]calib.ControlPoint, 65)
	for name, g := range map[string]*georef.Georeference{"no position": {Source: "PDF", Unknown: "it names a grid that is not known"}, "65 points": many} {
		d := newDesk(t)
		d.panel.TakeFile(georef.Found{Georeference: g}, true)
		if s := d.sheet(); len(s.Points) != 0 || s.World != nil || d.asks.Open() != 1 || !strings.Contains(strings.Join(d.Texts(), " "), "printed grid") {
			t.Errorf("%s: %d points, %d questions, %q", name, len(s.Points), d.asks.Open(), d.Texts())
		}
	}
}
