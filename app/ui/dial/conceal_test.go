package dial_test

import (
	"bytes"
	"testing"

	"legwright/app/ui/dial"
	"legwright/app/ui/dial/housing"
	"legwright/app/units"
)

// two are readings that differ in all that a dial shows.
func two() [2]dial.Figures {
	return [2]dial.Figures{
		{
			Set: "055°", SetLabel: "Set on the housing (magnetic)", Point: "ENE", Distance: "1 240 m ± 20",
			Texts: dial.Texts{dial.Grid: "057° ± 0.7", dial.GMA: "2° east", dial.Rule: "take off 2", dial.True: "056°"},
			Face:  housing.State{At: units.Degrees(55), Needle: true, Gate: true},
		},
		{
			Set: "237° ± 4°", SetLabel: "Set this", Point: "WSW", Distance: "95 m", Stop: "STOP: bearing too vague",
			Stops: []string{"bearing too vague", "outside the control points", "control points disagree"}, Notes: []string{"very short leg"},
			Texts: dial.Texts{dial.Grid: "240°", dial.GMA: "3° east", dial.Rule: "take off 3", dial.Time: "2 min"},
			Face:  housing.State{At: units.Degrees(237), NeedleOff: units.Degrees(3), GateOff: units.Degrees(3), Gate: true},
		},
	}
}

// A concealed dial is the same picture whatever it is given, of the same size, and shows
// the figures again afterwards.
func TestAConcealedDialGivesNothingAway(t *testing.T) {
	for _, withTrue := range []bool{false, true} {
		b := newBench(t)
		b.d.ShowTrue(withTrue)
		readings := two()
		b.d.Display(readings[0])
		open := b.picture()
		b.d.Conceal(true)
		b.d.Ask("What is the bearing?")
		first, size := b.picture(), b.d.MinSize()
		for _, show := range []func(){
			func() { b.d.Display(readings[1]) }, func() { b.d.Clear("Choose a leg.") }, func() { b.d.Clear("") }, func() { b.d.Display(readings[0]) },
		} {
			if show(); !bytes.Equal(first, b.picture()) || b.d.MinSize() != size {
				t.Errorf("true %v: the picture follows the reading", withTrue)
			}
		}
		b.d.Ask("What is the distance?")
		if bytes.Equal(first, b.picture()) {
			t.Error("what is asked is not seen")
		}
		if b.d.Conceal(false); !bytes.Equal(open, b.picture()) {
			t.Error("the figures do not come back")
		}
	}
}

// While figures are hidden a guess can be turned on the dial, and it says nothing of the
// reading.
func TestAGuessIsTurnedOnAConcealedDial(t *testing.T) {
	b := newBench(t)
	b.d.Conceal(true)
	var seen [2][]byte
	for i, f := range two() {
		b.d.Display(f)
		b.ask(units.WholeDegrees, 0)
		b.swing(0, -30, 0.8)
		b.turned(t, "a guess", 30, 1.5)
		seen[i] = b.picture()
		b.d.SetInput(nil)
	}
	if !bytes.Equal(seen[0], seen[1]) {
		t.Error("the dial differs with the reading behind the guess")
	}
}
