package lattice

import "testing"

func TestLines(t *testing.T) {
	t.Parallel()
	var l Lattice
	for _, c := range [][2]int{{2, 1}, {-1, 0}, {0, 1}, {2, 0}, {-1, 1}, {7, 5}} {
		l.Intersections = append(l.Intersections, Intersection{I: c[0], J: c[1]})
	}
	want := [][][2]int{{{-1, 0}, {-1, 1}}, {{2, 0}, {2, 1}}, {{-1, 0}, {2, 0}}, {{-1, 1}, {0, 1}, {2, 1}}}
	got := l.Lines()
	if len(got) != len(want) {
		t.Fatalf("got %d lines, want %d: one with a single intersection is none", len(got), len(want))
	}
	for i, line := range want {
		for k, at := range line {
			if c := got[i][k]; len(got[i]) != len(line) || c.I != at[0] || c.J != at[1] {
				t.Errorf("line %d: got %v, want %v", i, got[i], line)
				break
			}
		}
	}
	if n := len((&Lattice{}).Lines()); n != 0 {
		t.Errorf("an empty lattice has %d lines", n)
	}
}
