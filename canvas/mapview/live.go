package mapview

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"legwright/canvas/view"
)

// live is what is being dragged now: a line with a casing, its figures along
// it, and the keyboard cursor.
type live struct {
	casing, core *canvas.Line
	shown        bool
	from, to     view.PicPt
}

func (l *live) init() {
	l.casing, l.core = canvas.NewLine(color.White), canvas.NewLine(color.NRGBA{0xd5, 0x5e, 0, 0xff})
	l.casing.StrokeWidth, l.core.StrokeWidth = 5, 2
}

func (l *live) hide() { l.shown = false }

func (l *live) line(from, to view.PicPt) { l.from, l.to, l.shown = from, to, true }

func (l *live) objects() []fyne.CanvasObject {
	if !l.shown {
		return nil
	}
	return []fyne.CanvasObject{l.casing, l.core}
}

func (l *live) place(f frame, v view.View) {
	a, b := v.ToScreen(l.from), v.ToScreen(l.to)
	for _, n := range []*canvas.Line{l.casing, l.core} {
		n.Position1, n.Position2 = f.pos(a.X, a.Y), f.pos(b.X, b.Y)
	}
}

// ClearLive takes the live line away.
func (m *MapView) ClearLive() { m.live.hide(); m.place() }

func (m *MapView) placeLive() { m.place() }

func groundColor() color.Color { return color.NRGBA{0xc9, 0xcc, 0xca, 0xff} }
