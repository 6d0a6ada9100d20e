package files_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// shapesFile writes a GeoJSON file with an area, a line and a point.
func shapesFile(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "ground.geojson")
	write(t, path, `{"type":"FeatureCollection","features":[
	 {"type":"Feature","properties":{"name":"Black Face"},"geometry":{"type":"Polygon","coordinates":[[[-5,56.4],[-5,56.41],[-5.01,56.41],[-5,56.4]]]}},
	 {"type":"Feature","properties":{"name":"Wall"},"geometry":{"type":"LineString","coordinates":[[-5,56.4],[-5,56.41]]}},
	 {"type":"Feature","properties":{"name":"Hut"},"geometry":{"type":"Point","coordinates":[-5,56.4]}}]}`)
	return path
}

// The file does not say what its shapes are: nothing comes in before the person has said
// it of each kind, and then all of it as one step.
func TestImportOfShapesAsks(t *testing.T) {
	b := calibrated(t)
	before := b.s.Plan()
	b.Opener.Open(shapesFile(t))
	b.asked("what the shapes are")
	lists := uitest.All[*widgets.Select](b.window)
	if len(lists) != 3 {
		t.Fatalf("%d lists that drop down, want 3", len(lists))
	}
	b.answer("Import")
	if b.s.Plan() != before || !b.dialogs.Waiting() {
		t.Fatal("something was imported before anybody said what it is")
	}
	lists[0].SetSelected("Hazard: crag")
	lists[1].SetSelected("Line: wall")
	lists[2].SetSelected("Marks")
	b.answer("Import")
	b.until("the shapes", b.imported)
	p := b.s.Plan()
	if len(p.Hazards) != 1 || p.Hazards[0].Kind != plan.Crag || p.Hazards[0].Name != "Black Face" || !p.Hazards[0].Closed || len(p.Lines) != 1 || len(p.Marks) != 1 {
		t.Fatalf("%+v, %+v, %+v", p.Hazards, p.Lines, p.Marks)
	}
	b.s.Undo()
	if b.s.Plan() != before {
		t.Error("an import is not one step")
	}
}

// An area can be ground, and a line cannot.
func TestImportOfGround(t *testing.T) {
	b := calibrated(t)
	b.Exchange.Import(shapesFile(t))
	b.asked("what the shapes are")
	lists := uitest.All[*widgets.Select](b.window)
	for i, as := range []string{"Ground: plantation", "Leave out", "Leave out"} {
		if slices.Contains(lists[i].Options, "Ground: plantation") != (i == 0) {
			t.Errorf("list %d offers %v", i, lists[i].Options)
		}
		lists[i].SetSelected(as)
	}
	b.answer("Import")
	b.until("the plantation", b.imported)
	if list := b.s.Plan().Areas; len(list) != 1 || list[0].Ground != pace.Plantation || list[0].Name != "Black Face" || len(list[0].Points) != 3 {
		t.Errorf("%+v", list)
	}
}

// What is left out stays out, and a file of nothing is refused.
func TestShapesLeftOut(t *testing.T) {
	b := calibrated(t)
	before := b.s.Plan()
	b.Exchange.Import(shapesFile(t))
	b.asked("what the shapes are")
	for _, l := range uitest.All[*widgets.Select](b.window) {
		l.SetSelected("Leave out")
	}
	b.answer("Import")
	if b.s.Plan() != before || b.dialogs.Waiting() || b.Exchange.Importing() {
		t.Errorf("%+v came in", b.s.Plan().Hazards)
	}
	path := filepath.Join(t.TempDir(), "none.geojson")
	write(t, path, `{"type":"FeatureCollection","features":[]}`)
	b.Exchange.Import(path)
	b.asked("the refusal")
	if words := strings.Join(b.window.Texts(), " "); b.s.Plan() != before || !strings.Contains(words, "Nothing was imported") {
		t.Errorf("it says %q", words)
	}
}
