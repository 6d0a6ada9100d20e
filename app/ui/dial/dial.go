package dial

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"legwright/app/lettering"
	"legwright/app/ui/dial/housing"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// defaultHint is what an empty dial says.
const defaultHint = "Press on the sheet and drag to read a bearing."

// Dial is the panel. Like every widget it may be changed on the main thread
// only.
type Dial struct {
	widget.BaseWidget
	// OnTrue is called when the user asks for the true bearing or puts it away.
	OnTrue func(show bool)
	// OnChange is called when the dial shows something else; may be nil.
	OnChange func()
	// OnTyped takes a letter or a key that the ring of an input does not; e is nil for a
	// letter. It may be nil.
	OnTyped func(r rune, e *fyne.KeyEvent)

	shown     *Figures
	input     *Input // nil: the dial only shows
	concealed bool
	asked     string
	showTrue  bool
	truth     *widgets.Tool
	ring      *ring

	raster    *canvas.Raster
	picture   *picture
	lastLeast fyne.Size
	within    float32 // what is seen of the height, 0: all
}

// New returns an empty dial.
func New() *Dial {
	d := &Dial{shown: empty(0, defaultHint), picture: &picture{letters: lettering.New()}}
	d.ring = newRing(d)
	d.truth = widgets.NewTextTool("", "True", "Show the true bearing", func() {
		d.ShowTrue(!d.showTrue)
		if d.OnTrue != nil {
			d.OnTrue(d.showTrue)
		}
	})
	d.raster = canvas.NewRaster(d.paint)
	d.ExtendBaseWidget(d)
	d.lastLeast = d.least()
	return d
}

// Display shows a reading. (Show is the name by which Fyne unhides a widget.)
// It is cheap enough for every step of a drag: only what changed is drawn
// again.
func (d *Dial) Display(f Figures) {
	if !same(*d.shown, f) {
		d.change(func() { d.shown = &f })
	}
}

// show paints the dial again.
func (d *Dial) show() {
	d.Refresh()
	if d.OnChange != nil {
		d.OnChange()
	}
}

// Clear empties the dial and shows a line that says how to fill it; "" shows
// the usual one.
func (d *Dial) Clear(hint string) {
	if hint == "" {
		hint = defaultHint
	}
	d.change(func() { d.shown = empty(d.shown.Face.Circle, hint) })
}

// ShowTrue shows or hides the true bearing. It does not call OnTrue.
func (d *Dial) ShowTrue(show bool) {
	if d.showTrue == show {
		return
	}
	d.showTrue = show
	d.truth.SetOn(show)
	d.Refresh()
}

// ShowsTrue reports whether the true bearing is asked for.
func (d *Dial) ShowsTrue() bool { return d.showTrue }

// HintTo names who shows the hints of the dial's own controls.
func (d *Dial) HintTo(show func(hint string)) { d.truth.OnHint, d.ring.hint = show, show }

// Figures returns what it was last given to show.
func (d *Dial) Figures() Figures { return *d.shown }

// InkOf are the colours of the housing in a palette.
func InkOf(p look.Palette) housing.Ink {
	d := p.Dial()
	return housing.Ink{
		Rim: d.Rim, Ring: d.Ring, Mark: d.Mark, Plate: d.Plate, Line: d.Line,
		Letter: d.Letter, Needle: d.Needle, Tail: d.Tail, Index: d.Index,
	}
}

// CreateRenderer makes the panel; Fyne calls it.
func (d *Dial) CreateRenderer() fyne.WidgetRenderer {
	return &renderer{d: d, objects: []fyne.CanvasObject{d.raster, d.ring, d.truth}}
}
