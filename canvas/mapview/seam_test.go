package mapview

import (
	"bytes"
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
	row := image.NewNRGBA(image.Rect(0, 0, 800, 1)) // as the widest window shows it
	draw.Draw(row, row.Rect, image.NewUniform(ink), image.Point{}, draw.Src)
	for i, scale := range []float32{1, 1.25, 1.5, 2} {
		t.Run(fmt.Sprint("display scale ", scale), func(t *testing.T) {
			r := newRig(t, sheet, scale, 400, 300, 33.3, 21.7, Callbacks{})
			for k, turn := range []float64{0, 0.3} {
				r.RotateTo(turn)
				for j, zoom := range []float64{0.51, 0.68, 1, 1.31} {
					if !chosen(7, i, j, 2*k) {
						continue
					}
					r.show(r.View().ScaledTo(zoom, view.PicPt{X: 1050, Y: 850}, r.View().Middle()))
					r.PanBy(7.3, -3.1)
					r.settle()
					shot := r.shot()
					for y := 1; y < shot.Rect.Dy(); y++ {
						inked := shot.Pix[y*shot.Stride:][4 : 4*shot.Rect.Dx()] // without column 0: see checkPicks
						if want := row.Pix[:len(inked)]; !bytes.Equal(inked, want) {
							t.Fatalf("turn %v zoom %v: row %d is not all %v", turn, zoom, y, ink)
						}
					}
				}
			}
		})
	}
}
