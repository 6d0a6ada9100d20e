package files_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/assets/demo"
)

// terrainGrid writes an Esri ASCII grid that rises by 1 in 10 to the east from E 15 000, over the ground of the
// room's sheet, and returns its path.
func terrainGrid(t *testing.T, name string) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("ncols 150\nnrows 150\nxllcenter 15000\nyllcenter 735000\ncellsize 100\n")
	for range 150 {
		for c := range 150 {
			fmt.Fprintf(&b, "%d ", 10*c)
		}
	}
	path := filepath.Join(t.TempDir(), name)
	do(t, os.WriteFile(path, []byte(b.String()), 0o600))
	return path
}

// walked is a room with a leg of a kilometre to the east.
func walked(t *testing.T) *bench {
	t.Helper()
	b := calibrated(t)
	b.leg(b.mark("A", 150, 150), b.mark("B", 250, 150))
	return b
}

func (b *bench) climb() leg.Rise { return b.s.Rows()[0].Climb }

// opened answers what is asked about an ASCII grid in metres on the sheet's grid.
func (b *bench) opened(answers ...string) {
	b.t.Helper()
	for _, a := range answers {
		b.asked(a)
		b.answer(a)
	}
	b.until("the terrain", func() bool { return !b.Terrain.Reading() && b.climb().Known() })
}

const sheetsGrid = "The sheet's: British National Grid"

// TestTerrainOpens: dropped on the window it asks for what the file does not say, and then legs have a climb;
// undo, redo and remove follow.
func TestTerrainOpens(t *testing.T) {
	b := walked(t)
	b.Opener.Drop([]string{terrainGrid(t, "hill.asc")})
	b.opened("Metres", sheetsGrid)
	if c := b.climb(); c.From != leg.RiseTerrain || math.Abs(c.M-100) > 2 {
		t.Errorf("climb: got %+v, want 100 m by terrain", c)
	}
	file := b.s.Plan().Terrain[0]
	if file.Feet || file.Code != geodesy.EPSG(27700) || len(file.SHA256) != 64 || !filepath.IsAbs(file.Path) {
		t.Errorf("the plan names %+v", file)
	}
	if text := b.foot.Message(); !strings.Contains(text, "hill.asc") || !strings.Contains(text, "lower than about 75 m") { // 2 × 100 m × tan 20°
		t.Errorf("said: %q", text)
	}
	b.s.Undo()
	if b.climb().Known() {
		t.Error("undone, the leg has a climb")
	}
	b.s.Redo()
	b.until("the heights again", func() bool { return b.climb().Known() })
	b.Terrain.Remove()
	if b.climb().Known() || b.Terrain.Has() {
		t.Error("removed, the plan has terrain")
	}
	b.s.Undo()
	b.until("the heights after the removal is undone", func() bool { return b.climb().Known() })
}

// TestTerrainBesideItsGrid: a .prj file beside the terrain answers for its grid; one that names none is quoted, and
// the bench asks.
func TestTerrainBesideItsGrid(t *testing.T) {
	b := walked(t)
	path := terrainGrid(t, "hill.asc")
	prj := strings.TrimSuffix(path, ".asc") + ".prj"
	system, err := geodesy.Lookup(geodesy.EPSG(27700))
	do(t, err)
	text, err := system.WKT1()
	do(t, err)
	do(t, os.WriteFile(prj, []byte(text), 0o600))
	b.Terrain.Open(path)
	b.opened("Metres")
	if c := b.climb(); math.Abs(c.M-100) > 2 || b.s.Plan().Terrain[0].Code != geodesy.EPSG(27700) {
		t.Errorf("climb %+v on %q, want 100 m on EPSG:27700", c, b.s.Plan().Terrain[0].Code)
	}
	if text := b.foot.Message(); !strings.Contains(text, "British National Grid, from hill.prj") {
		t.Errorf("said: %q", text)
	}
	b.s.Undo()
	do(t, os.WriteFile(prj, []byte("Projection UTM\nZone 29\n"), 0o600))
	b.Terrain.Open(path)
	b.asked("the unit")
	b.answer("Metres")
	b.asked("the grid")
	if text := strings.Join(b.window.Texts(), " "); !strings.Contains(text, "hill.prj: ") {
		t.Errorf("asked: %q", text)
	}
	b.answer(sheetsGrid)
	b.until("the terrain", func() bool { return !b.Terrain.Reading() && b.climb().Known() })
}

