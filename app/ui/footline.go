package ui

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/lettering"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// footText is what the foot line says. Empty parts take no room.
type footText struct {
	Ref, LatLon string // under the pointer
	Stopped     bool   // nobody may walk on the reference under it
	Quality     string // of the calibration
	Check       string // whether evidence checks it
	Unchecked   bool
	SheetStop   bool   // something forbids to walk on the sheet
	Message     string // the last thing that was done, or went wrong
	Fault       bool
	MetresPerPx float64 // ground metres per physical pixel of the screen, 0 unknown
}

// footline is the line under everything: scale bar, pointer, calibration and
// the last message.
type footline struct {
	widget.BaseWidget
	text footText
}

func newFootline() *footline {
	f := &footline{}
	f.ExtendBaseWidget(f)
	return f
}

// show replaces what the line says.
func (f *footline) show(t footText) {
	if f.text == t {
		return
	}
	f.text = t
	f.Refresh()
}

// CreateRenderer is Fyne's.
func (f *footline) CreateRenderer() fyne.WidgetRenderer {
	r := &footRenderer{f: f}
	r.raster = canvas.NewRaster(r.paint)
	r.Refresh()
	return r
}

// The parts of the line from left to right; the message is set to the right.
const (
	footScale = iota
	footRef
	footLatLon
	footQuality
	footCheck
	footMessage
	footParts
)

// footPart is one text of the line and where it stands.
type footPart struct {
	Text   string
	Color  color.NRGBA
	X      float32 // of its left end, in units of the window
	Hidden bool    // there is no room for it
}

// footRenderer draws the line as one picture: its nine parts as objects of the
// toolkit would cost more of each frame than all of this.
type footRenderer struct {
	f       *footline
	raster  *canvas.Raster
	letters *lettering.Setter
	img     *image.RGBA
	barW    float32 // of the scale bar
	parts   [footParts]footPart
}

func (r *footRenderer) Destroy()                     {}
func (r *footRenderer) MinSize() fyne.Size           { return fyne.NewSize(400, footHeight) }
func (r *footRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.raster} }

// Refresh takes texts, colours and the length of the bar.
func (r *footRenderer) Refresh() {
	p, t := look.Current(), r.f.text
	label, width := scaleBar(t.MetresPerPx, float64(widgets.ScaleOf(r.f)))
	r.barW = width
	for i, s := range [footParts]string{label, t.Ref, t.LatLon, t.Quality, t.Check, t.Message} {
		r.parts[i].Text, r.parts[i].Color = s, p.Quiet
	}
	r.parts[footRef].Color = p.Ink
	if t.Stopped {
		r.parts[footRef].Color, r.parts[footRef].Text = p.Fault, marked(t.Ref, true)
	}
	r.parts[footCheck].Color = p.Good
	switch {
	case t.SheetStop:
		r.parts[footCheck].Color = p.Fault
	case t.Unchecked:
		r.parts[footCheck].Color = p.Caution
	}
	if t.Fault {
		r.parts[footMessage].Color = p.Fault
	}
	r.Layout(r.f.Size())
}

// Layout sets the parts side by side. The reference under the pointer has a
// fixed width, so that nothing dances while the pointer moves.
func (r *footRenderer) Layout(size fyne.Size) {
	r.raster.Resize(size)
	defer r.raster.Refresh()
	r.letters = r.letters.At(widgets.ScaleOf(r.f))
	x := float32(footEdge)
	r.parts[footScale].X = x + 6
	x += scaleRoom
	left := r.roomAfter(size.Width - x)
	for i := footRef; i <= footCheck; i++ {
		r.parts[i].Hidden = left[i] == 0
		r.parts[i].X = x
		x += left[i]
	}
	m := &r.parts[footMessage]
	m.Text = r.letters.Fit(oneLine(r.f.text.Message), footStyle(), size.Width-footEdge-x)
	m.X = size.Width - footEdge - r.width(footMessage)
}

// oneLine puts a message on one line: several things that went wrong at once
// come on lines of their own, which would be drawn as empty boxes.
func oneLine(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, strings.ReplaceAll(strings.TrimSpace(text), "\n", "; "))
}

