package ground

import (
	"math"
	"testing"
)

// cone returns a field of 41×41 samples 10 m apart that falls 1 in 1 from 100 m in the middle.
func cone() *Field {
	f := NewField(41, 41, 10)
	for k := range f.Z {
		f.Z[k] = 100 - f.Node(k).Dist(Point{200, 200})
	}
	return f
}

func TestContoursOfAConeAreCircles(t *testing.T) {
	t.Parallel()
	for _, level := range []float64{10.01, 50, 87.3} {
		lines := cone().Contours(level)
		if len(lines) != 1 || !lines[0].Closed() {
			t.Fatalf("level %v: got %d lines, want one closed", level, len(lines))
		}
		for _, p := range lines[0] {
			if got, want := p.Dist(Point{200, 200}), 100-level; math.Abs(got-want) > 0.9 {
				t.Errorf("level %v: got radius %.2f m, want %.2f within 0.9", level, got, want)
			}
		}
		if area(lines[0]) <= 0 {
			t.Errorf("level %v: want the higher ground on the left", level)
		}
	}
}

func area(l Line) float64 {
	sum := 0.0
	for i := 1; i < len(l); i++ {
		sum += l[i-1].X*l[i].Y - l[i].X*l[i-1].Y
	}
	return sum / 2
}

func TestContoursOfASaddleMeetTheRim(t *testing.T) {
	t.Parallel()
	f := NewField(21, 21, 10)
	for k := range f.Z {
		p := f.Node(k)
		f.Z[k] = (p.X - 100) * (p.Y - 100) / 100
	}
	lines := f.Contours(5.01)
	if len(lines) != 2 {
		t.Fatalf("got %d lines, want 2", len(lines))
	}
	for _, l := range lines {
		for _, end := range []Point{l[0], l[len(l)-1]} {
			if end.X > 0 && end.X < 200 && end.Y > 0 && end.Y < 200 {
				t.Errorf("got an end at %v, want it on the rim", end)
			}
		}
	}
}

func TestFieldReadsPlanesExactly(t *testing.T) {
	t.Parallel()
	f := NewField(11, 11, 10)
	for k := range f.Z {
		f.Z[k] = 3 + 0.2*f.Node(k).X - 0.1*f.Node(k).Y
	}
	fine := f.Refine(4)
	for _, p := range []Point{{50, 50}, {33.3, 71.9}, {61, 44}} {
		want := 3 + 0.2*p.X - 0.1*p.Y
		if got := f.At(p); math.Abs(got-want) > 1e-9 {
			t.Errorf("At(%v): got %v, want %v", p, got, want)
		}
		if got := fine.At(p); math.Abs(got-want) > 1e-9 {
			t.Errorf("refined At(%v): got %v, want %v", p, got, want)
		}
		if got, want := f.Slope(p), math.Atan(math.Hypot(0.2, 0.1))*180/math.Pi; math.Abs(got-want) > 1e-9 {
			t.Errorf("Slope(%v): got %v°, want %v°", p, got, want)
		}
	}
}

// TestWaterFillsAHollow digs a hollow into a ramp: the lake stands at the lowest lip and every drop finds the rim.
func TestWaterFillsAHollow(t *testing.T) {
	t.Parallel()
	f := NewField(41, 41, 10)
	for k := range f.Z {
		p := f.Node(k)
		f.Z[k] = 20 + 0.1*p.X
		if d := p.Dist(Point{200, 200}); d < 80 {
			f.Z[k] = 20
		}
	}
	w := route(f, 0)
	found := lakes(f, w)
	if len(found) != 1 {
		t.Fatalf("got %d lakes, want 1", len(found))
	}
	if got, lip := found[0].Level, 20+0.1*120; got < lip-0.1 || got > lip+1.1 {
		t.Errorf("level: got %.2f m, want the lip at %.1f to %.1f", got, lip, lip+1)
	}
	if out := found[0].Outlet; out.X > 200 {
		t.Errorf("outlet: got %v, want it on the low, western side", out)
	}
	for k := range f.Z {
		steps := 0
		for m := k; w.receiver[m] != m; m = w.receiver[m] {
			if steps++; steps > len(f.Z) {
				t.Fatalf("the water from sample %d runs in a ring", k)
			}
		}
	}
}

func TestNoiseIsFixedAndBounded(t *testing.T) {
	t.Parallel()
	if got, again := Noise(Point{123, 456}, 300, 4, 7), Noise(Point{123, 456}, 300, 4, 7); got != again {
		t.Errorf("got %v and then %v, want the same", got, again)
	}
	lo, hi := 1.0, -1.0
	for i := range 4000 {
		v := Noise(Point{float64(i) * 37.7, float64(i) * 11.3}, 300, 4, 7)
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	if lo < -1.5 || hi > 1.5 || lo > -0.4 || hi < 0.4 {
		t.Errorf("range: got %.2f to %.2f, want about −1 to 1", lo, hi)
	}
}