// TestSeveralTerrainFiles: dropped together they become one terrain, and a TIFF of heights is one of them.
func TestSeveralTerrainFiles(t *testing.T) {
	b := walked(t)
	tif := filepath.Join(t.TempDir(), "demo.tif")
	do(t, os.WriteFile(tif, demo.Terrain(), 0o600))
	b.Opener.Drop([]string{terrainGrid(t, "hill.asc"), tif})
	b.opened("Metres", sheetsGrid, "Metres")
	b.until("both", func() bool { return !b.Terrain.Reading() && len(b.s.Plan().Terrain) == 2 })
	if got := b.s.Plan().Terrain[1]; filepath.Base(got.Path) != "demo.tif" || got.Code != "" {
		t.Errorf("the second is %+v", got)
	}
}

// TestTerrainBesideAMap: dropped with the picture of a map, terrain is left out, and the bench says what it is and
// how to open it.
func TestTerrainBesideAMap(t *testing.T) {
	b := stand(t)
	tif := filepath.Join(t.TempDir(), "demo.tif")
	do(t, os.WriteFile(tif, demo.Terrain(), 0o600))
	b.Opener.Drop([]string{tif, terrainGrid(t, "hill.asc"), picture(t, "map.png", 200)})
	b.asked("what was left out")
	if n := len(b.s.Plan().Sheets); n != 1 {
		t.Errorf("%d sheets, want the map alone", n)
	}
	for _, part := range []string{"demo.tif and 1 more were not opened, because terrain", "File → Open terrain…"} {
		if text := b.foot.Message(); !strings.Contains(text, part) {
			t.Errorf("said %q, want %q in it", text, part)
		}
	}
}

// TestTerrainIsReadAgain: a file that the plan names and whose heights were not read, such as one that was
// withheld, is read when a person opens it.
func TestTerrainIsReadAgain(t *testing.T) {
	b := walked(t)
	path := terrainGrid(t, "hill.asc")
	b.Terrain.Open(path)
	b.opened("Metres", sheetsGrid)
	b.s.SetGround(b.s.Plan().Terrain, nil)
	if b.climb().Known() {
		t.Fatal("without heights the leg has a climb")
	}
	b.Terrain.Open(path)
	b.opened("Metres", sheetsGrid)
}

// TestTerrainInFeet: heights are in what the person says.
func TestTerrainInFeet(t *testing.T) {
	b := walked(t)
	b.Terrain.Open(terrainGrid(t, "feet.asc"))
	b.opened("Feet", sheetsGrid)
	if c := b.climb(); math.Abs(c.M-30.5) > 1 || !b.s.Plan().Terrain[0].Feet {
		t.Errorf("climb: got %+v, want 100 feet", c)
	}
}

// TestTerrainReopens: a plan reads its terrain again, unless the file has changed; then it says so, and its climbs
// are not known.
func TestTerrainReopens(t *testing.T) {
	b := walked(t)
	path := terrainGrid(t, "hill.asc")
	b.Terrain.Open(path)
	b.opened("Metres", sheetsGrid)
	file := filepath.Join(filepath.Dir(path), "walk.legplan")
	do(t, b.s.SaveAs(file))
	again := stand(t)
	again.Opener.Open(file)
	again.until("the heights", func() bool { return len(again.s.Rows()) > 0 && again.climb().Known() })
	text, err := os.ReadFile(filepath.Clean(path))
	do(t, err)
	do(t, os.WriteFile(path, append(text, "0 "...), 0o600))
	third := stand(t)
	third.Opener.Open(file)
	third.until("the fault", func() bool { return strings.Contains(third.foot.Message(), "has changed") })
	if third.climb().Known() || len(third.s.Plan().Terrain) != 1 {
		t.Errorf("after the file changed: got %+v, terrain %v", third.climb(), third.s.Plan().Terrain)
	}
}

