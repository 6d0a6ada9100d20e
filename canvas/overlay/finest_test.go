package overlay

import "testing"

// The finest line is one of a lesson's, and all of its kinds are looked at.
func TestFinestLine(t *testing.T) {
	t.Parallel()
	table, finest := styles(), FinestLine()
	some := false
	for k := northGrid; k < kinds; k++ {
		if k == rayHatch || k == secondHatch {
			continue
		}
		some = some || inkWide(table[k]) < finest+0.2
		if inkWide(table[k]) < finest {
			t.Errorf("line %d is %v wide, finer than %v", k, inkWide(table[k]), finest)
		}
	}
	if !some || finest < 1 {
		t.Errorf("the finest line is %v wide", finest)
	}
}
