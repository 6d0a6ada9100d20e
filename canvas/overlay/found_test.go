package overlay

import (
	"testing"

	"legwright/app/calib/lattice"
	"legwright/canvas/view"
)

// foundLattice is a lattice of 5 × 3 intersections, slightly turned, of which one
// is missing, one partly and one faintly seen.
func foundLattice() *lattice.Lattice {
	l := &lattice.Lattice{SquarePx: 110}
	for i := range 5 {
		for j := range 3 {
			c := lattice.Intersection{Col: 70 + 110*float64(i) + 4*float64(j), Row: 320 - 110*float64(j) + 4*float64(i), I: i - 2, J: j + 1, Quality: 0.9}
			switch {
			case i == 2 && j == 1:
				continue
			case i == 1 && j == 1:
				c.Quality = 0.6
			case i == 3 && j == 2:
				c.Quality = 0.2
			}
			l.Intersections = append(l.Intersections, c)
		}
	}
	return l
}

func foundScene() Scene { return Scene{Found: FoundOf(foundLattice(), foundLattice())} }

func TestFoundOf(t *testing.T) {
	t.Parallel()
	f := foundScene().Found
	if len(f.Lines) != 8 || len(f.Intersections) != 14 {
		t.Fatalf("got %d lines and %d intersections, want 8 and 14", len(f.Lines), len(f.Intersections))
	}
	if n := len(f.Lines[2]); n != 2 {
		t.Errorf("the line without its middle has %d intersections, want 2", n)
	}
	if first := f.Lines[5][0]; first != (view.PicPt{X: 70, Y: 320}) {
		t.Errorf("the lowest line across begins at %v, want 70, 320", first)
	}
	seen := map[Seen]int{}
	for _, c := range f.Intersections {
		seen[c.Seen]++
	}
	if seen[WellSeen] != 12 || seen[PartlySeen] != 1 || seen[FaintlySeen] != 1 {
		t.Errorf("got %v, want 12 well, 1 partly, 1 faintly seen", seen)
	}
	if foundScene().Empty() {
		t.Error("a scene with a found grid alone counts as empty")
	}
}

// The intersections themselves and half of each line stay free, so that the
// printed ones are seen.
func TestFoundGridHidesNoIntersection(t *testing.T) {
	t.Parallel()
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	s := foundScene()
	img := NewPainter().Paint(600, 400, v, 1, s)
	for _, c := range s.Found.Intersections {
		for dy := -3; dy <= 3; dy++ {
			for dx := -3; dx <= 3; dx++ {
				if dx*dx+dy*dy <= 9 && img.RGBAAt(int(c.At.X)+dx, int(c.At.Y)+dy).A != 0 {
					t.Fatalf("the intersection at %v is drawn over", c.At)
				}
			}
		}
	}
	drawn := 0
	for x := 84; x < 166; x++ { // along the lowest line between two rings
		for y := 318; y <= 326; y++ {
			if img.RGBAAt(x, y).A != 0 {
				drawn++
				break
			}
		}
	}
	if drawn < 28 || drawn > 60 {
		t.Errorf("%d of 82 pixels along a line are drawn, want about half", drawn)
	}
}