// footStyle is how the line is set.
func footStyle() lettering.Style {
	return lettering.Style{Size: theme.Size(theme.SizeNameCaptionText) + 1}
}

// width is how wide a part's text is, in units of the window.
func (r *footRenderer) width(part int) float32 {
	return r.letters.Width(r.parts[part].Text, footStyle())
}

// paint draws the line into w × h physical pixels; Fyne calls it by way of the
// raster.
func (r *footRenderer) paint(w, h int) image.Image {
	widgets.Crisp(r.raster)
	size := r.f.Size()
	if r.letters = r.letters.At(widgets.ScaleOf(r.f)); w < 1 || h < 1 {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	if r.img == nil || r.img.Rect.Max != image.Pt(w, h) {
		r.img = image.NewRGBA(image.Rect(0, 0, w, h))
	}
	clear(r.img.Pix)
	r.draw(size)
	return r.img
}

// draw writes the parts and the scale bar with its two end ticks.
func (r *footRenderer) draw(size fyne.Size) {
	p, mid, bar := look.Current(), size.Height/2, float32(footEdge)
	r.fill(0, 0, size.Width, 1, p.Hair)
	if r.barW > 0 {
		r.fill(bar, mid+4, r.barW, 2, p.Ink)
		r.fill(bar, mid-1, 1, 7, p.Ink)
		r.fill(bar+r.barW-1, mid-1, 1, 7, p.Ink)
	}
	line := mid + r.letters.Cap(footStyle())/2
	for i, t := range r.parts {
		at := line
		if i == footScale {
			at -= 4 // over the bar
		}
		if !t.Hidden {
			r.letters.Write(r.img, t.Text, footStyle(), t.X, at, t.Color)
		}
	}
}

// fill paints a rectangle given in units of the window, at least a pixel wide
// and high.
func (r *footRenderer) fill(x, y, w, h float32, c color.NRGBA) {
	px := func(v float32) int { return int(v*r.letters.Scale() + 0.5) }
	at := image.Rect(px(x), px(y), max(px(x+w), px(x)+1), max(px(y+h), px(y)+1))
	draw.Draw(r.img, at, image.NewUniform(c), image.Point{}, draw.Src)
}

// Room of the parts whose text changes with the pointer, unless it is longer, and what a message
// should have at least, in units of the window.
const (
	footEdge    = 12
	scaleRoom   = float32(150)
	refRoom     = float32(150)
	latLonRoom  = float32(190)
	messageRoom = float32(150)
)

// roomAfter shares out the width among the parts between the scale bar and the
// message. Where it is short, latitude and longitude go first, then the
// reference, then the fit; what proves the sheet always stands.
func (r *footRenderer) roomAfter(width float32) [footParts]float32 {
	room := [footParts]float32{
		footRef:    max(refRoom, r.width(footRef)+12),
		footLatLon: max(latLonRoom, r.width(footLatLon)+12),
	}
	for _, i := range []int{footQuality, footCheck} {
		if w := r.width(i); w > 0 {
			room[i] = w + 18
		}
	}
	sum := room[footRef] + room[footLatLon] + room[footQuality] + room[footCheck] + messageRoom
	for _, i := range []int{footLatLon, footRef, footQuality} {
		if sum <= width {
			break
		}
		sum -= room[i]
		room[i] = 0
	}
	return room
}

// scaleBar returns the label and the width in units of the window of a bar of
// a round length, at most 120 units wide.
func scaleBar(metresPerPx, scale float64) (label string, width float32) {
	if metresPerPx <= 0 || math.IsInf(metresPerPx, 0) || math.IsNaN(metresPerPx) {
		return "", 0
	}
	most := 120 * scale * metresPerPx
	unit := math.Pow(10, math.Floor(math.Log10(most)))
	length := unit
	for _, k := range []float64{5, 2} {
		if k*unit <= most {
			length = k * unit
			break
		}
	}
	return units.RoundLength(length), float32(length / metresPerPx / scale)
}
