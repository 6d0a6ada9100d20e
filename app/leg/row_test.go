package leg

import (
	"reflect"
	"sync"
	"testing"

	"legwright/app/calib"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/units"
)

// A reader takes over readings of the plan before it. Whatever the edit
// between the two plans is, its rows are those of a reader made anew.
func TestRowsTakenOverAreThoseReadAnew(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	p = p.AddLeg(plan.Leg{ID: "leg-2", From: p.Legs[0].To, To: plan.AtPosition(pick(t, p.Sheets[0], 400, 1200))})
	p = p.AddSight(plan.Sight{ID: "sight-1", From: p.Legs[0].From, To: p.Legs[1].To})
	other := p.Party
	other.Compass.SetTo = units.Degrees(2)
	other.SpeedKmh = 3
	moved := p.Sheets[0].Points[0]
	moved.At.Col += 3
	far := p.Marks[0]
	far.Position = pick(t, p.Sheets[0], 1500, 900)
	for _, edit := range []struct {
		name string
		do   func(*plan.Plan) *plan.Plan
		new  bool // every reading may be another one
	}{
		{"the title", func(p *plan.Plan) *plan.Plan { return p.SetTitle("Round") }, false},
		{"an end", func(p *plan.Plan) *plan.Plan {
			return p.MovePoint("leg-2", int(plan.ToEnd), plan.AtPosition(pick(t, p.Sheets[0], 700, 300)))
		}, false},
		{"a mark", func(p *plan.Plan) *plan.Plan { return p.SetMark(far) }, false},
		{"a leg removed", func(p *plan.Plan) *plan.Plan { return p.Remove("leg-1") }, false},
		{"a leg turned round", func(p *plan.Plan) *plan.Plan { return p.ReverseLeg("leg-1") }, false},
		{"the date", func(p *plan.Plan) *plan.Plan { return p.SetDate(plan.Date{Year: 2021, Month: 3, Day: 4}) }, true},
		{"the start", func(p *plan.Plan) *plan.Plan {
			return with(p, func(t *plan.Timing) { t.Start, t.Zone = plan.ClockTime(23, 0), "UTC" })
		}, false},
		{"the ground", func(p *plan.Plan) *plan.Plan { return onGround(p, 0, pace.Plantation) }, false},
		{"the party", func(p *plan.Plan) *plan.Plan { return p.SetParty(other) }, true},
		{"a control point", func(p *plan.Plan) *plan.Plan { return p.SetSheet(p.Sheets[0].SetPoint(0, moved)) }, true},
		{"a sheet removed", func(p *plan.Plan) *plan.Plan { return p.RemoveSheet("sheet-2") }, true},
	} {
		before := readerOf(t, p)
		before.Legs()
		next := edit.do(p)
		after, err := before.For(next)
		if err != nil {
			t.Fatal(err)
		}
		if after.SharesRows(before) {
			t.Errorf("%s: the rows are shared", edit.name)
		}
		if got := after.rows.known.Load() == nil; got != edit.new {
			t.Errorf("%s: nothing is taken over: %v, want %v", edit.name, got, edit.new)
		}
		anew := readerOf(t, next)
		if !reflect.DeepEqual(after.Legs(), anew.Legs()) || !reflect.DeepEqual(after.Sights(), anew.Sights()) {
			t.Errorf("%s: the rows taken over are not those read anew:\n%+v\n%+v", edit.name, after.Legs(), anew.Legs())
		}
	}
}

// While a control point moves, rows and labels are read once: its first move and its end have
// them read again.
func TestRowsAreSharedWhileAControlPointMoves(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	moved := func(by float64) plan.Sheet {
		point := p.Sheets[0].Points[0]
		point.At.Col += by
		return p.Sheets[0].SetPoint(0, point)
	}
	loose := func(plan.Sheet) (*calib.Calibration, error) { return nil, plan.ErrUncalibrated }
	moving := func(r *Reader, by float64) *Reader {
		next, err := r.Moving(p.SetSheetBy(moved(by), loose), p.Sheets[0].ID)
		if err != nil {
			t.Fatal(err)
		}
		return next
	}
	rest := readerOf(t, p)
	first := moving(rest, 1)
	second := moving(first, 2)
	if first.SharesRows(rest) || !second.SharesRows(first) {
		t.Error("want the rows read at the first move and shared at the second")
	}
	for _, row := range second.Legs() {
		if row.Err == nil && !row.Reading.Stopped() && row.FromEnd.Position.Sheet == p.Sheets[0].ID {
			t.Errorf("%s is not stopped while its sheet waits", row.Name)
		}
	}
	end := p.SetSheet(moved(2))
	if after, err := second.For(end); err != nil || after.SharesRows(second) || !reflect.DeepEqual(after.Legs(), readerOf(t, end).Legs()) {
		t.Errorf("at the end: %v, the rows are not those read anew", err)
	}
}

// TestRowsAreTakenOverWhileTheyAreRead: one goroutine may use a reader while
// another derives the next reader from it. The race detector checks it.
func TestRowsAreTakenOverWhileTheyAreRead(t *testing.T) {
	t.Parallel()
	before := readerOf(t, twoSheets(t))
	next := before.Plan().SetTitle("Round")
	var reading sync.WaitGroup
	reading.Go(func() { before.Legs() })
	after, err := before.For(next)
	reading.Wait()
	if err != nil || !reflect.DeepEqual(after.Legs(), before.Legs()) {
		t.Errorf("%v; got %+v, want %+v", err, after.Legs(), before.Legs())
	}
}

// A row of a leg and of a sight of which everything is known has no empty field but
// the error, and of a sight those that only legs have. Found by reflection: a field
// that is added and that nobody fills would stay blank in the ledger.
func TestEveryFieldOfARowIsFilled(t *testing.T) {
	t.Parallel()
	p := twoSheets(t)
	l, m := p.Legs[0], plan.AtMark(p.Marks[0])
	l.ID, l.Name, l.From, l.TickOff, l.Catching, l.Note = "leg-9", "down", m, "wall", "the ground rises", "stile"
	l.Climb = plan.Count(70)
	p = p.AddLeg(l).AddSight(plan.Sight{ID: "sight-9", From: m, To: l.To, Name: "top", Note: "in clear weather"})
	p = with(p, func(t *plan.Timing) { t.Start, t.Zone = plan.ClockTime(20, 0), "Europe/London" }).Remove("leg-1")
	r := readerOf(t, p)
	legs, sights := r.Legs(), r.Sights()
	for name, row := range map[string]Row{"leg": legs[len(legs)-1], "sight": sights[len(sights)-1]} {
		for _, field := range reflect.VisibleFields(reflect.TypeOf(row)) {
			if _, ok := reflect.TypeFor[Heights]().FieldByName(field.Name); ok {
				continue // the whole of them counts: TestHeightsOfARoute
			}
			if _, ok := reflect.TypeFor[Met]().FieldByName(field.Name); ok || field.Name == "Met" {
				continue // likewise: TestHazardsOfTheRoute, TestNearOnTheRoute
			}
			_, ofLegs := reflect.TypeFor[Timed]().FieldByName(field.Name)
			ofLegs = ofLegs || field.Name == "Timed" || field.Name == "Heights" || field.Name == "TickOff" || field.Name == "Catching"
			empty := field.Name == "Err" || name == "sight" && ofLegs
			if v := reflect.ValueOf(row).FieldByIndex(field.Index); v.IsZero() != empty {
				t.Errorf("%s: the field %s is %v", name, field.Name, v)
			}
		}
	}
}
