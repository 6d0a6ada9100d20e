package dial

import (
	"math"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

// reading is a leg on the demo's ground on a date.
func reading(t *testing.T, date string, compass plan.Compass) leg.Reading {
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

// The dial shows what the three kinds of compass are to be set to, and names
// which north it is from.
func TestFiguresForTheCompass(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name       string
		compass    plan.Compass
		set, label string
	}{
		{"plain housing", plan.Compass{}, "056° ± 1.0°", "magnetic"},
		{"a compass good to 4°", plan.Compass{Sigma: units.Degrees(2)}, "056° ± 5°", "includes compass error"},
		{"set to this place's angle", plan.Compass{Set: true, SetTo: units.Degrees(2.7)}, "059° ± 1.0°", "Set the grid bearing"},
		{"set to another place's angle", plan.Compass{Set: true, SetTo: units.Degrees(-6)}, "050° ± 1.0°", "your compass's setting"},
	} {
		p := plan.DefaultParty()
		p.Compass = c.compass
		f := FiguresOf(reading(t, "2026-11-28", c.compass), p, "", 64)
		if f.Set != c.set || !strings.Contains(f.SetLabel, c.label) {
			t.Errorf("%s: %q under %q, want %q under a label with %q", c.name, f.Set, f.SetLabel, c.set, c.label)
		}
		if !strings.HasPrefix(f.Texts[Grid], "059°") || !strings.HasPrefix(f.Texts[Magnetic], "056°") || f.Texts[GMA] != "3° east" {
			t.Errorf("%s: grid %q, magnetic %q, GMA %q", c.name, f.Texts[Grid], f.Texts[Magnetic], f.Texts[GMA])
		}
		// The needle lies where the compass really points: set − magnetic.
		want := (f.Face.At - reading(t, "2026-11-28", c.compass).Magnetic.Angle()).Signed()
		if math.Abs((f.Face.NeedleOff - want).Signed().Deg()) > 1e-9 {
			t.Errorf("%s: needle %v°, want %v°", c.name, f.Face.NeedleOff.Deg(), want.Deg())
		}
	}
}

// Outside the model's dates the dial has no magnetic figure and says so.
func TestNoMagneticFigureWithoutAModel(t *testing.T) {
	t.Parallel()
	f := FiguresOf(reading(t, "2031-01-01", plan.Compass{}), plan.DefaultParty(), "", 64)
	if f.Set != "" || f.Texts[Magnetic] != "" || f.Texts[GMA] != "" || f.Texts[BackMagnetic] != "" || f.Face.Needle {
		t.Errorf("figures %+v, want none that is magnetic", f)
	}
	if len(f.Notes) == 0 || !strings.Contains(strings.Join(f.Notes, " "), "date outside magnetic model") {
		t.Errorf("notes %q, want one of the model", f.Notes)
	}
}

// On a compass in mils every ± of a bearing is in mils.
func TestMilsThroughout(t *testing.T) {
	t.Parallel()
	p := plan.DefaultParty()
	p.Compass.Circle = units.Mils6400
	f := FiguresOf(reading(t, "2026-11-28", p.Compass), p, "", 64)
	for name, text := range map[string]string{"set": f.Set, "grid": f.Texts[Grid], "magnetic": f.Texts[Magnetic], "back": f.Texts[Back], "back magnetic": f.Texts[BackMagnetic]} {
		if strings.Contains(text, "°") || !strings.Contains(text, " ± ") || !strings.HasSuffix(text, "mil") {
			t.Errorf("%s: %q", name, text)
		}
	}
}
