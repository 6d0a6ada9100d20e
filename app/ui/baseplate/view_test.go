package baseplate

import (
	"math"
	"testing"

	"legwright/app/teach"
	"legwright/app/units"
)

// fromAxis returns how far a position lies along the plate's arrow and to its right.
func fromAxis(v View, p Point) (ahead, right float64) {
	sin, cos := math.Sincos(v.Plate.Rad())
	return p[0]*sin + p[1]*cos, p[0]*cos - p[1]*sin
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

// TestWhatLiesUnderTheCompass compares the ends of the line with the plate: its long edge
// lies along both on the way from the map, at TO on the way to the map, and in the hand
// the middle of the housing is over FROM.
func TestWhatLiesUnderTheCompass(t *testing.T) {
	t.Parallel()
	for deg := 0.0; deg < 360; deg += 17 {
		for step := 1; step <= 3; step++ {
			v := ViewOf(teach.Stepping{Step: step}, task(deg, 12))
			back, across0 := fromAxis(v, v.From)
			ahead, across1 := fromAxis(v, v.To)
			if !near(across0, beside) || !near(across1, beside) || back >= 0 || ahead <= 0 || v.Ground != 0 {
				t.Errorf("%v°, step %d: FROM at %v, %v and TO at %v, %v of the plate", deg, step, back, across0, ahead, across1)
			}
		}
		v := ViewOf(teach.Stepping{Step: 4}, task(deg, 12))
		if ahead, across := fromAxis(v, v.To); v.From != (Point{}) || !near(across, 0) || !near(ahead, lineInHand) || v.Led.Shown || v.Ground != 1 {
			t.Errorf("%v°, in the hand: got %+v", deg, v)
		}
		wrong := ViewOf(teach.Stepping{Step: 4, Wrong: teach.CorrectedTwice}, task(deg, 12))
		if _, across := fromAxis(wrong, wrong.Led.To); !wrong.Led.Wrong || !near(across, 0) || near(wrong.To[0], wrong.Led.To[0]) {
			t.Errorf("%v°, corrected twice: got %+v", deg, wrong.Led)
		}
		plotted := ViewOf(teach.Stepping{Way: teach.GroundToMap, Step: 4}, task(deg, 12))
		apart := math.Hypot(plotted.Led.To[0]-plotted.From[0], plotted.Led.To[1]-plotted.From[1])
		if !plotted.Led.Shown || plotted.Led.Wrong || apart > 1e-9 {
			t.Errorf("%v°, plotted right: got %+v, FROM at %+v", deg, plotted.Led, plotted.From)
		}
		if _, across := fromAxis(plotted, plotted.To); !near(across, beside) {
			t.Errorf("%v°, plotted: TO lies %v beside the arrow, want %v", deg, across, beside)
		}
	}
}

// TestNothingMovesButNeedleAndBody holds the promise of the package comment: between the
// third step on the map and the fourth on the ground, plate and housing stand alike.
func TestNothingMovesButNeedleAndBody(t *testing.T) {
	t.Parallel()
	for deg := 0.0; deg < 360; deg += 17 {
		a, b := ViewOf(teach.Stepping{Step: 3}, task(deg, -17)), ViewOf(teach.Stepping{Step: 4}, task(deg, -17))
		if !near((a.Plate-b.Plate).Signed().Rad(), 0) || !near((a.Housing-b.Housing).Signed().Rad(), 0) {
			t.Errorf("%v°: the compass turned by %v° and its housing by %v°", deg, (b.Plate - a.Plate).Deg(), (b.Housing - a.Housing).Deg())
		}
		if near(a.Needle.Rad(), b.Needle.Rad()) || near((b.Needle-b.Gate).Signed().Rad(), 0) == false {
			t.Errorf("%v°: needle at %v° and %v°, gate at %v°", deg, a.Needle.Deg(), b.Needle.Deg(), b.Gate.Deg())
		}
	}
}

// TestBetweenTurnsTheShorterWay follows a turn across north and one that carries the ring
// along.
func TestBetweenTurnsTheShorterWay(t *testing.T) {
	t.Parallel()
	at := func(plate, ring float64) View {
		return View{Posture: teach.Posture{Plate: units.Degrees(plate), Housing: units.Degrees(plate - ring), Needle: units.Degrees(plate)}}
	}
	cases := []struct {
		name        string
		from, to    View
		plate, ring float64 // half-way
	}{
		{"across north", at(350, 40), at(30, 40), 10, 40},
		{"back across north", at(30, 40), at(350, 40), 10, 40},
		{"ring across north", at(57, 350), at(57, 20), 57, 5},
		{"plate and ring against each other", at(10, 100), at(180, 20), 95, 60},
	}
	for _, c := range cases {
		v := Between(c.from, c.to, 0.5)
		plate, ring := v.Plate.Turn().Deg(), (v.Plate - v.Housing).Turn().Deg()
		if math.Abs(plate-c.plate) > 1e-9 || math.Abs(ring-c.ring) > 1e-9 {
			t.Errorf("%s: got plate %v°, ring %v°, want %v°, %v°", c.name, plate, ring, c.plate, c.ring)
		}
		if Between(c.from, c.to, 0) != c.from || Between(c.from, c.to, 1) != c.to || Between(c.from, c.to, math.NaN()) != c.to {
			t.Errorf("%s: the ends are not the views themselves", c.name)
		}
	}
}
