package foot

import (
	"image"
	"image/color"
	"image/draw"
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"legwright/app/lettering"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// Part is one of the texts of the line.
type Part int

// The parts from left to right; the message ends at the right edge.
const (
	PartScale Part = iota
	PartRef
	PartLatLon
	PartQuality
	PartCheck
	PartMessage
	parts
)

// Text is how a part is drawn.
type Text struct {
	Text     string
	Color    color.NRGBA
	X, Width float32 // of its left end, and of all of it, in DIP
	Hidden   bool    // the window is too narrow for it
}

// Drawn returns how a part is drawn at the line's present size.
func (l *Line) Drawn(p Part) Text {
	r := &renderer{l: l}
	r.raster = canvas.NewRaster(r.paint)
	r.Refresh()
	t := r.parts[p]
	t.Width = r.width(p)
	return t
}

// renderer draws the line as one picture: as objects of the toolkit its parts
// would cost more time a frame than the whole drawing does.
type renderer struct {
	l       *Line
	raster  *canvas.Raster
	letters *lettering.Setter
	img     *image.RGBA
	barW    float32 // of the scale bar
	parts   [parts]Text
}

func (r *renderer) Destroy()                     {}
func (r *renderer) MinSize() fyne.Size           { return fyne.NewSize(400, Height) }
func (r *renderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.raster} }

// Refresh takes the texts, their colours and the length of the bar.
func (r *renderer) Refresh() {
	p, t := look.Current(), r.l.now
	label, width := ScaleBar(t.metresPerPx, float64(widgets.ScaleOf(r.l)))
	r.barW = width
	q, at := t.quality, r.l.seenPointer()
	for i, s := range [parts]string{label, at.Ref, at.LatLon, q.Text, q.Check, ""} {
		r.parts[i].Text, r.parts[i].Color = s, p[look.Quiet]
	}
	r.parts[PartRef].Color = p[look.Ink]
	if at.Stopped {
		r.parts[PartRef].Color, r.parts[PartRef].Text = p[look.Fault], strings.TrimSpace("! "+at.Ref)
	}
	r.parts[PartCheck].Color = p[look.Good]
	switch {
	case q.Stopped:
		r.parts[PartCheck].Color = p[look.Fault]
	case q.Unchecked:
		r.parts[PartCheck].Color = p[look.Caution]
	}
	if t.failed {
		r.parts[PartMessage].Color = p[look.Fault]
	}
	r.Layout(r.l.Size())
}

// Layout places the parts side by side. The reference under the pointer has a
// fixed width, so that its neighbours stand still while the pointer moves.
func (r *renderer) Layout(size fyne.Size) {
	r.raster.Resize(size)
	defer r.raster.Refresh()
	r.letters = r.letters.At(widgets.ScaleOf(r.l))
	x := float32(edge)
	r.parts[PartScale].X = x + 6
	x += scaleRoom
	r.parts[PartMessage].Text = oneLine(r.l.text())
	left := r.roomAfter(size.Width - x)
	for i := PartRef; i <= PartCheck; i++ {
		r.parts[i].Hidden = left[i] == 0
		r.parts[i].X = x
		x += left[i]
	}
	m := &r.parts[PartMessage]
	fit := r.letters.Fit
	if strings.Contains(m.Text, "Undo ") || strings.Contains(m.Text, "STOP") { // the way back, or what not to walk on, stands at the end
		fit = r.letters.FitEnd
	}
	m.Text = fit(m.Text, style(), size.Width-edge-x)
	m.X = size.Width - edge - r.width(PartMessage)
}

// oneLine puts a message on one line. Joined errors stand on lines of their own,
// and a line break would be drawn as an empty box.
func oneLine(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, strings.ReplaceAll(strings.TrimSpace(text), "\n", "; "))
}

// style is the lettering of the line.
func style() lettering.Style {
	return lettering.Style{Size: theme.Size(theme.SizeNameCaptionText) + 1}
}

// width returns how wide a part's text is, in DIP.
func (r *renderer) width(part Part) float32 {
	return r.letters.Width(r.parts[part].Text, style())
}

// paint draws the line into w × h physical pixels; Fyne calls it by way of the
// raster.
func (r *renderer) paint(w, h int) image.Image {
	widgets.Crisp(r.raster)
	size := r.l.Size()
	if r.letters = r.letters.At(widgets.ScaleOf(r.l)); w < 1 || h < 1 {
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
func (r *renderer) draw(size fyne.Size) {
	p, mid, bar := look.Current(), size.Height/2, float32(edge)
	r.fill(0, 0, size.Width, 1, p[look.Hair])
	if r.barW > 0 {
		r.fill(bar, mid+4, r.barW, 2, p[look.Ink])
		r.fill(bar, mid-1, 1, 7, p[look.Ink])
		r.fill(bar+r.barW-1, mid-1, 1, 7, p[look.Ink])
	}
	line := mid + r.letters.Cap(style())/2
	for i, t := range r.parts {
		at := line
		if Part(i) == PartScale {
			at -= 4 // over the bar
		}
		if !t.Hidden {
			r.letters.Write(r.img, t.Text, style(), t.X, at, t.Color)
		}
	}
}

// fill paints a rectangle given in DIP, at least a pixel wide and high.
func (r *renderer) fill(x, y, w, h float32, c color.NRGBA) {
	px := func(v float32) int { return int(v*r.letters.Scale() + 0.5) }
	at := image.Rect(px(x), px(y), max(px(x+w), px(x)+1), max(px(y+h), px(y)+1))
	draw.Draw(r.img, at, image.NewUniform(c), image.Point{}, draw.Src)
}

// The space that a part takes whatever it says, so that its neighbours stand
// still, and the least that a message gets, in DIP.
const (
	edge        = 12
	scaleRoom   = float32(150)
	refRoom     = float32(150)
	latLonRoom  = float32(190)
	messageRoom = float32(150)
	messageWish = float32(300) // of a message for which the quality goes
)

// roomAfter shares out the width between the scale bar and the message. Where
// it is short, latitude and longitude go first, then the reference, then the
// quality; whether the sheet is checked always stands. Why an act was refused, and
// what a control is for, come before all that may go: a control without a text says
// it nowhere else. So does what an act did while the pointer is not on the sheet:
// nothing moves under it then. With the pointer on the sheet the quality makes room for it, and
// its position stays.
func (r *renderer) roomAfter(width float32) [parts]float32 {
	room := [parts]float32{
		PartRef:    max(refRoom, r.width(PartRef)+12),
		PartLatLon: max(latLonRoom, r.width(PartLatLon)+12),
	}
	for _, i := range []Part{PartQuality, PartCheck} {
		if w := r.width(i); w > 0 {
			room[i] = w + 18
		}
	}
	wish := max(messageRoom, r.width(PartMessage)+edge)
	if !r.l.now.failed && r.l.hint == "" && r.l.seenPointer() != (Pointer{}) {
		giveUp(&room, width-min(wish, messageWish), PartLatLon, PartQuality)
		wish = messageRoom
	}
	giveUp(&room, width-wish, PartLatLon, PartRef, PartQuality)
	return room
}

// giveUp takes the room of parts, one after the other, until all fit into the width.
func giveUp(room *[parts]float32, width float32, order ...Part) {
	sum := float32(0)
	for _, w := range room {
		sum += w
	}
	for _, i := range order {
		if sum <= width {
			break
		}
		sum -= room[i]
		room[i] = 0
	}
}
