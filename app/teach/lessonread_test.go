package teach_test

import (
	"errors"
	"math"
	"testing"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/units"
)

// A lesson reads its line where its mark stands now, and with the training GMA that is
// declared, on which nobody may walk.
func TestALessonReadsItsLine(t *testing.T) {
	t.Parallel()
	p := plan.New(plan.Date{Year: 2026, Month: 11, Day: 28})
	mark := plan.Mark{ID: "mark-1", Name: "Cairn", Position: endAt(200000, 740000).Position}
	mark.Position.Code = "EPSG:27700"
	to := endAt(200000, 741000)
	to.Position.Code = "EPSG:27700"
	p.Marks = []plan.Mark{mark}
	r, err := leg.NewReader(p)
	must(t, err)
	l := teach.NewLesson()
	if _, err := l.Read(r); !errors.Is(err, teach.ErrNoLine) {
		t.Errorf("without a line: %v", err)
	}
	stale := plan.AtMark(mark)
	stale.Position.Grid.E -= 1000
	l.Show(teach.Line{From: stale, To: to})
	got, err := l.Read(r)
	must(t, err)
	if math.Abs(got.Grid.Angle().Signed().Deg()) > 1e-6 || got.Has(caution.TrainingGMA) {
		t.Errorf("grid bearing %.3f°, want 0; cautions %v", got.Grid.Angle().Deg(), got.Cautions)
	}
	must(t, l.SetTraining(units.GMA(units.Degrees(12))))
	got, err = l.Read(r)
	must(t, err)
	if math.Abs(got.Magnetic.Angle().Deg()-348) > 1e-6 || !got.Has(caution.TrainingGMA) || !got.Stopped() {
		t.Errorf("trained: magnetic %.3f°, want 348; stopped %v", got.Magnetic.Angle().Deg(), got.Stopped())
	}
}
