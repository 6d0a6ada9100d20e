package widgets

import (
	"image/color"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

const (
	tipDelay = 500 * time.Millisecond // how long the pointer rests on an icon before its tip appears
	tipCheck = 200 * time.Millisecond // how often a tip looks whether its icon is still there
)

// TipLayer shows the hint of an icon beside it. It stands last in the container
// that is the window's content, above everything and placed by itself; a Tool that
// is an icon finds it there. It takes no input. The toolkit's own pop-ups would:
// they lie over the window as dialogs do.
type TipLayer struct {
	widget.BaseWidget
	later func(func())
	of    fyne.CanvasObject // the icon under the pointer, or nil
	turn  int               // counts what was pointed at, for tips that come too late
	text  string
}

// NewTipLayer returns a layer that shows nothing. later runs a function on the main
// thread.
func NewTipLayer(later func(func())) *TipLayer {
	l := &TipLayer{later: later}
	l.ExtendBaseWidget(l)
	l.Hide()
	return l
}

// tipsOver returns the layer of the window that an object stands in, or nil.
func tipsOver(o fyne.CanvasObject) *TipLayer {
	c := fyne.CurrentApp().Driver().CanvasForObject(o)
	if c == nil {
		return nil
	}
	root, ok := c.Content().(*fyne.Container)
	if !ok || len(root.Objects) == 0 {
		return nil
	}
	l, _ := root.Objects[len(root.Objects)-1].(*TipLayer)
	return l
}

// point says that the pointer came onto an icon with a hint, or, with an empty
// hint, that it left. A nil layer does nothing.
func (l *TipLayer) point(o fyne.CanvasObject, hint string) {
	if l == nil {
		return
	}
	l.turn++
	l.of = o
	l.Hide()
	if hint == "" {
		return
	}
	turn := l.turn
	time.AfterFunc(tipDelay, func() {
		l.later(func() {
			if turn == l.turn {
				l.show(hint)
			}
		})
	})
}

// show places the tip under its icon, or over it where the window ends.
func (l *TipLayer) show(hint string) {
	c := fyne.CurrentApp().Driver().CanvasForObject(l.of)
	at := placeOf(l.of)
	if c == nil || at == placeOf(nil) { // it went meanwhile
		return
	}
	const gap = 4
	l.text = hint
	size := l.MinSize()
	x := max(min(at.X, c.Size().Width-size.Width-gap), gap)
	y := at.Y + l.of.Size().Height + gap
	if y+size.Height > c.Size().Height {
		y = at.Y - size.Height - gap
	}
	root := placeOf(c.Content())
	Put(l, x-root.X, y-root.Y, size.Width, size.Height)
	l.Show()
	l.Refresh()
	l.watch(c, at)
}

// watch hides the tip once its icon no longer stands where it stood, or a dialog lies
// over it: the toolkit sends no event when what is under the pointer goes.
func (l *TipLayer) watch(c fyne.Canvas, at fyne.Position) {
	turn := l.turn
	time.AfterFunc(tipCheck, func() {
		l.later(func() {
			switch {
			case turn != l.turn:
			case placeOf(l.of) != at || c.Overlays().Top() != nil:
				l.point(nil, "")
			default:
				l.watch(c, at)
			}
		})
	})
}

// placeOf is where an object stands in its window. One that cannot be seen stands where
// nothing does.
func placeOf(o fyne.CanvasObject) fyne.Position {
	return fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
}

// Text returns the tip that is shown, "" for none.
func (l *TipLayer) Text() string {
	if !l.Visible() {
		return ""
	}
	return l.text
}

// CreateRenderer makes the tip; Fyne calls it.
func (l *TipLayer) CreateRenderer() fyne.WidgetRenderer {
	ground, text := canvas.NewRectangle(color.Transparent), canvas.NewText("", nil)
	const side, top = 7, 3
	refresh := func() {
		paint(ground, theme.Color(theme.ColorNameBackground), theme.Color(theme.ColorNameSeparator), 1)
		write(text, l.text, theme.ColorNameForeground, look.SizeLabel)
	}
	refresh()
	r := &renderer{objects: []fyne.CanvasObject{ground, text}}
	r.layout = func(size fyne.Size) {
		ground.Resize(size)
		Put(text, side, top, size.Width-2*side, size.Height-2*top)
	}
	r.min = func() fyne.Size {
		refresh()
		return text.MinSize().AddWidthHeight(2*side, 2*top)
	}
	r.refresh = func() { refresh(); r.layout(l.Size()) }
	return r
}
