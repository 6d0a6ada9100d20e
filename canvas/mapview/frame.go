package mapview

import (
	"math"

	"fyne.io/fyne/v2"

	"legwright/canvas/view"
)

// nudge, in physical pixels, keeps positions just below whole pixels: the
// window's painter rounds and the painter of tests rounds up, and both then
// agree in spite of float32.
const nudge = 0.02

// frame says where the widget lies in physical pixels. The toolkit counts in
// device-independent pixels, float32, from fractional origins.
type frame struct {
	scale       float64 // physical pixels a device-independent one
	origin      fyne.Position
	size        fyne.Size
	paintOffset paintOffset
}

// pixels is the size of the widget in whole physical pixels.
func (f frame) pixels() (w, h int) {
	return int(f.snap(f.origin.X+f.size.Width) - f.snap(f.origin.X)),
		int(f.snap(f.origin.Y+f.size.Height) - f.snap(f.origin.Y))
}

func (f frame) snap(v float32) float64 { return math.Round(float64(v) * f.scale) }

// point is the centre of the physical pixel of an event, from the widget's
// corner. Events made without an absolute position are taken to lie at pos.
func (f frame) point(abs, pos fyne.Position) view.ScreenPt {
	o := abs.Subtract(pos)
	if abs.IsZero() {
		o = f.origin
		abs = o.Add(pos)
	}
	p := f.paintOffset.toCanvas(view.ScreenPt{X: f.snap(abs.X) + 0.5, Y: f.snap(abs.Y) + 0.5})
	return p.Add(-f.snap(o.X), -f.snap(o.Y))
}

// pos is where an object must be moved to so that it begins at the physical
// pixel x, y of the widget.
func (f frame) pos(x, y float64) fyne.Position {
	return fyne.NewPos(
		float32((f.snap(f.origin.X)+x-nudge)/f.scale-float64(f.origin.X)),
		float32((f.snap(f.origin.Y)+y-nudge)/f.scale-float64(f.origin.Y)))
}

// extent is the size that covers w × h physical pixels.
func (f frame) extent(w, h float64) fyne.Size {
	return fyne.NewSize(float32((w-nudge)/f.scale), float32((h-nudge)/f.scale))
}

// measure reads the frame of the widget from the canvas it lies on. Without a
// canvas the scale is 1.
func (m *MapView) measure() frame {
	f := frame{scale: 1, size: m.Size(), paintOffset: m.frame.paintOffset}
	d := fyne.CurrentApp().Driver()
	c := d.CanvasForObject(m)
	if c == nil {
		return f
	}
	const far = 1 << 20
	if x, _ := c.PixelCoordinateForPosition(fyne.NewPos(far, 0)); x > 0 {
		f.scale = float64(x) / far
	}
	inset, _ := c.InteractiveArea() // the driver counts from there, painting does not
	f.origin = d.AbsolutePositionForObject(m).Add(inset)
	return f
}
