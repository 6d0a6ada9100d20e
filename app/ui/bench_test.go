package ui_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/benchtest"
	"legwright/app/ui/dial"
	"legwright/app/ui/sheetview"
	"legwright/canvas/view"
)

// importInto imports into the bench's plan at once.
func importInto(b *benchtest.Bench, in session.Imported) (session.ImportReport, error) {
	w, err := b.Session().BeginImport(in)
	if err != nil {
		return session.ImportReport{}, err
	}
	if err := w.Run(context.Background(), nil); err != nil {
		return session.ImportReport{}, err
	}
	return b.Session().EndImport(w)
}

func TestCalibrationIsGuided(t *testing.T) {
	b := benchtest.Opened(t)
	if b.Parts.Front() != "Sheet" {
		t.Errorf("panel %q, want Sheet", b.Parts.Front())
	}
	hints := []string{b.Parts.Hint()} // one for each step
	next := func(step string) {
		t.Helper()
		hint := b.Parts.Hint()
		if hint == "" || slices.Contains(hints, hint) {
			t.Errorf("%s the panel says %q as before", step, hint)
		}
		hints = append(hints, hint)
	}
	b.Sheets.Point(100, 200, "NL 21 42")
	next("after one point")
	b.Sheets.Point(300, 200, "NL 23 42")
	if next("after two points"); !b.Foot.Quality().Unchecked {
		t.Error("two points make a sheet that is not unchecked")
	}
	b.Sheets.Point(300, 100, "NL 23 43")
	b.Sheets.Point(100, 100, "NL 21 43")
	next("after four points")
	b.Sheets.Check(205.5, 154.5, "a published list", "NL 2205 4245")
	if next("once checked"); !b.Session().Verdict().Checked || b.Foot.Quality().Unchecked || b.Foot.Quality().Check == "" {
		t.Errorf("the feature checks nothing: %+v", b.Session().Verdict())
	}
	b.Undo()
	if b.Session().Verdict().Checked {
		t.Error("the check outlived its undo")
	}
}

func TestWrongReferencesChangeNothing(t *testing.T) {
	b := benchtest.Calibrated(t)
	for _, ref := range []string{"", "nonsense", "NL 21 42", "ZZ 12 34", "NN 1 2 3", "1e9 1e9"} {
		before := b.Plan()
		b.Sheets.Point(50, 50, ref)
		if b.Plan() != before || !b.Foot.Failed() {
			t.Errorf("%q: plan changed %v, fault shown %v, want unchanged and shown", ref, b.Plan() != before, b.Foot.Failed())
		}
		if !b.Sheets.Aiming() {
			t.Errorf("%q: the point aimed at was lost", ref)
		}
		b.Sheets.Cancel()
	}
}

func TestDragOffersAndKeeps(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.Mouse.Drag(100, 200, 200, 100)
	if !b.Offered() || !strings.HasPrefix(b.Dial.Figures().Texts[dial.Grid], "045°") {
		t.Fatalf("strip %v, grid %q, want an offer of 045°", b.Offered(), b.Dial.Figures().Texts[dial.Grid])
	}
	if notes := b.Dial.Figures().Notes; !slices.Contains(notes, caution.Of(caution.Unchecked).Short()) {
		t.Errorf("cautions %q on an unchecked sheet", notes)
	}
	b.Letters("l")
	if len(b.Plan().Legs) != 1 || b.Offered() {
		t.Fatalf("%d legs, strip %v, want one and no offer", len(b.Plan().Legs), b.Offered())
	}
	b.Mouse.Drag(200, 100, 300, 100)
	b.Letters("s")
	b.Mouse.Drag(200, 100, 300, 200)
	b.Key(fyne.KeyEscape)
	if p := b.Plan(); len(p.Legs) != 1 || len(p.Sights) != 1 || b.Offered() {
		t.Errorf("%d legs, %d sights, strip %v, want 1, 1 and none", len(p.Legs), len(p.Sights), b.Offered())
	}
	b.Undo()
	b.Undo()
	if p := b.Plan(); len(p.Legs) != 0 || len(p.Sights) != 0 {
		t.Errorf("%d legs, %d sights after undo, want none", len(p.Legs), len(p.Sights))
	}
	b.Redo()
	if len(b.Plan().Legs) != 1 {
		t.Error("redo did not bring the leg back")
	}
}

func TestDraggingAMarkIsOneStep(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.Mouse.NewMark(100, 100)
	id := b.Selected()
	stood, _ := b.Plan().MarkByID(id)
	b.Choose("Move marks and ends by dragging")
	b.Mouse.Drag(100, 100, 150, 100)
	if m, _ := b.Plan().MarkByID(id); math.Abs(m.Position.At.Col-150) > 0.3 {
		t.Errorf("the mark is at col %v, want 150", m.Position.At.Col)
	}
	b.Discard()
	b.Session().Undo()
	if m, _ := b.Plan().MarkByID(id); m.Position.At != stood.Position.At {
		t.Errorf("after one undo the mark is at %v, want %v", m.Position.At, stood.Position.At)
	}
}

