package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/dial"
	"legwright/app/ui/foot"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// panel is what stands at the right of the sheet: the dial, or at the Sheet
// post the fine aim in its place; the posts; and what the chosen post needs.
type panel struct {
	body   fyne.CanvasObject
	posts  [2]*widgets.Tool
	tops   [2]fyne.CanvasObject
	lowers [2]fyne.CanvasObject
	layout *panelLayout
}

func newPanel(b *Bench) *panel {
	p := &panel{}
	p.posts[postSheet] = widgets.NewEntry(look.IconSheet, "Sheet", "Open a picture and calibrate it  (Ctrl+1)", func() { b.goTo(postSheet) })
	p.posts[postRoute] = widgets.NewEntry(look.IconRoute, "Route", "Drag bearings, keep legs and sights  (Ctrl+2)", func() { b.goTo(postRoute) })
	p.tops = [2]fyne.CanvasObject{widgets.NewNestedScroll(b.sheetP.top, b.panelScroll), b.dial}
	p.lowers = [2]fyne.CanvasObject{widgets.NewNestedScroll(b.sheetP.lower, b.panelScroll), b.routeP.lower}
	for _, t := range p.posts {
		t.OnHint = func(text string) { b.hintTo(text) }
	}
	b.dial.HintTo(b.hintTo)
	posts := container.NewGridWithColumns(2, p.posts[postSheet], p.posts[postRoute])
	l := &panelLayout{p: p, posts: posts, dial: b.dial, sheet: [2]fyne.CanvasObject{b.sheetP.top, b.sheetP.lower}}
	p.layout = l
	l.inner = container.NewVScroll(container.New(l, p.tops[0], p.tops[1], p.lowers[0], p.lowers[1]))
	p.body = widgets.NewSurface(container.New(&postsLayout{l}, l.inner, posts), widgets.Left, 0)
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
	p.layout.inner.Refresh()
	p.layout.inner.Content.Refresh() // the parts of another post may be of another height
}

func visible(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// panelLayout places the panel's upper and lower part, and leaves room for the
// posts between them: at one place whichever post is chosen, below the room
// that the dial needs.
type panelLayout struct {
	p     *panel
	posts fyne.CanvasObject
	dial  *dial.Dial
	sheet [2]fyne.CanvasObject // what the Sheet post's parts hold
	inner *container.Scroll    // holds both parts
	high  float32              // of the room that is seen
	wide  float32              // of the same
}

// topHeight is the room of the upper part: enough for the fine aim with a
// reference that is refused in three lines, so that nothing below it jumps.
// On low windows the dial's face gives way.
const (
	topHeight    = float32(494)
	topHeightLow = float32(450)
	lowerLeast   = float32(150) // below it the whole panel scrolls
	postsGap     = float32(12)
)

// top is the height of the upper part: of a window that is too low, all that is
// seen of it.
func (l *panelLayout) top() float32 {
	if l.tight() {
		return max(l.seen(), l.dial.MinSize().Height)
	}
	return l.roomy()
}

// roomy is the height of the upper part where there is room for it.
func (l *panelLayout) roomy() float32 {
	top := topHeight
	if l.high < lowWindow-foot.Height {
		top = topHeightLow
	}
	return max(top, l.dial.Comfortable())
}

// between is the room that the posts take between the parts.
func (l *panelLayout) between() float32 { return l.posts.MinSize().Height + postsGap/2 }

// tight reports that the window is too low for both parts and the posts: the
// posts then stand at the lower edge, and the parts scroll above them. Nothing
// is ever drawn over something else.
func (l *panelLayout) tight() bool { return l.high < l.roomy()+l.between()+lowerLeast }

// seen is the height of what is seen of the parts.
func (l *panelLayout) seen() float32 {
	if l.tight() {
		return l.high - l.between() - postsGap/2
	}
	return l.high
}

// parts are the heights of the upper part and, at the least, the lower part of
// a post. In a window that is too low the Sheet post's are as high as what they
// hold: nothing then scrolls within what scrolls, and no room is kept for a fine
// aim that is not there.
func (l *panelLayout) parts(which post) (top, lower float32) {
	if which == postSheet && l.tight() {
		return l.sheet[0].MinSize().Height, max(lowerLeast, l.sheet[1].MinSize().Height)
	}
	return l.top(), lowerLeast
}

// MinSize is the panel's width, and the height that its parts need.
func (l *panelLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	which := postRoute
	if l.p.tops[postSheet].Visible() {
		which = postSheet
	}
	top, lower := l.parts(which)
	h := top + lower
	if !l.tight() {
		h += l.between()
	}
	return fyne.NewSize(panelWidth-1, h)
}

// Layout places the upper part and the lower part.
func (l *panelLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	for i := range l.p.tops {
		top, _ := l.parts(post(i))
		widgets.Put(l.p.tops[i], 0, 0, size.Width, top)
		y := top
		if !l.tight() {
			y += l.between()
		}
		widgets.Put(l.p.lowers[i], postsGap, y, size.Width-postsGap, size.Height-y)
	}
	l.placePosts() // the dial may have grown or shrunk since, and they with it
}

// placePosts lays the posts between the parts, or at the lower edge of a window
// that is too low.
func (l *panelLayout) placePosts() {
	y := l.top()
	if l.tight() {
		y = l.high - l.between()
	}
	widgets.Put(l.posts, postsGap, y, l.wide-2*postsGap, l.posts.MinSize().Height)
}

// postsLayout lays the posts over the room that panelLayout leaves for them,
// or at the lower edge of a window that is too low.
type postsLayout struct{ l *panelLayout }

// MinSize is the panel's width.
func (o *postsLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(panelWidth-1, 200)
}

// Layout places the scrolled parts and the posts.
func (o *postsLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	l := o.l
	l.high, l.wide = size.Height, size.Width
	room, within := l.seen(), float32(0)
	if l.tight() {
		within = room
	}
	l.dial.Within(within)
	l.placePosts()
	widgets.Put(l.inner, 0, 0, size.Width, room)
	l.inner.Refresh() // its content may stand otherwise at the same size
	l.inner.Content.Refresh()
}

// panelScroll is what the parts of the panel scroll in, once there is a panel.
func (b *Bench) panelScroll() *container.Scroll {
	if b.panel == nil {
		return nil
	}
	return b.panel.layout.inner
}
