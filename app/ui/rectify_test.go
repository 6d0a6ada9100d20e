package ui

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/mapio/georef"
	"legwright/mapio/rectify"
	"legwright/mapio/scan"
)

// readable is a calibrated bench whose picture can be read as a whole.
func readable(t *testing.T) *Bench {
	t.Helper()
	b := calibrated(t)
	if err := b.desk.Pyramid().Wait(0); err != nil {
		t.Fatal(err)
	}
	return b
}

// rectifyFrame is the frame at the scale that was typed.
func rectifyFrame(s rectify.Sheet, text string) (rectify.Frame, error) {
	reach, err := rectify.ReachOf(s.Calibration, s.Width, s.Height)
	if err != nil {
		return rectify.Frame{}, err
	}
	return frameAt(reach, text)
}

// rectify is writeRectified at the scale that was typed.
func (b *Bench) rectify(path string, s rectify.Sheet, scale string) {
	frame, err := rectifyFrame(s, scale)
	b.writeRectified(path, s, frame, err, false)
}

// TestRectifyFromTheBench writes the sheet away from the window; the result
// is found with its place, and is called unchecked.
func TestRectifyFromTheBench(t *testing.T) {
	b := readable(t)
	s, err := b.rectifySheet()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	out := filepath.Join(dir, "up.png")
	b.rectify(out, s, "20")
	until(t, "the rectified map", func() bool { return b.rectified.cancel == nil })
	if says := b.foot.Message(); b.foot.Failed() || !strings.Contains(says, "up.png and up.pgw") || !strings.Contains(says, "unchecked") {
		t.Errorf("the bench says %q", says)
	}
	got, err := scan.Open(context.Background(), os.DirFS(dir), "up.png", scan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	world := georef.Find(got.Geo).World
	if world == nil {
		t.Fatal("there is no world file")
	}
	c, _ := b.s.Calibration()
	g := c.ToGrid(calib.PicturePt{Col: 200, Row: 150})
	col, row := int((g.E-world.C)/world.A), int((g.N-world.F)/world.E)
	if v, _, _, _ := got.Image.At(col, row).RGBA(); v>>8 < 198 || v>>8 > 208 {
		t.Errorf("at %d, %d it is %d grey, want about that of the sheet, 200 to 206", col, row, v>>8)
	}
}

// TestRectifyAsksOrRefuses: nothing is written before it is clear that
// something can be, and never over a sheet's picture.
func TestRectifyAsksOrRefuses(t *testing.T) {
	b := stand(t)
	b.askRectify()
	if !b.foot.Failed() || b.dialogOpen() {
		t.Errorf("without a picture: %q", b.foot.Message())
	}
	b = opened(t)
	b.askRectify()
	if !b.foot.Failed() || b.dialogOpen() {
		t.Errorf("without a calibration: %q", b.foot.Message())
	}
	b = readable(t)
	b.askRectify()
	if !b.dialogOpen() {
		t.Fatalf("no dialog: %q", b.foot.Message())
	}
	b.escape()
	s, err := b.rectifySheet()
	if err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(b.s.PicturePath())
	if err != nil {
		t.Fatal(err)
	}
	for name, try := range map[string]func(){
		"over the sheet's picture": func() { b.rectify(b.s.PicturePath(), s, "") },
		"no number":                func() { b.rectify(filepath.Join(t.TempDir(), "a.png"), s, "fine") },
		"too fine":                 func() { b.rectify(filepath.Join(t.TempDir(), "a.png"), s, "0.01") },
	} {
		try()
		if !b.dialogOpen() || b.rectified.cancel != nil {
			t.Errorf("%s: not refused", name)
		}
		b.escape()
	}
	if after, err := os.ReadFile(b.s.PicturePath()); err != nil || string(after) != string(before) {
		t.Errorf("the sheet's picture changed")
	}
}

// TestRectifyGivenUp leaves nothing behind, and the bench can begin again.
func TestRectifyGivenUp(t *testing.T) {
	b := readable(t)
	s, err := b.rectifySheet()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	b.rectify(filepath.Join(dir, "up.png"), s, "")
	if _, err := b.rectifySheet(); err == nil {
		t.Errorf("a second one may be begun beside the first")
	}
	ended := b.rectified.ended
	b.cancelRectify()
	until(t, "the end", func() bool {
		select {
		case <-ended:
			return true
		default:
			waiting.later(func() {})
			return false
		}
	})
	list, err := os.ReadDir(dir)
	if err != nil || len(list) != 0 || b.rectified.cancel != nil {
		t.Errorf("%d files are left, %v", len(list), err)
	}
	if _, err := b.rectifySheet(); err != nil {
		t.Error(err)
	}
}

// TestRectifyPictureGone: a picture that is let go of is an error, not
// white paper.
func TestRectifyPictureGone(t *testing.T) {
	b := readable(t)
	s, err := b.rectifySheet()
	if err != nil {
		t.Fatal(err)
	}
	f, err := rectifyFrame(s, "")
	if err != nil {
		t.Fatal(err)
	}
	b.desk.Pyramid().Close()
	if err := rectify.Save(context.Background(), filepath.Join(t.TempDir(), "up.png"), s, f, false, nil); err == nil {
		t.Error("it was written")
	}
}

// TestTimeLeft is told when it can be, and rounded up.
func TestTimeLeft(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		took      time.Duration
		done, all int
		want      string
	}{
		{900 * time.Millisecond, 50, 100, ""},
		{2 * time.Second, 25, 100, ", about 6 s left"},
		{2 * time.Second, 1, 3, ", about 4 s left"},
		{10 * time.Second, 1, 100, ", about 17 minutes left"},
		{10 * time.Second, 100, 100, ""},
		{10 * time.Second, 0, 100, ""},
	} {
		if got := timeLeft(c.took, c.done, c.all); got != c.want {
			t.Errorf("%v, %d of %d: got %q, want %q", c.took, c.done, c.all, got, c.want)
		}
	}
}

