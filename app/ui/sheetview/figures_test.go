package sheetview

import (
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

// readAt is a leg on the demo's ground on a date.
func readAt(t *testing.T, date string, compass plan.Compass) leg.Reading {
	t.Helper()
	d, err := plan.ParseDate(date)
	if err != nil {
		t.Fatal(err)
	}
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	r, err := leg.NewSighter(sys, d, compass).Sight(geodesy.Grid{E: 27455, N: 743150}, geodesy.Grid{E: 27760, N: 743335}, 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The narrowest strip that has a figure shows the one to set, not another bearing.
func TestANarrowStripShowsWhatToSet(t *testing.T) {
	t.Parallel()
	for name, compass := range map[string]plan.Compass{
		"plain": {}, "set to this ground": {Set: true, SetTo: units.Degrees(2.7)}, "set to other ground": {Set: true, SetTo: units.Degrees(-6)},
	} {
		r := readAt(t, "2026-11-28", compass)
		texts := stripTexts(r, plan.Compass{}, "NL 2776 4333", caution.Lead(r.Cautions, caution.OnLeg))
		for _, got := range texts[:len(texts)-1] {
			if want := "Set " + r.SetFigure(units.WholeDegrees); !strings.HasPrefix(got, want) {
				t.Errorf("%s: %q, want %q first", name, got, want)
			}
		}
		for i, text := range texts[1:] {
			if len(text) >= len(texts[i]) {
				t.Errorf("%s: %q is no shorter than %q", name, text, texts[i])
			}
		}
	}
}

// Without a magnetic bearing neither strip nor line shows one.
func TestNoMagneticFigureWithoutAModel(t *testing.T) {
	t.Parallel()
	r := readAt(t, "2031-01-01", plan.Compass{})
	for _, text := range append(stripTexts(r, plan.Compass{}, "NL 2776 4333", caution.Lead(r.Cautions, caution.OnLeg)), lineText(r, units.WholeDegrees)) {
		if strings.Contains(text, "mag") || strings.Contains(text, "Set") {
			t.Errorf("the line says %q", text)
		}
	}
}

// A reading that nobody may walk on is marked in each width of the strip; one with a
// note alone, or with what concerns latitude and longitude, is not.
func TestAStopStandsInEveryWidthOfTheStrip(t *testing.T) {
	t.Parallel()
	for _, code := range []caution.Code{caution.Unchecked, caution.ShiftUnknown, caution.PoorFit} {
		r := leg.Reading{Cautions: []caution.Caution{caution.Of(code)}, GroundM: 100}
		for i, text := range stripTexts(r, plan.Compass{}, "NL 2776 4333", caution.Lead(r.Cautions, caution.OnLeg)) {
			if got, want := strings.Contains(text, "STOP"), code == caution.PoorFit; got != want {
				t.Errorf("%v, width %d: %q, stopped %v, want %v", code, i, text, got, want)
			}
		}
	}
}
