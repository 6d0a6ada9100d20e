package overlay

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"legwright/app/plan"
	"legwright/canvas/view"
)

// manyLegs is a scene of n legs, each with a mark at its end, spread over a
// sheet of 6000 × 4000 pixels at 2.5 m a pixel, up to spread pixels long.
func manyLegs(n int, spread float64) Scene {
	r := rand.New(rand.NewPCG(1, 2))
	var s Scene
	for i := range n {
		from := view.PicPt{X: 600 + 4800*r.Float64(), Y: 600 + 2800*r.Float64()}
		to := view.PicPt{X: from.X + spread*(r.Float64()-0.5), Y: from.Y + spread*(r.Float64()-0.5)}
		m := 2.5 * from.Dist(to)
		s.Legs = append(s.Legs, Leg{
			ID: plan.ID(fmt.Sprint("l", i)), From: from, To: to, LengthM: m,
			Label: fmt.Sprintf("%03d° mag  %.0f m", i, m), Selected: i == 7, Flagged: i%5 == 0,
		})
		s.Marks = append(s.Marks, Mark{ID: plan.ID(fmt.Sprint("m", i)), At: to, Name: fmt.Sprint("Mark ", i)})
	}
	return s
}

// BenchmarkPan redraws 200 legs at 1400 × 900 while the view moves.
func BenchmarkPan(b *testing.B) {
	s := manyLegs(200, 900)
	v := view.New(6000, 4000, 1400, 900)
	p := NewPainter()
	p.Paint(1400, 900, v, 1, s)
	for i := 0; b.Loop(); i++ {
		p.Paint(1400, 900, v.PanBy(float64(i%40), float64(i%31)), 1, s)
	}
}

// BenchmarkPanLong is the same with legs over half the sheet, which nobody
// walks.
func BenchmarkPanLong(b *testing.B) {
	s := manyLegs(200, 6000)
	v := view.New(6000, 4000, 1400, 900)
	p := NewPainter()
	for i := 0; b.Loop(); i++ {
		p.Paint(1400, 900, v.PanBy(float64(i%40), float64(i%31)), 1, s)
	}
}

// BenchmarkZoom redraws 200 legs while the view zooms: every label is turned
// alike, but the ticks change.
func BenchmarkZoom(b *testing.B) {
	s := manyLegs(200, 900)
	v := view.New(6000, 4000, 1400, 900)
	p := NewPainter()
	for i := 0; b.Loop(); i++ {
		p.Paint(1400, 900, v.ZoomAt(v.Middle(), 1+float64(i%20)/20), 1, s)
	}
}

// BenchmarkTrack redraws a track of 100,000 points.
func BenchmarkTrack(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	at := view.PicPt{X: 3000, Y: 2000}
	var points []view.PicPt
	for range 100000 {
		at = view.PicPt{X: min(max(at.X+8*r.Float64()-4, 0), 6000), Y: min(max(at.Y+8*r.Float64()-4, 0), 4000)}
		points = append(points, at)
	}
	s := Scene{Tracks: []Track{NewTrack(points)}}
	v := view.New(6000, 4000, 1400, 900)
	p := NewPainter()
	for i := 0; b.Loop(); i++ {
		p.Paint(1400, 900, v.PanBy(float64(i%40), 0), 1, s)
	}
}

// BenchmarkAlong writes the figures of a line being dragged.
func BenchmarkAlong(b *testing.B) {
	p := NewPainter()
	a := view.ScreenPt{X: 300, Y: 700}
	for i := 0; b.Loop(); i++ {
		p.Along("057°", "060° grid   1 240 m ± 20", a, a.Add(500+float64(i%50), -300-float64(i%31)), 1, 1400, 900)
	}
}