// TestPathsOfTwoFiles: the question for a path speaks of all files that are
// written, and takes each ending that will do.
func TestPathsOfTwoFiles(t *testing.T) {
	t.Parallel()
	q := pathAsk{Endings: []string{".png", ".jpg"}, Files: rectify.Files}
	dir := t.TempDir()
	for _, c := range []struct{ text, full, note string }{
		{"a", "a.png", "Writes a.png and a.pgw into"},
		{"a.JPG", "a.JPG", "Writes a.JPG and a.jgw into"},
		{"b.png", "b.png", "Writes b.png and b.pgw into"},
		{"old", "old.png", "Overwrites the existing old.pgw."},
	} {
		if err := os.WriteFile(filepath.Join(dir, "old.pgw"), nil, 0o600); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(dir, c.text)
		if got := q.Full(path); got != filepath.Join(dir, c.full) {
			t.Errorf("%s: got %s, want %s", c.text, got, c.full)
		}
		if got := q.SaveNote(path); !strings.HasPrefix(got, c.note) {
			t.Errorf("%s: got %q, want %q", c.text, got, c.note)
		}
	}
	q.Files = func(path string) []string {
		return append(rectify.Files(path), strings.TrimSuffix(path, ".png")+".prj")
	}
	if got := q.SaveNote(filepath.Join(dir, "c.png")); !strings.HasPrefix(got, "Writes c.png, c.pgw and c.prj into") {
		t.Errorf("of three files: got %q", got)
	}
}

// TestRectifiedOpensNoBetter: a rectified map opens again calibrated by
// the files beside it, as exact as the sheet it was made from, and unchecked.
func TestRectifiedOpensNoBetter(t *testing.T) {
	b := readable(t)
	s, err := b.rectifySheet()
	if err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "up.jpg")
	b.rectify(out, s, "20")
	until(t, "the rectified map", func() bool { return b.rectified.cancel == nil })
	old, err := b.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	g := old.ToGrid(calib.PicturePt{Col: 200, Row: 150})
	before := old.Covariance(calib.PicturePt{Col: 200, Row: 150}, 0)

	again := stand(t)
	again.open(out)
	until(t, "the sheet, placed with nothing asked", func() bool {
		_, err := again.s.Calibration()
		return err == nil && !again.openingPicture()
	})
	if again.dialogOpen() {
		t.Error("something is asked")
	}
	if got := again.pictures.shown.Header.PositionM; got <= 0 {
		t.Fatalf("the picture states a sigma of %g m", got)
	}
	c, err := again.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	if again.s.Reader().System() != b.s.Reader().System() {
		t.Errorf("it opens on %v", again.s.Reader().System())
	}
	after := c.Covariance(c.ToPicture(g), 0)
	if after.EE < before.EE || after.NN < before.NN || again.s.Verdict().Checked {
		t.Errorf("variances %.2f and %.2f m², of the sheet %.2f and %.2f", after.EE, after.NN, before.EE, before.NN)
	}
}

// A picture rectified from a sheet with a stop opens with that stop.
func TestRectifiedKeepsTheStop(t *testing.T) {
	for _, name := range []string{"up.png", "up.jpg"} {
		b := placedBench(t, 120)
		compareWithLines(t, b)
		s, err := b.rectifySheet()
		if err != nil {
			t.Fatal(err)
		}
		out := filepath.Join(t.TempDir(), name)
		b.rectify(out, s, "10")
		until(t, "the rectified map", func() bool { return b.rectified.cancel == nil })
		again := stand(t)
		again.open(out)
		until(t, "the sheet, placed with nothing asked", func() bool {
			_, err := again.s.Calibration()
			return err == nil && !again.openingPicture()
		})
		if got := sheetInHand(again).FileCautions; got != "evidence-disagrees" || len(again.s.Reader().SheetCautions()) == 0 {
			t.Errorf("%s: opened with %q: %s", name, got, again.foot.Message())
		}
		v, err := again.s.AddEvidence(calib.FromReceiver, calib.PicturePt{Col: 143, Row: 77}, "NL 2143 4323", 0.5)
		if err != nil || v.Checked {
			t.Errorf("%s: it is checked: %v", name, err)
		}
	}
}
