package planfile_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/mapio/planfile"
)

// What the session asks for is met.
var (
	_ session.Store   = (*planfile.Store)(nil)
	_ session.Journal = (*planfile.Journal)(nil)
)

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// A bench is worked at, dies, and another one takes up what was not saved; a
// third changes the file in between and is not written over.
func TestABenchDiesAndAnotherTakesOver(t *testing.T) {
	t.Parallel()
	dir, state := t.TempDir(), t.TempDir()
	path := filepath.Join(dir, "isle.legplan")
	now := func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }
	journal := planfile.OpenJournal([]string{state}, "")
	must(t, journal.Err())
	one := session.New(planfile.NewStore(), journal, now)
	must(t, one.OpenSheet(session.Picture{Path: filepath.Join(dir, "isle.png"), Width: 2000, Height: 2000}))
	_, err := one.AddControlPoint(calib.PicturePt{Col: 200, Row: 200}, "NL 51 99")
	must(t, err)
	must(t, one.SaveAs(path))
	_, err = one.AddControlPoint(calib.PicturePt{Col: 1800, Row: 1800}, "NL 59 91")
	must(t, err)
	pos, err := one.PositionAt(calib.PicturePt{Col: 700, Row: 700}, 0.5)
	must(t, err)
	_, err = one.AddMark("Cairn", pos)
	must(t, err)
	must(t, one.Close(true)) // as a crash: the journal stays

	left, err := planfile.Pending([]string{state})
	must(t, err)
	if len(left) != 1 || left[0].Path != path || len(left[0].Steps) != 2 {
		t.Fatalf("left behind: %+v, want two acts on %s", left, path)
	}
	two := session.New(planfile.NewStore(), nil, now)
	must(t, two.RecoverAs(left[0].Path, left[0].Base, left[0].Plan))
	must(t, left[0].Discard())
	if _, ok := two.Plan().MarkByName("Cairn"); !ok || !two.Dirty() {
		t.Error("the mark did not come back as unsaved")
	}

	three := session.New(planfile.NewStore(), nil, now)
	must(t, three.Open(path))
	must(t, three.SetTitle("theirs"))
	must(t, three.Save())
	if err := two.Save(); !errors.Is(err, session.ErrChangedOnDisk) || !errors.Is(err, plan.ErrChangedOnDisk) {
		t.Errorf("Save over the other's work: %v, want ErrChangedOnDisk", err)
	}
	must(t, two.Save(session.OverChanged))
	must(t, three.Open(path))
	if _, ok := three.Plan().MarkByName("Cairn"); !ok || three.PicturePath() != filepath.Join(dir, "isle.png") {
		t.Errorf("read back without the mark, or with its picture at %q", three.PicturePath())
	}
	if entries, err := os.ReadDir(state); err != nil || len(entries) != 0 {
		t.Errorf("the state folder still holds %v, %v", entries, err)
	}
}
