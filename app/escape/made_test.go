package escape_test

import (
	"slices"
	"testing"
	"time"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// The made ground lies on the central meridian of the British grid: a metre of the grid
// is 1.0004 m on the ground, and grid north is true north. Positions are metres east and
// north of a cairn.
const eastM, northM = 400_000, 743_000

func at(e, n float64) plan.Position {
	return plan.Position{Grid: geodesy.Grid{E: eastM + e, N: northM + n}, Code: geodesy.EPSG(27700), Origin: plan.Typed, Text: "typed"}
}

func path(xy ...float64) (out []plan.Position) {
	for i := 0; i < len(xy); i += 2 {
		out = append(out, at(xy[i], xy[i+1]))
	}
	return out
}

// walk is a plan with a leg from a cairn to a col 1 km east, on 28 November 2026 in the
// zone of London, and an escape from the cairn: 400 m south on the compass, then 700 m
// along a path to a road.
func walk() *plan.Plan {
	p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 28})
	t := p.Timing
	t.Start, t.Zone, t.RestMinPerHour = plan.ClockTime(9, 0), "Europe/London", 0
	cairn := plan.Mark{ID: "cairn", Name: "Cairn", Position: at(0, 0), InCloud: true}
	col := plan.Mark{ID: "col", Name: "Col", Position: at(1000, 0), InCloud: true}
	p = p.SetTiming(t).AddMark(cairn).AddMark(col).
		AddLeg(plan.Leg{ID: "leg-1", From: plan.AtMark(cairn), To: plan.AtMark(col)}).
		AddLine(plan.Line{ID: "path", Kind: plan.PathLine, Name: "Peat road", Points: path(0, -400, 300, -400, 300, -800)}).
		AddHaven(plan.Haven{ID: "road", Kind: plan.RoadHaven, Name: "Glen road", Points: path(200, -800, 600, -800)})
	return p.AddEscape(plan.Escape{ID: "off", Start: plan.AtMark(cairn), Chosen: true, Legs: []plan.EscapeLeg{
		{To: plan.AtPosition(at(0, -400)), Climb: plan.Count(0), Descent: plan.Count(100)},
		{To: plan.AtPosition(at(300, -800)), Along: "path", Climb: plan.Count(20), Descent: plan.Count(40)},
	}})
}

func judged(t testing.TB, p *plan.Plan, tiles ...*terrain.Tile) escape.Judged {
	t.Helper()
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	m, err := terrain.NewModel(tiles...)
	if err != nil {
		t.Fatal(err)
	}
	return escape.Of(r.Over(m))
}

func only(t testing.TB, p *plan.Plan, tiles ...*terrain.Tile) escape.Escape {
	t.Helper()
	j := judged(t, p, tiles...)
	if len(j.Escapes) != 1 {
		t.Fatalf("%d escapes, want 1", len(j.Escapes))
	}
	return j.Escapes[0]
}

// edit changes the escape of walk.
func edit(p *plan.Plan, f func(*plan.Escape)) *plan.Plan {
	e, _ := p.EscapeByID("off")
	e = e.Clone()
	f(&e)
	return p.SetEscape(e)
}

func hazard(id plan.ID, kind plan.HazardKind, closed bool, points []plan.Position) plan.Hazard {
	return plan.Hazard{ID: id, Kind: kind, Closed: closed, Points: points, KeepM: kind.DefaultKeepM(0)}
}

// about are the codes of the cautions that are not the same for every escape of walk.
func about(list []caution.Caution) (out []caution.Code) {
	usual := []caution.Code{
		caution.EscapeDraft, caution.DriftNotJudged, caution.SnowNotJudged, caution.SnowNotAnswered,
		caution.NothingDrawn, caution.SteepnessUnknown,
	}
	for _, c := range list {
		if !slices.Contains(usual, c.Code) && !slices.Contains(out, c.Code) {
			out = append(out, c.Code)
		}
	}
	return out
}
