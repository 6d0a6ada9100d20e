package compassview

import (
	"image"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/baseplate"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// turnTime is how long the compass takes from one step to the next: long enough to see
// what is turned.
const turnTime = 600 * time.Millisecond

// Compass shows one view, in as large a square as its room has. Like every widget it may
// be changed on the main thread only.
type Compass struct {
	widget.BaseWidget
	from, to baseplate.View
	at       float32 // of the way between the two, 1: it has arrived
	turning  *fyne.Animation
	drawing  *baseplate.Drawing // of the last size and colours
	raster   *canvas.Raster
}

// New returns a compass that shows nothing yet.
func New() *Compass {
	c := &Compass{to: baseplate.View{Hidden: true}, at: 1}
	c.raster = canvas.NewRaster(c.paint)
	c.ExtendBaseWidget(c)
	return c
}

// Shown returns the view that it shows, or turns to.
func (c *Compass) Shown() baseplate.View { return c.to }

// Set shows another view at once.
func (c *Compass) Set(v baseplate.View) {
	if c.stop(); c.to == v && c.at == 1 {
		return
	}
	c.to, c.at = v, 1
	c.raster.Refresh()
}

// Turn has everything turn from where it stands to another view.
func (c *Compass) Turn(v baseplate.View) {
	if c.to == v {
		return
	}
	now := c.now()
	if c.stop(); now.Hidden || v.Hidden {
		c.Set(v)
		return
	}
	c.from, c.to, c.at = now, v, 0
	c.turning = fyne.NewAnimation(turnTime, func(at float32) {
		c.at = at
		c.raster.Refresh()
	})
	c.turning.Start()
}

// stop ends a turn where it is.
func (c *Compass) stop() {
	if c.turning != nil {
		c.turning.Stop()
		c.turning = nil
	}
}

// now is what is seen now.
func (c *Compass) now() baseplate.View { return baseplate.Between(c.from, c.to, float64(c.at)) }

// paint draws the compass into w × h physical pixels; Fyne calls it.
func (c *Compass) paint(w, h int) image.Image {
	widgets.Crisp(c.raster)
	side, ink := min(w, h), InkOf(look.Current())
	if c.drawing == nil || c.drawing.Side() != side || c.drawing.Ink() != ink {
		d, err := baseplate.New(side, ink)
		if err != nil { // too small to read: nothing is drawn
			return image.NewRGBA(image.Rect(0, 0, 1, 1))
		}
		c.drawing = d
	}
	return c.drawing.Draw(c.now())
}

// CreateRenderer makes the compass; Fyne calls it.
func (c *Compass) CreateRenderer() fyne.WidgetRenderer { return &renderer{c} }

type renderer struct{ c *Compass }

func (r *renderer) Destroy()                     { r.c.stop() }
func (r *renderer) MinSize() fyne.Size           { return fyne.NewSquareSize(1) }
func (r *renderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.c.raster} }
func (r *renderer) Refresh()                     { r.c.raster.Refresh() }

// Layout puts the square into the middle.
func (r *renderer) Layout(size fyne.Size) {
	side := min(size.Width, size.Height)
	widgets.Put(r.c.raster, (size.Width-side)/2, (size.Height-side)/2, side, side)
}
