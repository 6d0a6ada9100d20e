package card

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"legwright/app/geodesy"
	"legwright/app/pace"
	"legwright/app/plan"
)

// TestGroundIsWhatTheLegsSay: a leg is drawn along the grid bearing that the ledger and the
// headless legs have for it, and at that length; everything of the plan is there.
func TestGroundIsWhatTheLegsSay(t *testing.T) {
	t.Parallel()
	s := demoSource(t)
	drawn, corner := s.Reader.Plan(), func(e, n float64) plan.Position {
		return plan.ImportedAt(geodesy.EPSG(27700), geodesy.Grid{E: e, N: n}, 1)
	}
	wood := plan.Area{ID: drawn.NextID(plan.OfArea), Name: "Dark wood", Ground: pace.Plantation, Points: []plan.Position{corner(26_000, 743_000), corner(26_300, 743_000), corner(26_300, 743_400)}}
	r, err := s.Reader.For(drawn.AddArea(wood))
	if err != nil {
		t.Fatal(err)
	}
	s.Reader = r
	got, err := Ground(s)
	if err != nil {
		t.Fatal(err)
	}
	rows, p := s.Reader.Legs(), s.Reader.Plan()
	if len(rows) < 5 || len(got.Legs) != len(rows) {
		t.Fatalf("%d legs are drawn of %d", len(got.Legs), len(rows))
	}
	for i, row := range rows {
		l := got.Legs[i]
		bearing := math.Atan2(l.To.E-l.From.E, l.To.N-l.From.N)
		if off := math.Remainder(bearing-float64(row.Reading.Grid), 2*math.Pi); math.Abs(off) > 1e-9 {
			t.Errorf("leg %d is drawn %g rad aside", i+1, off)
		}
		if length := math.Hypot(l.To.E-l.From.E, l.To.N-l.From.N); math.Abs(length-row.Reading.GridM) > 1e-6 || l.GroundM != row.Reading.GroundM {
			t.Errorf("leg %d is drawn %.3f m long, ticked for %.3f; it has %.3f and %.3f", i+1, length, l.GroundM, row.Reading.GridM, row.Reading.GroundM)
		}
		if l.Stopped != row.Reading.Stopped() {
			t.Errorf("leg %d: stopped %v", i+1, l.Stopped)
		}
	}
	if len(got.Marks) != len(p.Marks) || len(got.Escapes) != len(p.Escapes) || len(got.Hazards) != len(p.Hazards) || len(got.Havens) != len(p.Havens) || len(got.Lines) != len(p.Lines) {
		t.Errorf("drawn are %d marks, %d escapes, %d hazards, %d havens, %d lines; not all of the plan", len(got.Marks), len(got.Escapes), len(got.Hazards), len(got.Havens), len(got.Lines))
	}
	if a := got.Areas; len(a) != 1 || a[0].Name != "Dark wood" || a[0].Ground != pace.Plantation || len(a[0].Outline) != 3 || a[0].Outline[2] != wood.Points[2].Grid {
		t.Errorf("the areas drawn are %+v", a)
	}
	for _, e := range got.Escapes {
		if len(e.Points) < 2 || e.Stopped != (strings.HasPrefix(e.Name, "DRAFT ") || strings.HasPrefix(e.Name, "! ")) {
			t.Errorf("escape %q has %d points, stopped %v", e.Name, len(e.Points), e.Stopped)
		}
	}
}

// TestGroundLeavesOut: an escape that is left out of the paper is not on its map, and a thing
// off the grid is an error.
func TestGroundLeavesOut(t *testing.T) {
	t.Parallel()
	s := demoSource(t)
	all, err := Ground(s)
	if err != nil || len(all.Escapes) == 0 {
		t.Fatalf("%d escapes: %v", len(all.Escapes), err)
	}
	name := strings.TrimPrefix(strings.TrimPrefix(all.Escapes[0].Name, "DRAFT "), "! ")
	s.Omit = []string{name}
	if got, err := Ground(s); err != nil || len(got.Escapes) != len(all.Escapes)-1 {
		t.Errorf("%d escapes without %s: %v", len(got.Escapes), name, err)
	}
	s.Omit = []string{"E99-1"}
	var unknown *Unknown
	if _, err := Ground(s); !errors.As(err, &unknown) {
		t.Errorf("got %v", err)
	}
	p := demoPlan(t)
	p = p.AddMark(plan.Mark{ID: "far", Name: "Far away", Position: plan.ImportedAt(geodesy.EPSG(32756), geodesy.Grid{E: 500_000, N: 6_000_000}, 0)})
	if _, err := Ground(sourceOf(t, p)); err == nil || !strings.Contains(err.Error(), "Far away") {
		t.Errorf("got %v", err)
	}
}

// TestLettersOfEnds: ends that no mark names have the letters of the card on the map, each once.
func TestLettersOfEnds(t *testing.T) {
	t.Parallel()
	p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 28})
	at := func(i int) plan.End {
		return plan.End{Position: plan.Position{Grid: geodesy.Grid{E: 230_000 + 500*float64(i), N: 720_000}, Code: geodesy.EPSG(27700), Origin: plan.Typed}}
	}
	for i := range 3 {
		p = p.AddLeg(plan.Leg{ID: p.NextID(plan.OfLeg), From: at(i), To: at(i + 1)})
	}
	s := sourceOf(t, p)
	got, err := Ground(s)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Ends) != 4 || len(got.Marks) != 0 {
		t.Fatalf("the letters are %v, the marks %v", got.Ends, got.Marks)
	}
	for i, row := range s.Reader.Legs() {
		if row.To == "" || got.Ends[i+1].Name != row.To || got.Ends[i+1].At != at(i+1).Position.Grid {
			t.Errorf("leg %d ends at %q, on the map at %v", i+1, row.To, got.Ends[i+1])
		}
	}
}
