package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/look"
	"legwright/app/ui/part"
)

// panel is what stands at the right of the sheet: the dial, or at the Sheet
// post the fine aim in its place; the posts; and what the chosen post needs.
type panel struct {
	body   fyne.CanvasObject
	posts  [2]*part.Tool
	tops   [2]fyne.CanvasObject
	lowers [2]fyne.CanvasObject
}

func newPanel(b *Bench) *panel {
	p := &panel{}
	p.posts[postSheet] = part.NewEntry(look.IconSheet, "Sheet", "Open a picture and calibrate it  (Ctrl+1)", func() { b.goTo(postSheet) })
	p.posts[postRoute] = part.NewEntry(look.IconRoute, "Route", "Drag bearings, keep legs and sights  (Ctrl+2)", func() { b.goTo(postRoute) })
	p.tops = [2]fyne.CanvasObject{b.sheetP.top, b.dial}
	p.lowers = [2]fyne.CanvasObject{container.NewVScroll(b.sheetP.lower), b.routeP.lower}
	for _, t := range p.posts {
		t.OnHint = func(text string) { b.hintTo(text) }
	}
	b.dial.HintTo(b.hintTo)
	posts := container.NewGridWithColumns(2, p.posts[postSheet], p.posts[postRoute])
	inner := container.New(&panelLayout{p: p, posts: posts, dial: b.dial},
		p.tops[0], p.tops[1], posts, p.lowers[0], p.lowers[1])
	p.body = part.NewSurface(inner, part.Left, 0)
	return p
}

// show shows one post's parts.
func (p *panel) show(which post) {
	for i := range p.posts {
		on := post(i) == which
		p.posts[i].SetOn(on)
		visible(p.tops[i], on)
		visible(p.lowers[i], on)
	}
}

func visible(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// panelLayout keeps the posts at one place whichever post is chosen: below
// the room that the dial needs.
type panelLayout struct {
	p     *panel
	posts fyne.CanvasObject
	dial  fyne.CanvasObject
}

// topHeight is the room of the upper part: enough for the fine aim with a
// reference that is refused in three lines, so that nothing below it jumps.
// On low windows the dial's face gives way.
const (
	topHeight    = float32(494)
	topHeightLow = float32(450)
)

// MinSize is the panel's width.
func (l *panelLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(panelWidth-1, 200) }

// Layout places the upper part, the posts and the lower part.
func (l *panelLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	const gap = float32(12)
	top := topHeight
	if size.Height < lowWindow-footHeight {
		top = topHeightLow
	}
	top = max(top, l.dial.MinSize().Height)
	for _, t := range l.p.tops {
		put(t, 0, 0, size.Width, top)
	}
	h := l.posts.MinSize().Height
	put(l.posts, gap, top, size.Width-2*gap, h)
	y := top + h + gap/2
	for _, s := range l.p.lowers {
		put(s, gap, y, size.Width-gap, size.Height-y)
	}
}
