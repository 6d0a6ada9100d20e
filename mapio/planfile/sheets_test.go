package planfile

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// panels is isle with a second sheet of another folder, a blank third one, and
// a mark on the second.
func panels(t testing.TB) *plan.Plan {
	t.Helper()
	north := plan.Sheet{ID: "sheet-2", Picture: "../other/north.png", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700), Medium: calib.Photograph, WorldM: 3.5}
	for _, p := range [][4]float64{{250, 250, 51_000, 807_000}, {1750, 300, 57_000, 807_000}, {1700, 1750, 57_000, 801_000}, {240, 1740, 51_000, 801_000}} {
		north = north.WithPoint(calib.ControlPoint{At: calib.PicturePt{Col: p[0], Row: p[1]}, Ref: geodesy.Grid{E: p[2], N: p[3]}, Text: "by hand"})
	}
	c, err := north.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	p := isle().SetSheet(north).SetSheet(plan.Sheet{
		ID: "sheet-3", Picture: "maps/blank.png", Width: 10, Height: 10, Code: geodesy.EPSG(27700),
		World: &[6]float64{5, 0, 60_000, 0, -5, 800_000}, WorldM: 12.5, WorldPx: 1.75,
	})
	p = p.AddMark(plan.Mark{ID: "mark-3", Name: "Ford", Position: plan.PickedAt(north, c, calib.PicturePt{Col: 1000.5, Row: 990.25}, 0.5)})
	return p.AddLeg(plan.Leg{ID: "leg-3", From: plan.AtMark(p.Marks[0]), To: plan.AtMark(p.Marks[2])})
}

func TestSeveralSheetsComeBack(t *testing.T) {
	t.Parallel()
	want := panels(t)
	var text bytes.Buffer
	must(t, Encode(&text, want))
	got, err := Decode(&text)
	must(t, err)
	if !reflect.DeepEqual(got.Marks, want.Marks) || !reflect.DeepEqual(got.Legs, want.Legs) {
		t.Errorf("marks and legs:\n%+v\n%+v", got.Marks, want.Marks)
	}
	if len(got.Sheets) != 3 {
		t.Fatalf("%d sheets", len(got.Sheets))
	}
	for i := range want.Sheets {
		if !got.Sheets[i].Same(want.Sheets[i]) {
			t.Errorf("sheet %d: got %+v, want %+v", i+1, got.Sheets[i], want.Sheets[i])
		}
	}
}

// Pictures are named from the plan's own folder, each for itself, and what is
// missing of one says nothing of the others.
func TestPicturesOfSeveralSheets(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, "walk"+Ext)
	there := filepath.Join(dir, "maps", "blank.png")
	must(t, os.MkdirAll(filepath.Dir(there), 0o755))
	must(t, os.WriteFile(there, []byte("picture"), 0o600))
	s := NewStore()
	abs := withPictures(panels(t), func(name string) string { return AbsPicture(path, name) })
	_, err := s.Save(path, abs, plan.Overwrite{})
	must(t, err)
	got, _, err := s.Load(path)
	must(t, err)
	for i, want := range []string{
		filepath.Join(dir, "maps", "isle.png"), filepath.Join(filepath.Dir(dir), "other", "north.png"), there,
	} {
		if got.Sheets[i].Picture != want {
			t.Errorf("sheet %d: got its picture at %s, want %s", i+1, got.Sheets[i].Picture, want)
		}
	}
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
