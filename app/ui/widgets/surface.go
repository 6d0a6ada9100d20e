package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// Side is a side of a surface on which a hairline is drawn.
type Side int

// The sides; they can be combined with |.
const (
	Left Side = 1 << iota
	Right
	Top
	Bottom
)

// Surface lays a panel's tone under its content, with hairlines on some sides
// and an inset.
type Surface struct {
	widget.BaseWidget
	content fyne.CanvasObject
	sides   Side
	inset   float32
	raised  bool
}

// NewSurface returns a panel, bar or page edge; inset is the space around the
// content in DIP.
func NewSurface(content fyne.CanvasObject, sides Side, inset float32) *Surface {
	return newSurface(&Surface{content: content, sides: sides, inset: inset})
}

// NewStrip returns a small floating panel: a framed surface with a soft shade,
// for the few answers that are asked for on the sheet itself. Presses on it do not reach
// what lies under it. It must be placed by its parent at its least size.
func NewStrip(content fyne.CanvasObject) *Surface {
	return newSurface(&Surface{content: content, sides: Left | Right | Top | Bottom, inset: 5, raised: true})
}

func newSurface(s *Surface) *Surface { s.ExtendBaseWidget(s); return s }

// CreateRenderer makes the surface; Fyne calls it.
func (s *Surface) CreateRenderer() fyne.WidgetRenderer {
	shade, ground := canvas.NewRectangle(color.Transparent), canvas.NewRectangle(color.Transparent)
	lines := map[Side]*canvas.Rectangle{}
	objects := []fyne.CanvasObject{shade, ground}
	under := newShield()
	if s.raised {
		objects = append(objects, under)
	}
	for _, side := range []Side{Left, Right, Top, Bottom} {
		if s.sides&side != 0 && !s.raised {
			lines[side] = canvas.NewRectangle(color.Transparent)
			objects = append(objects, lines[side])
		}
	}
	r := &renderer{objects: append(objects, s.content)}
	refresh := func() {
		if s.raised {
			paint(ground, theme.Color(theme.ColorNameBackground), theme.Color(theme.ColorNameSeparator), 1)
			paint(shade, theme.Color(theme.ColorNameShadow), nil, 0)
			return
		}
		paint(ground, theme.Color(look.ColorBoard), nil, 0)
		for _, l := range lines {
			paint(l, theme.Color(theme.ColorNameSeparator), nil, 0)
		}
	}
	refresh()
	r.refresh = func() { refresh(); s.content.Refresh() }
	r.layout = func(size fyne.Size) {
		ground.Resize(size)
		under.Resize(size)
		if s.raised {
			shade.Move(fyne.NewPos(-1, 1))
			shade.Resize(size.AddWidthHeight(2, 2))
		}
		placeLines(lines, size)
		s.content.Move(fyne.NewPos(s.inset, s.inset))
		s.content.Resize(size.SubtractWidthHeight(2*s.inset, 2*s.inset))
	}
	r.min = func() fyne.Size { return s.content.MinSize().AddWidthHeight(2*s.inset, 2*s.inset) }
	return r
}

func placeLines(lines map[Side]*canvas.Rectangle, size fyne.Size) {
	t := theme.Size(look.SizeHair)
	for side, l := range lines {
		at, s := fyne.NewPos(0, 0), fyne.NewSize(size.Width, t)
		switch side {
		case Left, Right:
			s = fyne.NewSize(t, size.Height)
		}
		if side == Right {
			at.X = size.Width - t
		}
		if side == Bottom {
			at.Y = size.Height - t
		}
		l.Move(at)
		l.Resize(s)
	}
}
