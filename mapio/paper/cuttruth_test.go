package paper

import (
	"math"
	"testing"

	"legwright/app/calib"
)

// The bounds of what is printed.
const (
	mostKmOff  = 0.2  // millimetres in 40, 1 km at 1:25,000
	mostDegOff = 0.05 // of a leg of 500 m and more
)

// madeLegs are legs of 500 m and more in several directions.
func madeLegs() []CutLeg {
	return []CutLeg{
		{Number: 1, From: at(250, 1100), To: at(750, 1850), GroundM: 901},
		{Number: 2, From: at(750, 1850), To: at(1350, 1350), GroundM: 781},
		{Number: 3, From: at(1350, 1350), To: at(1450, 2150), GroundM: 806},
		{Number: 4, From: at(1450, 2150), To: at(1240, 1650), GroundM: 542},
	}
}

// TestCutIsTrue measures the page: the distance of the grid lines, the features of the map
// against them, and the direction and length of the legs; on a sheet that has to be
// rectified and on one that is printed as it is.
func TestCutIsTrue(t *testing.T) {
	t.Parallel()
	for name, s := range map[string]struct {
		at   shown
		kind calib.Medium
		asIs bool
	}{"turned and askew": {askew, calib.Photograph, false}, "hardly turned": {hardly, calib.Drawn, true}} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			c := Cut{Sheet: madeSheet(t, s.at, s.kind), Scale: 25_000, Things: Things{Legs: madeLegs()}}
			c.Ground, _ = c.Things.Ground(50)
			if _, asIs := c.similar(c.Ground); asIs != s.asIs {
				t.Fatalf("printed as it is: %v, want %v", asIs, s.asIs)
			}
			m := measure(t, c)
			m.checkKilometres(t)
			m.checkDots(t)
			for _, l := range c.Things.Legs {
				m.checkLeg(t, l)
			}
		})
	}
}

func (m measured) checkKilometres(t *testing.T) {
	t.Helper()
	for _, list := range [][]float64{m.x, m.y} {
		for i := 1; i < len(list); i++ {
			if off := list[i] - list[i-1] - 40; math.Abs(off) > mostKmOff {
				t.Errorf("1 km is %.3f mm on paper", 40+off)
			}
		}
	}
	if deg := max(m.tiltX, m.tiltY) * 180 / math.Pi; deg > 0.01 {
		t.Errorf("a grid line tilts by %.4f°", deg)
	}
}

// checkDots compares the map's own dots with the grid lines.
func (m measured) checkDots(t *testing.T) {
	t.Helper()
	seen, most := 0, 0.0
	for e := 150.0; e <= 1850; e += dotM / 2 {
		for n := 150.0; n <= 2150; n += dotM / 2 {
			if math.Mod(e, dotM) != 0 || math.Mod(n, dotM) != 0 || math.Mod(e, 1000) == 0 || math.Mod(n, 1000) == 0 {
				continue
			}
			p := m.page(madeE+e, madeN+n)
			if x, y, ok := m.dot(p); ok {
				seen, most = seen+1, max(most, math.Hypot(x, y))
			}
		}
	}
	if seen < 150 || most > mostKmOff {
		t.Errorf("of %d dots of the map one lies %.3f mm from where the grid lines have it", seen, most)
	}
	t.Logf("%d dots, at most %.3f mm off", seen, most)
}

// page is the inverse of grid.
func (m measured) page(e, n float64) Point {
	e0, n0 := m.grid(Point{})
	e1, n1 := m.grid(Point{1, 1})
	return Point{(e - e0) / (e1 - e0), (n - n0) / (n1 - n0)}
}

// dot is where the middle of what is darker than the paper lies around a point, in
// millimetres; ok is false where black lines come near, or there is none.
func (m measured) dot(p Point) (x, y float64, ok bool) {
	const half, paper = 0.8, 250
	var sum float64
	for dy := -half; dy <= half; dy += 1 / perMM {
		for dx := -half; dx <= half; dx += 1 / perMM {
			v := m.value(Point{p.X + dx, p.Y + dy})
			if v < 100 {
				return 0, 0, false
			}
			if v < paper {
				sum, x, y = sum+paper-v, x+(paper-v)*dx, y+(paper-v)*dy
			}
		}
	}
	return x / sum, y / sum, sum > 20*paper
}

// checkLeg fits a line through the middles of a leg's ink and compares its direction with
// the grid bearing, which is atan2(ΔE, ΔN) whatever draws it.
func (m measured) checkLeg(t *testing.T, l CutLeg) {
	t.Helper()
	a, b := m.page(l.From.E, l.From.N), m.page(l.To.E, l.To.N)
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	ux, uy := (b.X-a.X)/length, (b.Y-a.Y)/length
	var along, across []float64
	for d := 3.0; d < length-3; d += 0.1 {
		if mm, ok := m.blackOn(Point{a.X + d*ux, a.Y + d*uy}, -uy, ux, 0.55); ok {
			along, across = append(along, d), append(across, mm)
		}
	}
	if float64(len(along)) < 0.9*(length-6)/0.1 {
		t.Fatalf("leg %d is seen at %d points", l.Number, len(along))
	}
	aside, slope := straight(along, across)
	e0, n0 := m.grid(Point{a.X - uy*aside, a.Y + ux*aside})
	e1, n1 := m.grid(Point{b.X - uy*(aside+slope*length), b.Y + ux*(aside+slope*length)})
	got := math.Atan2(e1-e0, n1-n0) * 180 / math.Pi
	want := math.Atan2(l.To.E-l.From.E, l.To.N-l.From.N) * 180 / math.Pi
	if off := math.Remainder(got-want, 360); math.Abs(off) > mostDegOff || math.Abs(aside) > mostKmOff {
		t.Errorf("leg %d stands at %.3f° on paper, want %.3f°; %.3f mm aside", l.Number, got, want, aside)
	} else {
		t.Logf("leg %d: %+.4f°, %.3f mm aside", l.Number, off, aside)
	}
}
