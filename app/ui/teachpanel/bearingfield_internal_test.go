package teachpanel

import (
	"testing"

	"legwright/app/teach"
	"legwright/app/units"
)

// The dial calls its figure somebody's bearing only once a bearing was typed or turned.
func TestWhoseBearing(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		known bool
		north units.North
		want  string
	}{
		{false, units.GridNorth, "Your bearing: turn the ring"},
		{true, units.NoNorth, "Your bearing: choose a north"},
		{true, units.MagneticNorth, "Your bearing, mag"},
	} {
		x := bearingField{who: "Your bearing", known: c.known, said: teach.Bearing{North: c.north}}
		if got := x.words(); got != c.want {
			t.Errorf("known %v, %v: %q, want %q", c.known, c.north, got, c.want)
		}
	}
}
