package ui

import (
	"context"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/dial"
	"legwright/app/ui/opening"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/uitest"
	"legwright/canvas/view"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// stand builds a bench in the test driver.
func stand(t *testing.T) *Bench {
	t.Helper()
	a := uitest.NewApp(t)
	b := newBench(a, planfile.NewStore(), nil, a.Queue.Later, &opening.Source{Opener: scan.NewOpener()})
	b.window.Resize(fyne.NewSize(1280, 800))
	b.program.set.setWelcomed() // the cautions are understood
	t.Cleanup(b.window.Close)
	return b
}

// picture writes a small grey picture and returns its path.
func picture(t *testing.T) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range img.Pix {
		img.Pix[i] = uint8(200 + i%7)
	}
	img.SetGray(0, 0, color.Gray{Y: 10})
	path := filepath.Join(t.TempDir(), "ground.png")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	return path
}

// until lets the bench work until a condition holds.
func until(t testing.TB, b *Bench, what string, holds func() bool) {
	t.Helper()
	queueOf(b).Until(t, what, holds)
}

// queueOf is the queue that stands for the main loop of a bench.
func queueOf(b *Bench) uitest.Queue { return b.program.app.(*uitest.App).Queue }

// trusted lets the plan at a path open its pictures unasked, as one that was saved
// here.
func trusted(t *testing.T, b *Bench, path string) {
	t.Helper()
	_, stamp, err := planfile.NewStore().Load(path)
	*b.files.Known = planfile.KnownIn(t.TempDir())
	if err == nil {
		err = b.files.Known.Saved(path, stamp)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// reopened opens a plan that was saved here, up to where its picture is on its way.
func reopened(t *testing.T, b *Bench, path string) {
	t.Helper()
	trusted(t, b, path)
	b.files.Opener.Open(path)
	planRead(t, b)
}

// planRead waits for the end of reading a plan.
func planRead(t *testing.T, b *Bench) {
	t.Helper()
	until(t, b, "the plan", func() bool { return !b.files.Opener.Reading() })
}

// saveNow saves the plan to its file.
func saveNow(t *testing.T, b *Bench) {
	t.Helper()
	done := false
	b.files.Saver.Save(func() { done = true })
	until(t, b, "the save", func() bool { return done })
}

// exportTo exports the plan as GPX, through the dialog.
func exportTo(t *testing.T, b *Bench, path string) {
	t.Helper()
	b.files.Exchange.Export()
	typePath(t, b, path)
	until(t, b, "the export", func() bool { return !b.files.Exchange.Exporting() })
}

// importInto imports into the bench's plan at once.
func importInto(b *Bench, in session.Imported) (session.ImportReport, error) {
	w, err := b.s.BeginImport(in)
	if err != nil {
		return session.ImportReport{}, err
	}
	if err := w.Run(context.Background(), nil); err != nil {
		return session.ImportReport{}, err
	}
	return b.s.EndImport(w)
}

// whole reports whether a picture is on the sheet and nothing of it is missing.
func whole(b *Bench) bool { return b.desk.State() == opening.Whole && b.desk.Pyramid().Ready(0) }

// afterAMoment runs what goroutines bring back for a moment.
func afterAMoment(t *testing.T, b *Bench) {
	t.Helper()
	done := false
	time.AfterFunc(50*time.Millisecond, func() { b.program.later(func() { done = true }) })
	until(t, b, "what was under way", func() bool { return done })
}

// opened is a bench with a small picture on it.
func opened(t *testing.T) *Bench {
	t.Helper()
	b := stand(t)
	b.desk.Open(picture(t))
	until(t, b, "the picture", func() bool { return whole(b) })
	return b
}

// point clicks a point and keeps it as a control point.
func point(b *Bench, col, row float64, ref string) {
	clickAt(b, view.PicPt{X: col, Y: row})
	typeReference(b, ref)
	b.sheetP.Points().KeepPoint()
}

func points(b *Bench) int {
	s, _ := b.s.Plan().Sheet()
	return len(s.Points)
}

// A pixel of this ground is ten metres: 400 × 300 pixels from NL 20 40 down
// to the south.
func calibrated(t *testing.T) *Bench {
	t.Helper()
	b := opened(t)
	point(b, 100, 200, "NL 21 42")
	point(b, 300, 200, "NL 23 42")
	if n := points(b); n != 2 {
		t.Fatalf("%d control points, want 2: %s", n, b.foot.Message())
	}
	return b
}

func TestCalibrationIsGuided(t *testing.T) {
	b := opened(t)
	if b.frame.panel.front != panelSheet {
		t.Errorf("panel %v, want Sheet", b.frame.panel.front)
	}
	hints := []string{b.sheetP.Hint()} // one for each step
	next := func(step string) {
		t.Helper()
		hint := b.sheetP.Hint()
		if hint == "" || slices.Contains(hints, hint) {
			t.Errorf("%s the panel says %q as before", step, hint)
		}
		hints = append(hints, hint)
	}
	point(b, 100, 200, "NL 21 42")
	next("after one point")
	point(b, 300, 200, "NL 23 42")
	if next("after two points"); !b.foot.Quality().Unchecked {
		t.Error("two points make a sheet that is not unchecked")
	}
	point(b, 300, 100, "NL 23 43")
	point(b, 100, 100, "NL 21 43")
	next("after four points")
	useAsCheck(b, 205.5, 154.5, "a published list", "NL 2205 4245")
	if next("once checked"); !b.s.Verdict().Checked || b.foot.Quality().Unchecked || b.foot.Quality().Check == "" {
		t.Errorf("the feature checks nothing: %+v", b.s.Verdict())
	}
	b.undo()
	if b.s.Verdict().Checked {
		t.Error("the check outlived its undo")
	}
}

// useAsCheck aims at a point and uses a reference of that origin as check.
func useAsCheck(b *Bench, col, row float32, origin, ref string) {
	clickAt(b, view.PicPt{X: float64(col), Y: float64(row)})
	typeReference(b, ref)
	if origin != "" {
		chooseOrigin(b, origin)
	}
	b.sheetP.Points().UseAsCheck()
}

func TestWrongReferencesChangeNothing(t *testing.T) {
	b := calibrated(t)
	for _, ref := range []string{"", "nonsense", "NL 21 42", "ZZ 12 34", "NN 1 2 3", "1e9 1e9"} {
		before := b.s.Plan()
		clickAt(b, view.PicPt{X: 50, Y: 50})
		typeReference(b, ref)
		b.sheetP.Points().KeepPoint()
		if b.s.Plan() != before || !b.foot.Failed() {
			t.Errorf("%q: plan changed %v, fault shown %v, want unchanged and shown", ref, b.s.Plan() != before, b.foot.Failed())
		}
		if !b.sheetP.Points().Aiming() {
			t.Errorf("%q: the point aimed at was lost", ref)
		}
		b.sheetP.Points().Cancel()
	}
}

func TestDragOffersAndKeeps(t *testing.T) {
	b := calibrated(t)
	b.goTo(panelRoute)
	drag(b, 100, 200, 200, 100)
	if !b.view.Strip().Visible() || !strings.HasPrefix(b.frame.dial.Figures().Texts[dial.Grid], "045°") {
		t.Fatalf("strip %v, grid %q, want an offer of 045°", b.view.Strip().Visible(), b.frame.dial.Figures().Texts[dial.Grid])
	}
	if notes := b.frame.dial.Figures().Notes; !slices.Contains(notes, caution.Of(caution.Unchecked).Short()) {
		t.Errorf("cautions %q on an unchecked sheet", notes)
	}
	b.rune('l')
	if len(b.s.Plan().Legs) != 1 || b.view.Strip().Visible() {
		t.Fatalf("%d legs, strip %v, want one and no offer", len(b.s.Plan().Legs), b.view.Strip().Visible())
	}
	drag(b, 200, 100, 300, 100)
	b.rune('s')
	drag(b, 200, 100, 300, 200)
	b.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if p := b.s.Plan(); len(p.Legs) != 1 || len(p.Sights) != 1 || b.view.Strip().Visible() {
		t.Errorf("%d legs, %d sights, strip %v, want 1, 1 and none", len(p.Legs), len(p.Sights), b.view.Strip().Visible())
	}
	b.undo()
	b.undo()
	if p := b.s.Plan(); len(p.Legs) != 0 || len(p.Sights) != 0 {
		t.Errorf("%d legs, %d sights after undo, want none", len(p.Legs), len(p.Sights))
	}
	b.redo()
	if len(b.s.Plan().Legs) != 1 {
		t.Error("redo did not bring the leg back")
	}
}

func TestDraggingAMarkIsOneStep(t *testing.T) {
	b := calibrated(t)
	b.goTo(panelRoute)
	b.view.NewMark(view.PicPt{X: 100, Y: 100})
	id := b.selectedID()
	b.toggleMoving()
	drag(b, 100, 100, 150, 100)
	if m, _ := b.s.Plan().MarkByID(id); math.Abs(m.Position.At.Col-150) > 0.3 {
		t.Errorf("the mark is at col %v, want 150", m.Position.At.Col)
	}
	b.view.Discard()
	b.s.Undo()
	if m, _ := b.s.Plan().MarkByID(id); m.Position.At.Col != 100 {
		t.Errorf("after one undo the mark is at col %v, want 100", m.Position.At.Col)
	}
}

func TestTypedLegAndMark(t *testing.T) {
	b := calibrated(t)
	b.goTo(panelRoute)
	addTypedMark(t, b, "Quay", "NL 210 420")
	typeLeg(b, "quay", "090", "1 km")
	rows := b.s.Rows()
	if len(rows) != 1 || rows[0].From != "Quay" || rows[0].Reading.Grid.Angle().Deg() < 89.9 || rows[0].Reading.Grid.Angle().Deg() > 90.1 {
		t.Fatalf("rows %+v, want one leg east of the quay: %s", rows, b.foot.Message())
	}
	before := b.s.Plan()
	typeLeg(b, "", "400", "1 km")
	if b.s.Plan() != before || !b.foot.Failed() {
		t.Error("a bearing of 400 was taken")
	}
}

func TestSaveAndOpenAgain(t *testing.T) {
	b := calibrated(t)
	b.goTo(panelRoute)
	drag(b, 100, 200, 200, 100)
	b.view.Offer().KeepLeg()
	path := filepath.Join(t.TempDir(), "walk.legplan")
	if err := b.s.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	if strings.HasPrefix(b.window.Title(), "•") {
		t.Errorf("title %q still says unsaved", b.window.Title())
	}
	gpxPath := filepath.Join(t.TempDir(), "walk.gpx")
	exportTo(t, b, gpxPath)
	if raw, err := os.ReadFile(gpxPath); err != nil || !strings.Contains(string(raw), string(caution.Unchecked)) {
		t.Errorf("the GPX of an unchecked sheet does not say so: %v", err)
	}
	other := stand(t)
	reopened(t, other, path)
	until(t, other, "the plan's picture", func() bool { return whole(other) })
	if len(other.s.Plan().Legs) != 1 || other.s.Dirty() {
		t.Errorf("%d legs, dirty %v, want 1 and saved", len(other.s.Plan().Legs), other.s.Dirty())
	}
}

func TestMissingAndChangedPicture(t *testing.T) {
	b := calibrated(t)
	dir := t.TempDir()
	path := filepath.Join(dir, "walk.legplan")
	if err := b.s.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	pic := b.s.PicturePath()
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
		other := stand(t)
		reopened(t, other, path)
		until(t, other, "the question of a "+name+" picture", func() bool { return other.dialogs.Waiting() })
		if other.desk.Pyramid() != nil || points(other) != 2 {
			t.Errorf("%s: picture shown %v, %d points, want none shown and the plan whole", name, other.desk.Pyramid() != nil, points(other))
		}
	}
}

func TestBadFilesAreRefusedAndLoseNothing(t *testing.T) {
	b := calibrated(t)
	before := b.s.Plan()
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
		b.files.Opener.Open(path)
		answerWith(t, b, "Discard")
		planRead(t, b)
		if b.s.Plan() != before || !b.foot.Failed() {
			t.Errorf("%s: plan kept %v, fault shown %v", name, b.s.Plan() == before, b.foot.Failed())
		}
		b.escape()
	}
	fake := filepath.Join(dir, "fake.png")
	if err := os.WriteFile(fake, []byte("hello"), 0o644); err != nil {
		t.Fatal(err)
	}
	b.desk.Open(fake)
	until(t, b, "the refusal", func() bool { return b.dialogs.Waiting() })
	if b.s.Plan() != before || b.desk.Pyramid() == nil {
		t.Error("a text called .png took the sheet away")
	}
}

// A long imported track comes onto the sheet without holding the window up.
func TestTracksAreShown(t *testing.T) {
	b := calibrated(t)
	c, err := b.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	sys := b.s.Reader().System()
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
	until(t, b, "the track", func() bool { return len(b.view.Scene().Tracks) == 1 })
	id := b.s.Plan().Tracks[0].ID
	b.s.Select(id)
	until(t, b, "the track drawn as chosen", func() bool {
		drawn := b.view.Scene().Tracks
		return len(drawn) == 1 && drawn[0].ID == id && drawn[0].Selected
	})
	area := b.view.Area()
	look := func() view.View { return area.View() }
	area.ShowRect(view.RectOf(view.PicPt{X: 390, Y: 290}, view.PicPt{X: 400, Y: 300}))
	before := look()
	if b.route.Find(id); look() == before {
		t.Error("Find does not bring the track into view")
	}
	if err := b.s.SetHidden(id, true); err != nil {
		t.Fatal(err)
	}
	before = look()
	if b.route.Find(id); look() != before {
		t.Error("Find of a hidden track moved the map")
	}
}

func picAt(col, row float64) view.PicPt { return view.PicPt{X: col, Y: row} }
