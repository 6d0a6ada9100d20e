package ui

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// eventAt is an event of the pointer over a point of the picture, to within half a
// pixel of the screen: the sheet takes the middle of the pixel that is hit.
func eventAt(b *Bench, at view.PicPt) fyne.PointEvent {
	s, scale := b.view.Area().View().ToScreen(at), float64(b.window.Canvas().Scale())
	pos := fyne.NewPos(float32(math.Floor(s.X)/scale), float32(math.Floor(s.Y)/scale))
	origin := fyne.CurrentApp().Driver().AbsolutePositionForObject(b.view.Area())
	return fyne.PointEvent{Position: pos, AbsolutePosition: origin.Add(pos)}
}

// settle lets what waits for the end of an act be done.
func settle(b *Bench) { queueOf(b).Drain() }

// mouse is an event of the left button.
func mouse(b *Bench, at view.PicPt) *desktop.MouseEvent {
	return &desktop.MouseEvent{PointEvent: eventAt(b, at), Button: desktop.MouseButtonPrimary}
}

// clickAt clicks a point of the picture. In the Sheet panel it is exactly that point,
// where a mouse would hit the nearest pixel of the screen.
func clickAt(b *Bench, at view.PicPt) {
	if b.frame.panel.front == panelSheet && !b.view.Preview() {
		b.sheetP.Points().Click(tool.Spot{At: at})
		return
	}
	settle(b)
	b.view.Area().MouseDown(mouse(b, at))
	b.view.Area().MouseUp(mouse(b, at))
}

// hoverAt moves the pointer to a point of the picture.
func hoverAt(b *Bench, at view.PicPt) {
	b.view.Area().MouseMoved(&desktop.MouseEvent{PointEvent: eventAt(b, at)})
}

// drag drags with the mouse from one point of the picture to another.
func drag(b *Bench, x0, y0, x1, y1 float64) {
	settle(b)
	b.view.Area().MouseDown(mouse(b, picAt(x0, y0)))
	last := eventAt(b, picAt(x0, y0))
	for i := 1; i <= 5; i++ {
		f := float64(i) / 5
		next := eventAt(b, picAt(x0+f*(x1-x0), y0+f*(y1-y0)))
		b.view.Area().Dragged(&fyne.DragEvent{PointEvent: next, Dragged: fyne.NewDelta(next.Position.X-last.Position.X, next.Position.Y-last.Position.Y)})
		last = next
	}
	b.view.Area().DragEnd()
	b.view.Area().MouseUp(mouse(b, picAt(x1, y1)))
}
