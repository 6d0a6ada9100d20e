package routepanel

import (
	"testing"

	"fyne.io/fyne/v2/test"

	"legwright/app/plan"
)

// The form takes a decimal comma and the side of the angle, and refuses words.
func TestPartyForm(t *testing.T) {
	test.NewTempApp(t)
	p := plan.DefaultParty()
	f := newPartyForm(p)
	f.set.SetChecked(true)
	f.to.SetText("2,5")
	f.side.SetSelected("west")
	f.walk.SetText("3.5")
	got, err := f.party(p)
	if err != nil || !got.Compass.Set || got.SpeedKmh != 3.5 {
		t.Fatalf("party %+v, %v", got, err)
	}
	if d := got.Compass.SetTo.Deg(); d < -2.5001 || d > -2.4999 {
		t.Errorf("housing set to %v°, want 2.5° west", d)
	}
	f.paces.SetText("many")
	if _, err := f.party(p); err == nil {
		t.Error("paces of \"many\" were taken")
	}
}
