package routepanel_test

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// typeOver types over the field of the party's form with a name.
func (x stood) typeOver(t *testing.T, field, text string) {
	t.Helper()
	x.w.FocusOn(t, field)
	x.w.Replace(text)
}

// choose chooses an option of the list that shows another one.
func (x stood) choose(t *testing.T, shown, option string) {
	t.Helper()
	s, ok := uitest.Find[*widgets.Select](x.w, shown)
	if !ok {
		t.Fatalf("no list shows %q; there is %q", shown, x.w.Texts())
	}
	s.SetSelected(option)
}

// The form takes a decimal comma and the side of the angle, and refuses words.
func TestPartyForm(t *testing.T) {
	x := stand(t, "")
	x.AskParty()
	x.w.Tap(t, "has its declination (GMA) adjustment set")
	x.typeOver(t, "the angle of the housing's adjustment", "2,5")
	x.choose(t, "east", "west")
	x.typeOver(t, "walking", "3.5")
	x.typeOver(t, "paces", "many")
	if x.w.Key(fyne.KeyReturn); x.s.Plan().Party.SpeedKmh == 3.5 {
		t.Error("paces of “many” were taken")
	}
	x.typeOver(t, "paces", "62")
	x.typeOver(t, "uphill, if different", "71")
	x.w.Key(fyne.KeyReturn)
	got := x.s.Plan().Party
	if d := got.Compass.SetTo.Deg(); !got.Compass.Set || math.Abs(d+2.5) > 1e-9 || got.SpeedKmh != 3.5 || got.PacesPer100m != 62 || got.PacesUp != 71 || got.PacesDown != 0 {
		t.Errorf("party %+v, housing set to %v°, want 2.5° west", got, d)
	}
}

// Angles are asked in the unit of the compass's circle: 1 mil is 360/6400 of a degree, 1
// gon 360/400. What nobody types over is stored as it was, whatever circle is chosen.
func TestPartyFormInTheUnitOfTheCircle(t *testing.T) {
	for _, c := range []struct {
		circle units.Circle
		typed  string
		deg    float64 // 1σ, half of the ± that is typed
	}{{units.Mils6400, "40", 1.125}, {units.Gon400, "4", 1.8}, {units.HalfDegrees, "3", 1.5}} {
		x := stand(t, "")
		before := x.s.Plan().Party
		before.Compass.Sigma, before.Compass.SetTo, before.Compass.Set, before.PaceSigma = 0.0349, -0.0471, true, 0.12345
		must(t, x.s.SetParty(before))
		x.AskParty()
		x.choose(t, before.Compass.Circle.String(), c.circle.String())
		if !x.w.Shows(c.circle.Unit()) {
			t.Errorf("%v: the unit is not named: %q", c.circle, x.w.Texts())
		}
		want := before
		want.Compass.Circle = c.circle
		if x.w.Key(fyne.KeyReturn); x.s.Plan().Party != want {
			t.Errorf("%v: stored %+v, want %+v", c.circle, x.s.Plan().Party, want)
		}
		x.AskParty()
		x.typeOver(t, "the compass", c.typed)
		x.w.Key(fyne.KeyReturn)
		if got := x.s.Plan().Party.Compass.Sigma.Deg(); math.Abs(got-c.deg) > 1e-9 {
			t.Errorf("%v: ± %s typed, σ %v° stored, want %v°", c.circle, c.typed, got, c.deg)
		}
	}
}
