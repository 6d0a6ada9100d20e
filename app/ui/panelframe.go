package ui

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/dial"
	"legwright/app/ui/widgets"
)

// panelFrame is the column at the right of the map: the panel in front, which scrolls
// where it is too high, and below it the list of panels.
type panelFrame struct {
	body    fyne.CanvasObject
	entries []panelEntry
	tools   []*widgets.Tool // the list of panels
	list    *fyne.Container
	parts   *fyne.Container // of all panels
	scroll  *container.Scroll
	column  *fyne.Container
	dial    *dial.Dial
	front   panelID
	moving  bool // dragging moves marks and ends, and reads no bearing
	bare    bool // the dial had nothing to read when the panel was laid out
}

// newPanelFrame shows the entries; goTo is called when one is chosen from the list.
func newPanelFrame(entries []panelEntry, d *dial.Dial, goTo func(panelID), hint func(string)) *panelFrame {
	f := &panelFrame{entries: entries, dial: d, list: container.NewGridWithColumns(len(entries))}
	var parts, heads []fyne.CanvasObject
	for i, e := range entries {
		t := widgets.NewEntry("", e.title, e.hint+"  (Ctrl+"+string(e.key)+")", func() { goTo(panelID(i)) })
		t.OnHint = hint
		f.tools = append(f.tools, t)
		f.list.Add(t)
		if e.top != nil && !slices.Contains(parts, e.top) { // panels share the dial
			parts = append(parts, e.top)
		}
		parts = append(parts, e.lower)
		if e.head != nil {
			heads = append(heads, e.head)
		}
		if e.instead != nil {
			parts = append(parts, e.instead)
		}
	}
	f.parts = container.NewWithoutLayout(parts...)
	f.scroll = container.NewVScroll(f.parts)
	f.parts.Layout = &panelParts{f}
	f.column = container.New(&panelColumn{f}, append(heads, f.scroll, f.list)...)
	f.body = widgets.NewSurface(f.column, widgets.Left, 0)
	f.bring(panelRoute) // comes first; the others are laid out once they are shown
	f.bare = f.dialWaits()
	d.OnChange = f.followDial
	return f
}

// show brings a panel to the front.
func (f *panelFrame) show(which panelID) {
	f.bring(which)
	for i, e := range f.entries {
		if e.show != nil {
			e.show(panelID(i) == which)
		}
	}
	f.scroll.ScrollToTop()
	f.arrange()
}

// bring makes a panel the only one that is visible.
func (f *panelFrame) bring(which panelID) {
	f.front = which
	for i, e := range f.entries {
		f.tools[i].SetOn(panelID(i) == which)
		visible(e.lower, panelID(i) == which)
		if e.head != nil {
			visible(e.head, panelID(i) == which)
		}
	}
}

// arrange gives the parts of the panel in front their places, in which the dial may have
// another height, or something else stand.
func (f *panelFrame) arrange() {
	visible(f.dial, f.top() == f.dial)
	widgets.Arrange(f.column)
}

// top is what stands above the lower part of the panel in front, or below it in a low
// window; nil for nothing.
func (f *panelFrame) top() fyne.CanvasObject {
	e := f.entries[f.front]
	if e.instead != nil && e.instead.Visible() {
		return e.instead
	}
	return e.top
}

// reveal scrolls until a part of the panel in front shows.
func (f *panelFrame) reveal(o fyne.CanvasObject) {
	widgets.ArrangeIn(f.scroll) // it may just have grown
	widgets.Reveal(f.scroll, o)
}

// inSight reports whether anything of the panel in front is seen between two heights of its
// lower part.
func (f *panelFrame) inSight(top, bottom float32) bool {
	at := f.entries[f.front].lower.Position().Y - f.scroll.Offset.Y
	return at+bottom > 0 && at+top < f.scroll.Size().Height
}

// followDial lays the panel out again when the first reading comes to the dial or the
// last one goes: in a low window a dial without one leaves its room to what stands
// below. What the person has scrolled to, or types into, keeps its position.
func (f *panelFrame) followDial() {
	if f.bare == f.dialWaits() {
		return
	}
	parts := &panelParts{f}
	before, _ := parts.heights()
	f.bare = !f.bare
	after, _ := parts.heights()
	if before == after {
		return
	}
	f.scroll.Refresh()
	if f.scroll.Offset.Y > 0 || f.typed() {
		f.scroll.ScrollToOffset(fyne.NewPos(0, max(f.scroll.Offset.Y+after-before, 0)))
	}
}

// dialWaits reports whether the dial waits for a reading: it has none to show, or to
// hide.
func (f *panelFrame) dialWaits() bool { return f.dial.Figures().Empty && !f.dial.Concealed() }

// typed reports whether a control of the panel has the focus.
func (f *panelFrame) typed() bool {
	driver := fyne.CurrentApp().Driver()
	c := driver.CanvasForObject(f.scroll)
	if c == nil {
		return false
	}
	o, ok := c.Focused().(fyne.CanvasObject)
	return ok && driver.AbsolutePositionForObject(o).X >= driver.AbsolutePositionForObject(f.scroll).X
}

// panelScroll is what the panels scroll in, once there is a panel.
func (b *Bench) panelScroll() *container.Scroll {
	if b.frame.panel == nil {
		return nil
	}
	return b.frame.panel.scroll
}

