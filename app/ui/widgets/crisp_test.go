package widgets

import (
	"image"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
)

func TestCrisp(t *testing.T) {
	test.NewTempApp(t)
	for _, tc := range []struct {
		name  string
		scale float32
		size  fyne.Size
		want  canvas.ImageScale
	}{
		{"whole", 1, fyne.NewSize(328, 494), canvas.ImageScaleSmooth},
		{"whole at one and a half", 1.5, fyne.NewSize(328, 494), canvas.ImageScaleSmooth},
		{"whole at one and a quarter", 1.25, fyne.NewSize(328, 496), canvas.ImageScaleSmooth},
		{"half a pixel high", 1.25, fyne.NewSize(328, 494), canvas.ImageScalePixels},
		{"a part of a pixel wide", 1, fyne.NewSize(302.4, 494), canvas.ImageScalePixels},
	} {
		r := canvas.NewRaster(func(w, h int) image.Image { return image.NewRGBA(image.Rect(0, 0, w, h)) })
		w := test.NewTempWindow(t, container.NewWithoutLayout(r))
		w.Canvas().(test.WindowlessCanvas).SetScale(tc.scale)
		r.Resize(tc.size)
		Crisp(r)
		if r.ScaleMode != tc.want {
			t.Errorf("%s: got %v, want %v", tc.name, r.ScaleMode, tc.want)
		}
	}
}
