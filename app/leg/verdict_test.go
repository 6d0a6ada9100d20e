package leg

import (
	"reflect"
	"testing"

	"legwright/app/calib"
	"legwright/app/plan"
)

// A reader that takes verdicts over from one before an edit gives those of a reader
// that never saw another plan: also where a sheet rests on the one that was edited.
func TestVerdictsFollowEveryEdit(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	south, north := p.Sheets[0], p.Sheets[1]
	c, err := north.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	m := p.Marks[0].Position
	north = north.WithEvidence(calib.Evidence{
		Source: calib.FromSheet, At: c.ToPicture(m.Grid), SigmaPx: 0.5, Text: "Cairn", Ref: m.Grid, Sheet: string(south.ID), SheetAt: m.At, SheetSigmaPx: 0.5,
	})
	p = p.SetSheet(north)
	moved := south.Points[0]
	moved.At.Col += 200
	r := readerOf(t, p)
	if !r.Verdict(south.ID).Checked || len(r.Verdict(north.ID).Evidence) != 1 || !r.Verdict(north.ID).Evidence[0].Counts {
		t.Fatalf("the made plan: %+v, %+v", r.Verdict(south.ID), r.Verdict(north.ID))
	}
	for name, q := range map[string]*plan.Plan{
		"nothing":                p.SetTitle("Again"),
		"a leg more":             p.AddLeg(plan.Leg{ID: "leg-9", From: p.Legs[0].To, To: p.Legs[0].From}),
		"evidence removed":       p.SetSheet(south.WithoutEvidence(0).WithoutEvidence(0)),
		"a control point moved":  p.SetSheet(south.SetPoint(0, moved)),
		"the lending sheet gone": p.RemoveSheet(south.ID),
		"the other sheet gone":   p.RemoveSheet(north.ID),
	} {
		next, err := r.For(q)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		fresh := readerOf(t, q)
		for _, s := range q.Sheets {
			if got, want := next.Verdict(s.ID), fresh.Verdict(s.ID); !reflect.DeepEqual(got.Cautions, want.Cautions) || !reflect.DeepEqual(got.Evidence, want.Evidence) || got.Checked != want.Checked {
				t.Errorf("%s: sheet %s: %+v, afresh %+v", name, s.ID, got, want)
			}
		}
	}
}
