package teach_test

import (
	"testing"

	"legwright/app/teach"
	"legwright/app/units"
)

// Each north line can be left away but that of the north in use.
func TestNorthLines(t *testing.T) {
	t.Parallel()
	l := teach.NewLesson()
	told := 0
	l.OnChange(func() { told++ })
	for _, n := range units.Norths() {
		if !l.Draws(n) {
			t.Errorf("%v is not drawn to begin with", n)
		}
	}
	l.SetDraws(units.TrueNorth, false)
	l.SetDraws(units.TrueNorth, false)
	l.SetDraws(units.GridNorth, false)
	l.SetDraws(units.NoNorth, false)
	if told != 2 || l.Draws(units.TrueNorth) || !l.Draws(units.GridNorth) || !l.Draws(units.MagneticNorth) {
		t.Errorf("told %d times, true %v, grid %v", told, l.Draws(units.TrueNorth), l.Draws(units.GridNorth))
	}
	l.SetNorth(units.TrueNorth)
	if !l.Draws(units.TrueNorth) || l.Draws(units.GridNorth) {
		t.Error("the north in use is left away, or the other one is drawn")
	}
	l.SetDraws(units.GridNorth, true)
	if !l.Draws(units.GridNorth) {
		t.Error("a north line does not come back")
	}
}
