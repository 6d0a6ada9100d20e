package teach_test

import (
	"reflect"
	"testing"

	"legwright/app/plan"
	"legwright/app/teach"
)

func TestRowOfAPlan(t *testing.T) {
	t.Parallel()
	p := plan.New(plan.Date{})
	p.Marks = []plan.Mark{{ID: "mark-1", Name: "Cairn", Position: endAt(1, 1).Position}}
	p.Legs = []plan.Leg{
		{ID: "leg-1", From: plan.AtMark(p.Marks[0]), To: endAt(500, 500)},
		{ID: "leg-2", From: endAt(500, 500), To: endAt(900, 500), Name: "along the wall"},
	}
	p.Sights = []plan.Sight{{ID: "sight-1", From: endAt(900, 500), To: plan.AtMark(p.Marks[0])}}
	p = p.FillEnds()
	var got []string
	for _, l := range teach.RowOf(p) {
		got = append(got, string(l.ID)+": "+l.Name)
	}
	want := []string{"leg-1: Cairn to A", "leg-2: along the wall", "sight-1: B to Cairn"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