// TestTerrainOutsideThePlansFolder: nobody's plan makes the program touch a file elsewhere.
func TestTerrainOutsideThePlansFolder(t *testing.T) {
	b := walked(t)
	path := terrainGrid(t, "hill.asc")
	do(t, b.s.OpenTerrain(plan.Terrain{Path: path, SHA256: strings.Repeat("0", 64), Code: geodesy.EPSG(27700)}))
	b.until("the first reading", func() bool { return !b.Terrain.Reading() })
	file := filepath.Join(t.TempDir(), "walk.legplan")
	do(t, b.s.SaveAs(file))
	again := stand(t)
	again.Opener.Open(file)
	again.until("the refusal", func() bool { return strings.Contains(again.foot.Message(), "outside the plan's folder") })
	if again.climb().Known() {
		t.Error("terrain outside the plan's folder was read")
	}
}

// TestTerrainRefused: a file without heights, or with those of other ground, changes nothing.
func TestTerrainRefused(t *testing.T) {
	b := walked(t)
	before := b.s.Plan()
	for name, content := range map[string]string{
		"notes.asc": "Dear all", "far.asc": "ncols 2\nnrows 2\nxllcorner 400000\nyllcorner 300000\ncellsize 10\n1 2 3 4\n",
	} {
		path := filepath.Join(t.TempDir(), name)
		do(t, os.WriteFile(path, []byte(content), 0o600))
		b.Terrain.Open(path)
		b.asked("the unit")
		b.answer("Metres")
		if name == "far.asc" {
			b.asked("the grid")
			b.answer(sheetsGrid)
		}
		b.until("the refusal of "+name, func() bool { return !b.Terrain.Reading() && b.foot.Message() != "" })
		if b.s.Plan() != before {
			t.Errorf("%s changed the plan", name)
		}
		b.foot.Say("")
		b.window.Key(fyne.KeyEscape)
	}
	b.Terrain.Open(terrainGrid(t, "hill.asc"))
	b.asked("the unit")
	b.answer("Cancel")
	if b.Terrain.Reading() || b.s.Plan() != before {
		t.Error("cancelled, it reads all the same")
	}
	b.Terrain.Remove()
	if b.s.Plan() != before {
		t.Error("removing terrain that is not there changed the plan")
	}
}

// TestTerrainNeedsASheet: while no sheet is calibrated nothing of a terrain file is read, for it may hold a
// country; what the plan names is read once one is.
func TestTerrainNeedsASheet(t *testing.T) {
	b := walked(t)
	path := terrainGrid(t, "hill.asc")
	sheet := b.s.Plan().Sheets[0]
	bare := sheet
	bare.Points = nil
	do(t, b.s.Use(b.s.Plan().SetSheet(bare)))
	b.Terrain.Open(path)
	b.asked("calibrate a sheet first")
	b.answer("Close")
	if b.Terrain.Reading() || b.Terrain.Has() {
		t.Error("without a calibrated sheet the file is read")
	}
	do(t, b.s.Use(b.s.Plan().SetSheet(sheet)))
	b.Terrain.Open(path)
	b.opened("Metres", sheetsGrid)
	do(t, b.s.Use(b.s.Plan().SetSheet(bare)))
	if b.Terrain.Reading() {
		t.Error("after the calibration went, the file is read anew")
	}
	do(t, b.s.Use(b.s.Plan().SetSheet(sheet)))
	b.until("the heights with the calibration", func() bool { return b.climb().Known() })
}