func TestTypedLegAndMark(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.Route.AddMark("Quay", "NL 210 420")
	b.Route.TypeLeg("quay", "090", "1 km")
	rows := b.Session().Rows()
	if len(rows) != 1 || rows[0].From != "Quay" || rows[0].Reading.Grid.Angle().Deg() < 89.9 || rows[0].Reading.Grid.Angle().Deg() > 90.1 {
		t.Fatalf("rows %+v, want one leg east of the quay: %s", rows, b.Foot.Message())
	}
	before := b.Plan()
	b.Route.TypeLeg("", "400", "1 km")
	if b.Plan() != before || !b.Foot.Failed() {
		t.Error("a bearing of 400 was taken")
	}
}

func TestSaveAndOpenAgain(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.Mouse.Drag(100, 200, 200, 100)
	b.Letters("l")
	path := filepath.Join(t.TempDir(), "walk.legplan")
	if err := b.Session().SaveAs(path); err != nil {
		t.Fatal(err)
	}
	if strings.HasPrefix(b.Title(), "•") {
		t.Errorf("title %q still says unsaved", b.Title())
	}
	gpxPath := filepath.Join(t.TempDir(), "walk.gpx")
	b.Files.Export(gpxPath)
	if raw, err := os.ReadFile(gpxPath); err != nil || !strings.Contains(string(raw), string(caution.Unchecked)) {
		t.Errorf("the GPX of an unchecked sheet does not say so: %v", err)
	}
	other := benchtest.Open(t)
	other.Files.Open(path)
	other.Until("the plan's picture", func() bool { return other.Whole() })
	if len(other.Plan().Legs) != 1 || other.Session().Dirty() {
		t.Errorf("%d legs, dirty %v, want 1 and saved", len(other.Plan().Legs), other.Session().Dirty())
	}
}

func TestMissingAndChangedPicture(t *testing.T) {
	b := benchtest.Calibrated(t)
	dir := t.TempDir()
	path := filepath.Join(dir, "walk.legplan")
	if err := b.Session().SaveAs(path); err != nil {
		t.Fatal(err)
	}
	pic := b.Session().PicturePath()
	raw, err := os.ReadFile(pic)
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func() error{
		"missing": func() error { return os.Remove(pic) },
		"changed": func() error { return os.WriteFile(pic, append(raw, 0), 0o644) },
	} {
		if err := change(); err != nil {
			t.Fatal(err)
		}
		other := benchtest.Open(t)
		other.Files.Open(path)
		other.Until("the question of a "+name+" picture", func() bool { return other.Asks() })
		if other.Shown().Pyramid != nil || other.Points() != 2 {
			t.Errorf("%s: picture shown %v, %d points, want none shown and the plan whole", name, other.Shown().Pyramid != nil, other.Points())
		}
	}
}

func TestBadFilesAreRefusedAndLoseNothing(t *testing.T) {
	b := benchtest.Calibrated(t)
	before := b.Plan()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"newer.legplan": `{"format":"legwright-plan","version":99}`,
		"cut.legplan":   `{"format":"legwright-plan","version":1,"sheets":[`,
		"other.legplan": "dear diary",
	} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		b.Files.Drop(path)
		b.Answer("Discard")
		b.Until("the refusal", func() bool { return b.Foot.Failed() })
		if b.Plan() != before || !b.Foot.Failed() {
			t.Errorf("%s: plan kept %v, fault shown %v", name, b.Plan() == before, b.Foot.Failed())
		}
		b.Escape()
	}
	fake := filepath.Join(dir, "fake.png")
	if err := os.WriteFile(fake, []byte("hello"), 0o644); err != nil {
		t.Fatal(err)
	}
	b.Files.Drop(fake)
	b.Until("the refusal", func() bool { return b.Asks() })
	if b.Plan() != before || b.Shown().Pyramid == nil {
		t.Error("a text called .png took the sheet away")
	}
}

// A long imported track comes onto the sheet without holding the window up.
func TestTracksAreShown(t *testing.T) {
	b := benchtest.Calibrated(t)
	c, err := b.Session().Calibration()
	if err != nil {
		t.Fatal(err)
	}
	sys := b.Session().Reader().System()
	track := plan.Track{Name: "walked"}
	for i := range 20_000 {
		ll, _, err := sys.ToWGS84(c.ToGrid(sheetview.PicturePt(view.PicPt{X: 50 + float64(i)/100, Y: 150})))
		if err != nil {
			t.Fatal(err)
		}
		track.Points = append(track.Points, ll)
	}
	if _, err := importInto(b, session.Imported{Tracks: []plan.Track{track}}); err != nil {
		t.Fatal(err)
	}
	b.Until("the track", func() bool { return len(b.Scene().Tracks) == 1 })
	id := b.Plan().Tracks[0].ID
	b.Session().Select(id)
	b.Until("the track drawn as chosen", func() bool {
		drawn := b.Scene().Tracks
		return len(drawn) == 1 && drawn[0].ID == id && drawn[0].Selected
	})
	area := b.Sheet()
	look := func() view.View { return area.View() }
	area.ShowRect(view.RectOf(view.PicPt{X: 390, Y: 290}, view.PicPt{X: 400, Y: 300}))
	before := look()
	if b.Route.Find(id); look() == before {
		t.Error("Find does not bring the track into view")
	}
	if err := b.Session().SetHidden(id, true); err != nil {
		t.Fatal(err)
	}
	before = look()
	if b.Route.Find(id); look() != before {
		t.Error("Find of a hidden track moved the map")
	}
}
