package main

import (
	"bytes"
	"math"
	"testing"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/assets/demo"
	"legwright/mapio/planfile"
)

func TestEmbeddedPlanIsWhatIsBuilt(t *testing.T) {
	t.Parallel()
	want, err := planfile.Decode(bytes.NewReader(demo.Plan()))
	if err != nil {
		t.Fatalf("decode the embedded plan: %v", err)
	}
	got, err := build()
	if err != nil {
		t.Fatal(err)
	}
	sheet, _ := want.Sheet()
	built, _ := got.Sheet()
	if sheet.SHA256 != built.SHA256 {
		t.Errorf("picture: got SHA-256 %s in the plan, want %s: run go run ./cmd/internal/demoplan", sheet.SHA256, built.SHA256)
	}
	if len(got.Marks) != len(want.Marks) || len(got.Legs) != len(want.Legs) || len(got.Sights) != len(want.Sights) {
		t.Fatalf("got %d marks, %d legs, %d sights embedded, want %d, %d, %d", len(want.Marks), len(want.Legs), len(want.Sights),
			len(got.Marks), len(got.Legs), len(got.Sights))
	}
	for i, h := range got.Hazards {
		if h.Tangled() || h.Name != want.Hazards[i].Name || len(h.Points) != len(want.Hazards[i].Points) {
			t.Errorf("hazard %d is embedded as %+v, want %+v", i, want.Hazards[i], h)
		}
	}
	if len(got.Hazards) != len(want.Hazards) || len(got.Havens) != len(want.Havens) || len(got.Lines) != len(want.Lines) {
		t.Errorf("got %d hazards, %d havens, %d lines embedded", len(want.Hazards), len(want.Havens), len(want.Lines))
	}
	if len(got.Escapes) != len(want.Escapes) || len(want.Escapes) == 0 {
		t.Errorf("got %d escapes embedded, want %d", len(want.Escapes), len(got.Escapes))
	}
	for i, m := range got.Marks {
		w := want.Marks[i]
		if m.Name != w.Name || math.Hypot(m.Position.Grid.E-w.Position.Grid.E, m.Position.Grid.N-w.Position.Grid.N) > 0.001 {
			t.Errorf("mark %d: got %s %v, want %s %v", i, w.Name, w.Position.Grid, m.Name, m.Position.Grid)
		}
	}
}

// The escape of the demo is a draft, and its ticks are all that stops it.
func TestTheWayOffIsADraft(t *testing.T) {
	t.Parallel()
	p, err := build()
	if err != nil {
		t.Fatal(err)
	}
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range escape.Of(r).Escapes {
		if !e.Draft || e.Haven == "" || e.EndsOn == "" {
			t.Errorf("%s is a draft: %v, ends on %q at haven %q", e.Name, e.Draft, e.EndsOn, e.Haven)
		}
		for _, c := range caution.OfGrade(e.Cautions, caution.Stop) {
			if c.Code != caution.EscapeDraft {
				t.Errorf("%s: %s", e.Name, c.Text())
			}
		}
	}
}

// TestMarksStandAtTheTruth compares the plan's positions with the exact ones: a hundredth of a pixel is 25 mm.
func TestMarksStandAtTheTruth(t *testing.T) {
	t.Parallel()
	p, err := build()
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range demo.Marks() {
		got := p.Marks[i].Position.Grid
		if d := math.Hypot(got.E-m.E, got.N-m.N); d > 0.05 {
			t.Errorf("%s: got %v, want %v %v within 0.05 m", m.Name, got, m.E, m.N)
		}
	}
	sheet, _ := p.Sheet()
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	if v := r.Verdict(sheet.ID); !v.Checked || v.WithinM > 20 {
		t.Errorf("the demo is checked %v to ± %.0f m: %v", v.Checked, v.WithinM, v.Cautions)
	}
	c, err := sheet.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	if c.DOF() != 4 || c.RMSM() > 0.03 || len(c.Cautions()) != 0 {
		t.Errorf("calibration: got %d redundant, rms %.3f m, cautions %v; want 4, at most 0.03, none",
			c.DOF(), c.RMSM(), c.Cautions())
	}
	for _, l := range p.Legs {
		for _, w := range []plan.Which{plan.FromEnd, plan.ToEnd} {
			if l.End(w).Mark == "" {
				t.Errorf("leg %s: want both ends on marks", l.ID)
			}
		}
	}
}
