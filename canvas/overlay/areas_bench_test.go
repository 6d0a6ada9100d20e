package overlay

import (
	"fmt"
	"image"
	"math"
	"testing"

	"legwright/app/plan"
	"legwright/canvas/view"
)

// manyAreas are 40 areas of 120 corners all over a sheet, of each kind in turn.
func manyAreas(w, h float64) Scene {
	var s Scene
	for i := range 40 {
		middle := view.PicPt{X: w * (float64(i%8) + 0.5) / 8, Y: h * (float64(i/8) + 0.5) / 5}
		var points []view.PicPt
		for k := range 120 {
			turn := 2 * math.Pi * float64(k) / 120
			sin, cos := math.Sincos(turn)
			r := 0.5 * w / 8 * (1 + 0.15*math.Sin(3*turn) + 0.08*math.Sin(11*turn))
			points = append(points, view.PicPt{X: middle.X + r*cos, Y: middle.Y + r*sin})
		}
		s.Hazards = append(s.Hazards, NewHazard(plan.ID(fmt.Sprint(i)), plan.HazardKinds()[i%5], true, points, fmt.Sprint("area ", i)))
	}
	return s
}

// BenchmarkAreas paints 40 areas of 120 corners, the whole sheet in view and a part of it: again
// and again at one scale, and in haste at other scales.
func BenchmarkAreas(b *testing.B) {
	const w, h = 6000, 4000
	s := manyAreas(w, h)
	for _, times := range []float64{1, 4} {
		for name, step := range map[string]float64{"still": 1, "zoomed": 0.99} {
			b.Run(fmt.Sprint("times ", times, " ", name), func(b *testing.B) {
				img := image.NewRGBA(image.Rect(0, 0, 1920, 1080))
				v := view.New(w, h, 1920, 1080)
				at := func(k float64) view.View {
					return v.ScaledTo(k*times*1080.0/h, view.PicPt{X: w / 2, Y: h / 2}, view.ScreenPt{X: 960, Y: 540})
				}
				views := [2]view.View{at(step), at(1 / step)}
				p := NewPainter()
				p.SetHasty(step != 1)
				p.Onto(img, at(1), 1, s, img.Rect)
				for i := 0; b.Loop(); i++ {
					clear(img.Pix)
					p.Onto(img, views[i%2], 1, s, img.Rect)
				}
			})
		}
	}
}
