package planfile

import (
	"bytes"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// doubtedIsle is a sheet that its file places 60 m too far east, with what its
// printed grid says against that.
func doubtedIsle(t *testing.T) *plan.Plan {
	t.Helper()
	s := plan.Sheet{
		ID: "sheet-1", Picture: "maps/isle.tif", Width: 2000, Height: 1800, Code: geodesy.EPSG(27700),
		World: &[6]float64{5, 0, 50_060, 0, -5, 800_000},
	}
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	s.Contradicted = c.ContradictedBy([]calib.PicturePt{{Col: 200.25, Row: 200}, {Col: 400, Row: 200.5}, {Col: 400, Row: 400}}, 1000)
	return plan.New(plan.Date{}).SetSheet(s)
}

// What contradicts a position given by a file goes through the plan file and
// back; a plan without it says nothing of it.
func TestContradictedPlaceInTheFile(t *testing.T) {
	t.Parallel()
	p := doubtedIsle(t)
	written := text(t, p)
	read := func(in string) plan.Sheet {
		t.Helper()
		q, err := Decode(strings.NewReader(in))
		if err != nil {
			t.Fatal(err)
		}
		return q.Sheets[0]
	}
	got := read(written)
	if want := p.Sheets[0]; !got.Same(want) || !got.Contradicted.Found() {
		t.Errorf("read back %+v, want %+v", got.Contradicted, want.Contradicted)
	}
	if strings.Contains(text(t, isle()), "place_contradicted") {
		t.Error("a sheet that nothing contradicts has the key")
	}
	for name, in := range map[string]string{
		"no words":     strings.Replace(written, `"detail": "`+p.Sheets[0].Contradicted.Detail+`"`, `"detail": ""`, 1),
		"no crossings": strings.Replace(written, `"crossings_col_row"`, `"crossings_elsewhere"`, 1),
	} {
		if in == written {
			t.Fatalf("%s: nothing was replaced", name)
		}
		if d := read(in).Contradicted; !d.Found() || d.Words() == "" {
			t.Errorf("%s: the doubt is lost: %+v", name, d)
		}
	}
	right := strings.Replace(written, "50060", "50000", 1)
	q, err := Decode(strings.NewReader(right))
	if err != nil || q.Sheets[0].Contradicted.Found() || len(q.Mended) != 1 || !strings.Contains(q.Mended[0], "agree") {
		t.Errorf("beside the right place: %v, %+v, told %v", err, q.Sheets[0].Contradicted, q.Mended)
	}
	bad := strings.Replace(written, `"square_m": 1000`, `"square_m": -3`, 1)
	if _, err := Decode(bytes.NewReader([]byte(bad))); err == nil || !strings.Contains(err.Error(), "squares of -3 m") {
		t.Errorf("squares of a negative side: %v", err)
	}
}
