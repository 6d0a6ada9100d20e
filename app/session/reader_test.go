package session

import (
	"fmt"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// A plan on a grid that nobody knows cannot come in by a file; where one is
// there all the same, its readings say so and nothing breaks down.
func TestReaderOfAPlanOnNoKnownGrid(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	_, err := s.KeepLeg(endAt(t, s, 600, 600), endAt(t, s, 900, 900))
	must(t, err)
	sheet := mustSheet(t, s)
	sheet.Code = geodesy.EPSG(99_999)
	s.put("spoil", "", s.Plan().SetSheet(sheet))
	rows := s.Rows()
	if len(rows) != 1 || rows[0].Err == nil || !strings.Contains(rows[0].Err.Error(), "99999") {
		t.Errorf("got %+v, want one row with an error that names the grid", rows)
	}
	if sys := s.Reader().System(); sys != nil {
		t.Errorf("got the grid %v, want none", sys.Code())
	}
	s.Undo()
	if rows := s.Rows(); rows[0].Err != nil {
		t.Errorf("after undo: %v", rows[0].Err)
	}
}

// A reference is checked at every key that is typed: that fits nothing anew.
// What is allocated shows whether anything was fitted.
func TestCheckReferenceFitsNothing(t *testing.T) {
	s, _, _ := bench(t)
	for i := range 36 {
		col, row := 300+200*(i%6), 300+200*(i/6)
		_, err := s.AddControlPoint(at(float64(col), float64(row)), fmt.Sprintf("%d %d", 50_000+5*col, 800_000-5*row))
		must(t, err)
	}
	sheet := mustSheet(t, s)
	fit := testing.AllocsPerRun(1, func() {
		if _, err := sheet.Calibration(); err != nil {
			t.Error(err)
		}
	})
	s.Reader() // has the calibration from now on
	check := testing.AllocsPerRun(10, func() {
		if ref, err := s.CheckReference("62 95"); err != nil || !ref.LettersInferred {
			t.Errorf("%+v, %v", ref, err)
		}
	})
	if check > fit/10 {
		t.Errorf("checking a reference allocates %.0f times, a fit %.0f times", check, fit)
	}
}
