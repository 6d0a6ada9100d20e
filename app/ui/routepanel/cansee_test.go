package routepanel_test

import (
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/ui/routepanel"
)

// marksInARow replaces the marks of the plan by some along a line of northing, by name and
// easting.
func (x stood) marksInARow(t *testing.T, at map[string]float64) {
	t.Helper()
	for _, m := range x.s.Plan().Marks {
		must(t, x.s.Remove(m.ID))
	}
	for name, e := range at {
		_, err := x.s.AddMark(name, plan.Position{Origin: plan.Imported, Code: geodesy.EPSG(27700), Grid: geodesy.Grid{E: e, N: 743500}})
		must(t, err)
	}
}

// From a mark the others are in sight, hidden behind a ridge, too near the line of sight to
// tell, or not known where heights are missing; without terrain nothing is said.
func TestWhatCanBeSeen(t *testing.T) {
	x := stand(t, "")
	x.marksInARow(t, map[string]float64{"Eye": 26000, "Near": 26800, "Behind": 29000, "Far": 31000})
	choose := func(name string) {
		for _, m := range x.s.Plan().Marks {
			if m.Name == name {
				x.s.Select(m.ID)
			}
		}
	}
	choose("Eye")
	if x.CanSee(); !strings.Contains(x.line.Message(), "Open terrain") {
		t.Errorf("without terrain: %q", x.line.Message())
	}
	x.heights(t, func(g geodesy.Grid) float64 { // level but for a ridge of 80 m at E 28000
		return 100 + 80*max(1-abs(g.E-28000)/200, 0)
	}, func(g geodesy.Grid) bool { return g.E > 30000 && g.E < 30500 })
	x.CanSee()
	for _, want := range []string{
		"Hidden by the ground Behind (ground 1995 m away).", // the ridge is 2000 m away, profiles have steps of 7 m
		"Not known: the terrain has no heights along part of the line of sight Far.",
		"Doubtful: the ground comes within 5 m of the line of sight Near.", // over level ground from 1.7 m
		"from an eye 1.7 m above the ground",
		"Crags lower than about 15 m do not show",
	} {
		if got := strings.Join(strings.Fields(x.words()), " "); !strings.Contains(got, want) {
			t.Errorf("the dialog lacks %q: %s", want, got)
		}
	}
}

// From a summit a mark in the valley is in sight; while figures are hidden no length is said.
func TestSeenFromTheRidge(t *testing.T) {
	x := stand(t, "")
	x.marksInARow(t, map[string]float64{"Top": 28000, "Valley": 26000, "Other side": 30000})
	x.heights(t, func(g geodesy.Grid) float64 { // a top of 500 m, and east of it a hill as high
		return 100 + max(400-abs(g.E-28000)/2.5, 0) + max(400-2*abs(g.E-29600), 0)
	}, func(geodesy.Grid) bool { return false })
	for _, m := range x.s.Plan().Marks {
		if m.Name == "Top" {
			x.s.Select(m.ID)
		}
	}
	x.ShowSection(routepanel.Selected)
	x.Conceal(true)
	x.CanSee()
	got := strings.Join(strings.Fields(x.words()), " ")
	if !strings.Contains(got, "In sight Valley.") || !strings.Contains(got, "Hidden by the ground Other side.") {
		t.Errorf("the dialog says %s", got)
	}
}

func abs(v float64) float64 { return max(v, -v) }

// What speaks against the position of a mark stands before what can be seen from it.
func TestSeenOnAnUncheckedSheet(t *testing.T) {
	x := stand(t, "")
	x.slope(t, func(geodesy.Grid) bool { return false })
	x.s.Select(x.s.Plan().Marks[0].ID)
	x.CanSee()
	if x.w.Shows("The sheet is unchecked") {
		t.Fatal("the demo's sheet is unchecked")
	}
	x.w.Tap(t, "Close")
	sheet, _ := x.s.Sheet()
	for range sheet.Evidence {
		must(t, x.s.RemoveEvidence(0))
	}
	x.CanSee()
	if !x.w.Shows("The sheet is unchecked") {
		t.Errorf("the dialog says %s", x.words())
	}
}
