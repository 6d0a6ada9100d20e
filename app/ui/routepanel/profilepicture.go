package routepanel

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"legwright/app/leg"
	"legwright/app/lettering"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/app/ui/look"
	"legwright/app/ui/profile"
	"legwright/app/ui/widgets"
)

// profilePicture draws the legs of a route one after the other, each as wide as it is
// long. With the focus, Left and Right choose a leg.
type profilePicture struct {
	widget.BaseWidget
	choose func(plan.ID)
	leave  func()
	hint   func(string)

	rows    []leg.Row
	chosen  int // a row; −1 for none
	span    terrain.Span
	drawn   bool // some height is known
	focused bool
	raster  *canvas.Raster
	letters *lettering.Setter
}

func newProfilePicture(choose func(plan.ID), leave func(), hint func(string)) *profilePicture {
	p := &profilePicture{choose: choose, leave: leave, hint: hint, chosen: -1, letters: lettering.New()}
	p.raster = canvas.NewRaster(p.paint)
	p.ExtendBaseWidget(p)
	return p
}

// show shows other legs.
func (p *profilePicture) show(rows []leg.Row, chosen int) {
	list := make([]terrain.Profile, len(rows))
	for i, r := range rows {
		list[i] = r.Profile
	}
	p.rows, p.chosen = rows, chosen
	p.span, p.drawn = terrain.SpanOf(list...)
	p.raster.Refresh()
}

// Sizes in units of the window.
const (
	profileHigh = float32(150)
	headRoom    = float32(16) // for the heights of the lower and the upper edge: over the ground nobody could read them
	footRoom    = float32(18) // for the numbers of the legs
)

func small() lettering.Style { return lettering.Style{Size: 11} }

// edges are where the legs begin and end, in units of the window, by their length.
func (p *profilePicture) edges() []float32 {
	out, all := make([]float32, len(p.rows)+1), 0.0
	for i, r := range p.rows {
		all += r.Reading.GroundM
		out[i+1] = float32(all)
	}
	for i := range out {
		out[i] *= p.Size().Width / float32(max(all, 1))
	}
	return out
}

func (p *profilePicture) paint(w, h int) image.Image {
	widgets.Crisp(p.raster)
	img := image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	p.letters = p.letters.At(float32(w) / max(p.Size().Width, 1))
	ink, edges := look.Current(), p.edges()
	for i := range p.rows {
		p.paintLeg(img, i, edges[i], edges[i+1], ink)
	}
	if p.drawn {
		p.write(img, fmt.Sprintf("%.0f m to %.0f m", p.span.LowM, p.span.HighM), 2, 11, ink[look.Quiet])
	}
	p.box(img, 0, p.Size().Height-footRoom, p.Size().Width, 1, ink[look.Hair])
	if p.focused {
		size := p.Size()
		for _, b := range [][4]float32{{0, 0, size.Width, 1}, {0, size.Height - 1, size.Width, 1}, {0, 0, 1, size.Height}, {size.Width - 1, 0, 1, size.Height}} {
			p.box(img, b[0], b[1], b[2], b[3], ink[look.Accent])
		}
	}
	return img
}

// paintLeg draws one leg between two edges, with its number if there is room.
func (p *profilePicture) paintLeg(img *image.RGBA, i int, from, to float32, ink look.Palette) {
	high := p.Size().Height
	colours := profile.Ink{Ground: ink[look.Quiet], Line: ink[look.Ink], Gap: ink[look.Caution]}
	linePx, number := float64(p.letters.Scale())*1.5, ink[look.Quiet]
	colours.Ground.A = 0x40
	if i == p.chosen {
		p.box(img, from, 0, to-from, high, ink[look.Select])
		colours.Line, colours.Ground, number = ink[look.Accent], ink[look.Accent], ink[look.Accent]
		colours.Ground.A, linePx = 0x60, linePx*2
	}
	box := p.pixels(from, headRoom, to-from, high-headRoom-footRoom)
	if p.rows[i].Profile.LengthM() > 0 {
		profile.Draw(img, box, p.rows[i].Profile, p.span, linePx, colours)
	} else {
		profile.Gap(img, box, colours.Gap)
	}
	if i > 0 {
		p.box(img, from, headRoom, 1, high-headRoom, ink[look.Hair])
	}
	text := fmt.Sprint(i + 1)
	if width := p.letters.Width(text, small()); width+4 <= to-from {
		p.write(img, text, (from+to-width)/2, high-5, number)
	}
}

func (p *profilePicture) write(img *image.RGBA, text string, x, line float32, c color.NRGBA) {
	p.letters.Write(img, text, small(), x, line, c)
}

// box fills a rectangle given in units of the window.
func (p *profilePicture) box(img *image.RGBA, x, y, w, h float32, c color.Color) {
	draw.Draw(img, p.pixels(x, y, w, h).Intersect(img.Rect), image.NewUniform(c), image.Point{}, draw.Over)
}

func (p *profilePicture) pixels(x, y, w, h float32) image.Rectangle {
	px := func(v float32) int { return int(v*p.letters.Scale() + 0.5) }
	return image.Rect(px(x), px(y), max(px(x+w), px(x)+1), max(px(y+h), px(y)+1))
}

// step chooses another leg.
func (p *profilePicture) step(to int) {
	if to >= 0 && to < len(p.rows) {
		p.choose(p.rows[to].ID)
	}
}

// TypedKey walks the legs, or goes to the sheet; Fyne calls it.
func (p *profilePicture) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyLeft:
		p.step(max(p.chosen-1, 0))
	case fyne.KeyRight:
		p.step(min(p.chosen+1, len(p.rows)-1))
	case fyne.KeyHome:
		p.step(0)
	case fyne.KeyEnd:
		p.step(len(p.rows) - 1)
	case fyne.KeyEscape, fyne.KeyReturn, fyne.KeyEnter:
		p.leave()
	default:
		widgets.KeyToWindow(p, e)
	}
}

// TypedRune leaves letters to the window; Fyne calls it.
func (p *profilePicture) TypedRune(r rune) { widgets.RuneToWindow(p, r) }

// FocusGained shows the focus; Fyne calls it.
func (p *profilePicture) FocusGained() { p.focus(true) }

// FocusLost ends what FocusGained began.
func (p *profilePicture) FocusLost() { p.focus(false) }

func (p *profilePicture) focus(on bool) {
	p.focused = on
	p.raster.Refresh()
}

// Tapped chooses the leg under the pointer and takes the keys.
func (p *profilePicture) Tapped(e *fyne.PointEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(p); c != nil {
		c.Focus(p)
	}
	for i, edge := range p.edges()[1:] {
		if e.Position.X < edge {
			p.step(i)
			return
		}
	}
}

// MouseIn says what the keys do.
func (p *profilePicture) MouseIn(*desktop.MouseEvent) {
	p.hint("Click a leg, or go from leg to leg with Left and Right. Home and End go to the ends of the route")
}

// MouseMoved is Fyne's.
func (p *profilePicture) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends what MouseIn began.
func (p *profilePicture) MouseOut() { p.hint("") }

// MinSize is high enough to tell a climb; Fyne asks for it.
func (p *profilePicture) MinSize() fyne.Size { return fyne.NewSize(100, profileHigh) }

// CreateRenderer is Fyne's.
func (p *profilePicture) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(p.raster)
}
