package mapview

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"testing"

	"legwright/canvas/view"
)

// TestNoSeams paints a sheet of one colour: no pixel of the ground may show
// within it, whatever the scale, the offset and the turn.
func TestNoSeams(t *testing.T) {
	ink := color.RGBA{0x30, 0x60, 0x90, 0xff}
	sheet := image.NewRGBA(image.Rect(0, 0, 2100, 1700))
	draw.Draw(sheet, sheet.Rect, image.NewUniform(ink), image.Point{}, draw.Src)
	for _, scale := range []float32{1, 1.25, 1.5, 2} {
		t.Run(fmt.Sprint("display scale ", scale), func(t *testing.T) {
			r := newRig(t, sheet, scale, 400, 300, 33.3, 21.7, Callbacks{})
			for _, turn := range []float64{0, 0.3} {
				r.RotateTo(turn)
				for _, zoom := range []float64{0.51, 0.68, 1, 1.31} {
					r.show(r.View().ScaledTo(zoom, view.PicPt{X: 1050, Y: 850}, r.View().Middle()))
					r.PanBy(7.3, -3.1)
					r.settle()
					shot := r.shot()
					for i := 0; i < len(shot.Pix); i += 4 {
						if i/4%shot.Rect.Dx() == 0 || i/4 < shot.Rect.Dx() {
							continue // see checkPicks
						}
						if shot.Pix[i] != ink.R || shot.Pix[i+1] != ink.G {
							t.Fatalf("turn %v zoom %v: pixel %d,%d is %v", turn, zoom, i/4%shot.Rect.Dx(), i/4/shot.Rect.Dx(), shot.Pix[i:i+4])
						}
					}
				}
			}
		})
	}
}
