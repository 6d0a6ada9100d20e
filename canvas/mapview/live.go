package mapview

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"legwright/canvas/overlay"
	"legwright/canvas/view"
)

const (
	// liveCasing and liveCore are the widths of the line being dragged, and
	// short how far it stays from the target, device-independent pixels.
	liveCasing, liveCore = 6, 2.5
	short                = 6
)

// live is what moves over everything: the line being dragged with its figures
// along it, and the keyboard cursor. They are few objects of their own, so
// that dragging redraws nothing else.
type live struct {
	casing, core *canvas.Line
	figures      *canvas.Raster
	written      *image.RGBA     // what figures shows
	cross        [4]*canvas.Line // two of casing, two of ink

	shown     bool
	until     int // the scene with which the line goes, see ReleaseLive; 0 for none
	from, to  view.PicPt
	set, text string
	covered   fyne.Position // of what lies over the sheet, from the widget's corner
	cover     fyne.Size

	cursor   view.PicPt
	cursorOn bool
}

func (l *live) init() {
	line := func(c color.Color, width float32) *canvas.Line {
		n := canvas.NewLine(c)
		n.StrokeWidth = width
		return n
	}
	pale, strong := color.NRGBA{0xff, 0xff, 0xff, 0xe0}, color.NRGBA{0xd5, 0x5e, 0x00, 0xff}
	l.casing, l.core = line(pale, liveCasing), line(strong, liveCore)
	l.figures = rasterOf(canvas.ImageScaleFastest, func() *image.RGBA { return l.written })
	l.cross = [4]*canvas.Line{line(pale, 3), line(pale, 3), line(color.Black, 1), line(color.Black, 1)}
}

// line sets the ends; the figures of earlier ends go.
func (l *live) line(from, to view.PicPt) {
	l.shown, l.until, l.from, l.to = true, 0, from, to
}

func (l *live) hide() { l.shown, l.until, l.set, l.text = false, 0, "", "" }

// objects lists what is to be painted.
func (l *live) objects() []fyne.CanvasObject {
	var out []fyne.CanvasObject
	if l.shown {
		out = append(out, l.casing, l.core)
		if l.written != nil {
			out = append(out, l.figures)
		}
	}
	if l.cursorOn {
		for _, n := range l.cross {
			out = append(out, n)
		}
	}
	return out
}

// place moves everything to where the view wants it.
func (l *live) place(c fyne.Canvas, f frame, v view.View, p *overlay.Painter, texts overlay.Written) {
	if l.shown {
		l.placeLine(f, v)
		l.placeFigures(c, f, v, p, texts)
	}
	if l.cursorOn {
		l.placeCross(f, v)
	}
}

func (l *live) placeLine(f frame, v view.View) {
	a, b := v.ToScreen(l.from), v.ToScreen(l.to)
	if n := a.Dist(b); n > 3*short*f.scale {
		k := 1 - short*f.scale/n
		b = view.ScreenPt{X: a.X + k*(b.X-a.X), Y: a.Y + k*(b.Y-a.Y)}
	}
	for _, n := range []*canvas.Line{l.casing, l.core} {
		n.Position1, n.Position2 = f.pos(a.X, a.Y), f.pos(b.X, b.Y)
	}
}

// placeFigures writes the figures along the line. The picture is new each
// time and small.
func (l *live) placeFigures(c fyne.Canvas, f frame, v view.View, p *overlay.Painter, texts overlay.Written) {
	l.written = nil
	if l.set == "" && l.text == "" {
		return
	}
	w, h := v.Viewport()
	img, x, y := p.Along(l.set, l.text, v.ToScreen(l.from), v.ToScreen(l.to), f.scale, w, h, overlay.Beside{Covered: l.under(f), Written: texts})
	if img == nil {
		return
	}
	l.written = img
	size := img.Bounds().Size()
	place(c, l.figures, f.pos(float64(x), float64(y)), f.extent(float64(size.X), float64(size.Y)))
	refreshOn(c, l.figures)
}

// under is what of the map area is covered, in physical pixels.
func (l *live) under(f frame) image.Rectangle {
	at := func(p fyne.Position) image.Point {
		return image.Pt(int(math.Round(float64(p.X)*f.scale)), int(math.Round(float64(p.Y)*f.scale)))
	}
	return image.Rectangle{Min: at(l.covered), Max: at(l.covered.Add(l.cover))}
}

// placeCross draws the keyboard cursor: two strokes with a gap between.
func (l *live) placeCross(f frame, v view.View) {
	s := v.ToScreen(l.cursor)
	x, y, r := math.Floor(s.X), math.Floor(s.Y), math.Round(12*f.scale)
	for i, n := range l.cross {
		dx, dy := r, 0.0
		if i%2 == 1 {
			dx, dy = 0, r
		}
		n.Position1, n.Position2 = f.pos(x-dx, y-dy), f.pos(x+dx, y+dy)
	}
}

// SetLive draws the line being dragged with its figures: the figure to set,
// bold, and a line of text after it.
func (m *MapView) SetLive(text, set string, from, to view.PicPt) {
	m.live.line(from, to)
	m.live.text, m.live.set = text, set
	m.placeLive()
}

// KeepOff says what of the map area lies under something else, where the figures of
// the line being dragged are not written as long as there is room elsewhere; at is
// counted from the widget's corner, and an empty size means nothing.
func (m *MapView) KeepOff(at fyne.Position, size fyne.Size) {
	if m.live.covered == at && m.live.cover == size {
		return
	}
	m.live.covered, m.live.cover = at, size
	if m.live.shown {
		m.placeLive()
	}
}

// ClearLive takes the line being dragged away.
func (m *MapView) ClearLive() {
	m.live.hide()
	m.placeLive()
}

// ReleaseLive takes the line being dragged away once the scene that the present event leads
// to has been drawn: what was kept of the line stands there from then on.
func (m *MapView) ReleaseLive() {
	m.live.until = notYet
	m.later(func() {
		if m.live.until == notYet { // no other line is being dragged
			m.live.until = m.serial
			m.endReleased()
		}
	})
}

// notYet is a scene that has not been set.
const notYet = math.MaxInt

// endReleased takes a released line away if nothing that it waits for is still to be drawn.
func (m *MapView) endReleased() {
	if m.live.until > 0 && (m.overlayLayer.shown.scene >= m.live.until || !m.hasOverlay(m.order())) {
		m.ClearLive()
	}
}

// placeLive brings the live things up to date without touching the tiles.
func (m *MapView) placeLive() {
	if m.pic == nil || m.carrying {
		return
	}
	m.live.cursor, m.live.cursorOn = m.machine.Cursor()
	c := m.canvas()
	m.painter.SetNight(m.night())
	m.live.place(c, m.frame, m.view, m.painter, m.overlayLayer.writtenIn(m.view))
	m.layer.Objects = append(m.layer.Objects[:m.still:m.still], m.live.objects()...)
	dirty(c, m.layer)
}

// groundColor is what lies around the sheet.
func groundColor() color.Color {
	if r, g, b, _ := theme.Color(theme.ColorNameBackground).RGBA(); r+g+b < 3*0x8000 { // a look of its own may differ from the desktop's
		return color.NRGBA{0x23, 0x27, 0x2a, 0xff}
	}
	return color.NRGBA{0xc9, 0xcd, 0xcb, 0xff}
}