// releaseKeys gives the keys back to the map where a field still has them that cannot be
// seen any more: the toolkit would send it every shortcut, Undo among them.
func (b *Bench) releaseKeys() {
	field, ok := b.window.Canvas().Focused().(fyne.CanvasObject)
	if !ok || b.dialogs.Waiting() || field == fyne.CanvasObject(b.view.Area()) {
		return
	}
	place := fyne.CurrentApp().Driver().AbsolutePositionForObject
	if nowhere := place(canvas.NewRectangle(nil)); place(field) == nowhere {
		b.view.Focus()
	}
}

func visible(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// Heights in units of the window.
const (
	dialRoom     = float32(494) // for the dial, where the window has it
	dialRoomLow  = float32(450)
	lowerLeast   = float32(150) // of what stands below the dial
	lowerLarge   = float32(190) // of what has more to say than the dial, at least
	lowerWish    = float32(400) // where the window has it
	insteadLeast = float32(120) // of what stands in the dial's place in a low window
	dialGivesUp  = float32(86)  // of the face, for what has more to say
	panelGap     = float32(12)
)

// panelColumn lays out the panel in front below its head and over the list of panels.
type panelColumn struct{ f *panelFrame }

// MinSize is the column's width.
func (*panelColumn) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(panelWidth-1, 200) }

// Layout places the head, the panel and the list.
func (l *panelColumn) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	f, h := l.f, l.f.list.MinSize().Height
	head := l.head(size.Width)
	high := size.Height - head
	room := max(high-h-panelGap, 0)
	widgets.Put(f.list, panelGap, size.Height-h-panelGap/2, size.Width-2*panelGap, h)
	within := float32(0)
	switch {
	case f.dialLast(room):
	case f.entries[f.front].turns != nil:
		within = f.roomy(high)
	case room < f.roomy(high)+lowerLeast: // the dial's face gives way
		within = room
	}
	f.dial.Within(within)
	widgets.Put(f.scroll, 0, head, size.Width, room)
	widgets.ArrangeIn(f.scroll) // its content may stand otherwise at the same size
}

// head places the head of the panel in front, which is as high as the rows of its words
// need, and returns its height.
func (l *panelColumn) head(wide float32) float32 {
	o := l.f.entries[l.f.front].head
	if o == nil {
		return 0
	}
	o.Resize(fyne.NewSize(wide-panelGap, o.Size().Height))
	high := o.MinSize().Height
	widgets.Put(o, panelGap, 0, wide-panelGap, high)
	return high
}

// dialLast reports whether the dial stands below what has more to say, where not both
// are seen; room is what is seen.
func (f *panelFrame) dialLast(room float32) bool {
	e := f.entries[f.front]
	return e.turns != nil && e.top != nil && room < f.dial.Comfortable()-dialGivesUp+lowerLarge
}

// roomy is the height of the dial in a column of a height that has room for it.
func (f *panelFrame) roomy(high float32) float32 {
	if turns := f.entries[f.front].turns; turns != nil {
		least := f.dial.Comfortable() - dialGivesUp
		return max(least, min(f.dial.Wish(turns()), high-lowerWish))
	}
	room := dialRoom
	if high < lowWindow {
		room = dialRoomLow
	}
	return max(room, f.dial.Comfortable())
}

// panelParts lays out what the panel in front holds: the dial, if it has one, and the
// rest below, at least as high as what is left of the column.
type panelParts struct{ f *panelFrame }

// heights are those of the two parts.
func (l *panelParts) heights() (top, lower float32) {
	e, over, seen := l.f.entries[l.f.front], l.f.top(), l.f.scroll.Size().Height
	lower = max(lowerLeast, e.lower.MinSize().Height)
	switch {
	case over == nil:
		return 0, max(lower, seen)
	case l.f.dialLast(seen) && over == e.instead: // both are seen
		return max(insteadLeast, seen-lower), lower
	case l.f.dialLast(seen):
		top = max(l.f.dial.Comfortable(), over.MinSize().Height)
		if _, turned := l.f.dial.Turned(); turned { // ring and figure are seen together
			top = min(top, seen)
		}
		return top, max(lower, seen)
	}
	top = l.f.roomy(seen + l.f.list.Size().Height + panelGap)
	if seen >= top+lowerLeast {
		return top, max(lower, seen-top)
	}
	if over == fyne.CanvasObject(l.f.dial) {
		bare := l.f.dial.Bare()
		lower = max(lower, seen-bare)
		if l.f.bare {
			return bare, lower
		}
	}
	return max(seen, over.MinSize().Height), lower // all that is seen is the dial's; the rest is scrolled to
}

// MinSize is the panel's width, and the height of its parts.
func (l *panelParts) MinSize([]fyne.CanvasObject) fyne.Size {
	top, lower := l.heights()
	return fyne.NewSize(panelWidth-1, top+lower)
}

// Layout places the parts. A panel that is shorter than before does not stay scrolled
// beyond its end.
func (l *panelParts) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	e, over := l.f.entries[l.f.front], l.f.top()
	top, lower := l.heights()
	left, y := float32(0), top
	if over != nil {
		left = panelGap
	}
	last := l.f.dialLast(l.f.scroll.Size().Height)
	if last {
		y = 0
	}
	widgets.Put(e.lower, left, y, size.Width-left, lower)
	switch {
	case last:
		widgets.Put(over, 0, lower, size.Width, top)
	case over != nil:
		widgets.Put(over, 0, 0, size.Width, top)
	}
	s := l.f.scroll
	s.Offset.Y = min(s.Offset.Y, max(0, top+lower-s.Size().Height))
}
