package ui

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// footText is what the foot line says. Empty parts take no room.
type footText struct {
	Ref, LatLon string // under the pointer
	Doubt       bool   // the place under it cannot be trusted, apart from the sheet as a whole
	Quality     string // of the calibration
	Proof       string // what proves it, or that nothing does
	Unproved    bool
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
	r := &footRenderer{f: f, hair: canvas.NewRectangle(color.Black)}
	for i := range r.texts {
		r.texts[i] = canvas.NewText("", color.Black)
	}
	for i := range r.bar {
		r.bar[i] = canvas.NewRectangle(color.Black)
	}
	r.Refresh()
	return r
}

// The parts of the line from left to right; the message is set to the right.
const (
	footScale = iota
	footRef
	footLatLon
	footQuality
	footProof
	footMessage
	footParts
)

type footRenderer struct {
	f     *footline
	hair  *canvas.Rectangle
	bar   [3]*canvas.Rectangle // the scale bar and its two end ticks
	barW  float32
	texts [footParts]*canvas.Text
}

func (r *footRenderer) Destroy()           {}
func (r *footRenderer) MinSize() fyne.Size { return fyne.NewSize(400, footHeight) }
func (r *footRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.hair}
	for _, b := range r.bar {
		out = append(out, b)
	}
	for _, t := range r.texts {
		out = append(out, t)
	}
	return out
}

// Refresh takes texts, colours and the length of the bar.
func (r *footRenderer) Refresh() {
	p, t := look.Current(), r.f.text
	r.hair.FillColor = p.Hair
	label, width := scaleBar(t.MetresPerPx, float64(scaleOf(r.f)))
	r.barW = width
	for _, b := range r.bar {
		b.FillColor = p.Ink
	}
	for i, s := range [footParts]string{label, t.Ref, t.LatLon, t.Quality, t.Proof, t.Message} {
		r.texts[i].Text, r.texts[i].TextSize, r.texts[i].Color = s, theme.Size(theme.SizeNameCaptionText)+1, p.Quiet
	}
	r.texts[footRef].Color = p.Ink
	if t.Doubt {
		r.texts[footRef].Color, r.texts[footRef].Text = p.Caution, t.Ref+" !"
	}
	if t.Unproved {
		r.texts[footProof].Color = p.Caution
	} else {
		r.texts[footProof].Color = p.Good
	}
	if t.Fault {
		r.texts[footMessage].Color = p.Fault
	}
	r.Layout(r.f.Size())
	for _, o := range r.Objects() {
		o.Refresh()
	}
}

// Layout sets the parts side by side. The reference under the pointer has a
// fixed width, so that nothing dances while the pointer moves.
func (r *footRenderer) Layout(size fyne.Size) {
	put(r.hair, 0, 0, size.Width, 1)
	x, mid := float32(12), size.Height/2
	put(r.bar[0], x, mid+4, r.barW, 2)
	put(r.bar[1], x, mid-1, 1, 7)
	put(r.bar[2], x+r.barW-1, mid-1, 1, 7)
	for _, b := range r.bar {
		b.Hidden = r.barW == 0
	}
	lift := r.texts[footScale].MinSize().Height / 2
	r.texts[footScale].Move(fyne.NewPos(x+6, mid-lift-4))
	x += scaleRoom
	left := r.roomAfter(size.Width - x)
	for i := footRef; i <= footProof; i++ {
		r.texts[i].Hidden = left[i] == 0
		r.texts[i].Move(fyne.NewPos(x, mid-lift))
		x += left[i]
	}
	room := size.Width - 12 - x
	m := r.texts[footMessage]
	m.Text = fitText(r.f.text.Message, m, room)
	m.Move(fyne.NewPos(size.Width-12-m.MinSize().Width, mid-lift))
}

// Room of the parts whose text changes with the pointer, unless it is longer, and what a message
// should have at least, in units of the window.
const (
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
		footRef:    max(refRoom, r.texts[footRef].MinSize().Width+12),
		footLatLon: max(latLonRoom, r.texts[footLatLon].MinSize().Width+12),
	}
	for _, i := range []int{footQuality, footProof} {
		if w := r.texts[i].MinSize().Width; w > 0 {
			room[i] = w + 18
		}
	}
	sum := room[footRef] + room[footLatLon] + room[footQuality] + room[footProof] + messageRoom
	for _, i := range []int{footLatLon, footRef, footQuality} {
		if sum <= width {
			break
		}
		sum -= room[i]
		room[i] = 0
	}
	return room
}

// fitText cuts a text to a width with an ellipsis.
func fitText(text string, like *canvas.Text, width float32) string {
	runes := []rune(text)
	for n := len(runes); n > 0; n-- {
		s := string(runes[:n])
		if n < len(runes) {
			s += "…"
		}
		if fyne.MeasureText(s, like.TextSize, like.TextStyle).Width <= width {
			return s
		}
	}
	return ""
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
	return lengthLabel(length), float32(length / metresPerPx / scale)
}
