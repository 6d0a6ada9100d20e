package ledger_test

import (
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
)

// An escape stands beneath the leg that starts at its mark, those of the last mark beneath
// the last leg, and none of them counts in the sums of the route.
func TestEscapesStandBeneathTheirLeg(t *testing.T) {
	x := stand(t, 3, wide())
	pos := func(col, row float64) plan.Position {
		p, err := x.s.PositionAt(calib.PicturePt{Col: col, Row: row}, 0.5)
		must(t, err)
		return p
	}
	before := x.Totals()
	var marks []plan.Mark
	for _, which := range []struct {
		leg  int
		end  session.Field
		name string
	}{{1, session.FieldFrom, "Col"}, {2, session.FieldTo, "Top"}} {
		must(t, x.s.SetLegField(x.s.Plan().Legs[which.leg].ID, which.end, which.name))
		for _, m := range x.s.Plan().Marks {
			if m.Name == which.name {
				marks = append(marks, m)
			}
		}
	}
	top, err := x.s.AddEscape(plan.AtMark(marks[1]), plan.AtPosition(pos(360, 1100)), "")
	must(t, err)
	first, err := x.s.AddEscape(plan.AtMark(marks[0]), plan.AtPosition(pos(300, 1000)), "")
	must(t, err)
	second, err := x.s.AddEscape(plan.AtMark(marks[0]), plan.AtPosition(pos(340, 1000)), "")
	must(t, err)
	var rows []string
	for i := range 6 {
		text, under := x.Cell(i, "leg")
		rows = append(rows, text+"/"+under)
	}
	if got, want := strings.Join(rows, " "), "1/ 2/ E02-1/DRAFT E02-2/DRAFT 3/ E04-1/DRAFT"; got != want {
		t.Errorf("rows %q, want %q", got, want)
	}
	if after := x.Totals(); strings.Replace(after, "3 escapes DRAFT, ", "", 1) != before || after == before {
		t.Errorf("the sums of the route are %q, without escapes %q", after, before)
	}
	if text, _ := x.Cell(2, "from"); text != "Col" {
		t.Errorf("it starts at %q", text)
	}
	x.click(3, "time")
	if sel := x.s.Selection(); sel.ID != second {
		t.Errorf("a click selects %+v, want %q", sel, second)
	}
	plans := x.s.Plan()
	x.typed("9")
	if _, open := x.open(); open || x.s.Plan() != plans {
		t.Error("a cell of an escape can be typed into")
	}
	x.MoveRow(-1)
	if own := x.s.Plan().EscapesFrom(marks[0].ID); own[0].ID != second || own[1].ID != first {
		t.Error("it did not move up among those of its mark")
	}
	x.s.Select(top)
	x.keys("Delete")
	if _, ok := x.s.Plan().EscapeByID(top); ok {
		t.Error("Delete leaves the chosen escape in the plan")
	}
	x.s.Undo()
	if _, ok := x.s.Plan().EscapeByID(top); !ok {
		t.Error("undo does not restore it")
	}
	x.Conceal(true)
	for _, head := range []string{"distance", "time", "clock"} {
		if text, under := x.Cell(2, head); text != "?" || under != "" {
			t.Errorf("while figures are hidden, %s says %q %q", head, text, under)
		}
	}
}
