package benchtest

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"legwright/app/ui/widgets"
	"legwright/canvas/mapview"
	"legwright/canvas/view"
)

// search calls visit for an object and all below it, seen or hidden, with what stands above
// each, outermost first, until it returns true.
func search(o fyne.CanvasObject, above []fyne.CanvasObject, visit func(o fyne.CanvasObject, above []fyne.CanvasObject) bool) bool {
	if visit(o, above) {
		return true
	}
	above = append(above[:len(above):len(above)], o)
	var below []fyne.CanvasObject
	switch o := o.(type) {
	case *fyne.Container:
		below = o.Objects
	case fyne.Widget:
		below = test.WidgetRenderer(o).Objects()
	}
	return slices.ContainsFunc(below, func(c fyne.CanvasObject) bool { return search(c, above, visit) })
}

// find returns the first object of a type that passes a test, seen or hidden, with what
// stands above it.
func find[T fyne.CanvasObject](b *Bench, is func(T) bool) (found T, above []fyne.CanvasObject) {
	b.t.Helper()
	if !search(b.Content(), nil, func(o fyne.CanvasObject, over []fyne.CanvasObject) bool {
		t, ok := o.(T)
		if ok = ok && is(t); ok {
			found, above = t, over
		}
		return ok
	}) {
		b.t.Fatalf("the window has no such %T", found)
	}
	return found, above
}

// Part is the only object of its type in the window.
func Part[T fyne.CanvasObject](b *Bench) T {
	b.t.Helper()
	found, _ := find(b, func(T) bool { return true })
	return found
}

// Parts are what a person sees of the window: cards over the sheet, and the column of
// panels.
type Parts struct{ b *Bench }

// Card is the card, panel or strip over the sheet with a certain text, seen or hidden.
func (p *Parts) Card(text string) *widgets.Surface {
	p.b.t.Helper()
	_, above := find(p.b, func(o fyne.CanvasObject) bool { return says(o, text) })
	for _, o := range slices.Backward(above) {
		if s, ok := o.(*widgets.Surface); ok {
			return s
		}
	}
	p.b.t.Fatalf("%q stands on no card", text)
	return nil
}

func says(o fyne.CanvasObject, text string) bool {
	t, ok := o.(*widgets.Tool)
	return ok && t.Text() == text
}

// Welcome is the card of the first run, seen or hidden.
func (p *Parts) Welcome() *widgets.Surface { return p.Card("Begin") }

// StartCard offers ways to begin; seen or hidden.
func (p *Parts) StartCard() *widgets.Surface { return p.Card("Open the demo") }

// LookCard changes how the picture is shown; seen or hidden.
func (p *Parts) LookCard() *widgets.Surface { return p.Card("As in the file") }

// Column is the column at the right of the map.
type Column struct {
	Body   fyne.CanvasObject
	Scroll *container.Scroll // what the panel in front scrolls in
	List   *fyne.Container   // of the panels
	Head   fyne.CanvasObject // of the panel in front, which does not scroll; nil for none
}

// entry is the entry of the list of panels with a title, with what stands above it.
func (p *Parts) entry(title string) (*widgets.Tool, []fyne.CanvasObject) {
	p.b.t.Helper()
	return find(p.b, func(t *widgets.Tool) bool { return t.Text() == title && strings.Contains(t.Hint(), "  (Ctrl+") })
}

// Column returns the parts of the column of panels.
func (p *Parts) Column() Column {
	p.b.t.Helper()
	_, above := p.entry("Sheet")
	n := len(above)
	c := Column{List: above[n-1].(*fyne.Container)}
	for _, o := range above[n-2].(*fyne.Container).Objects {
		if s, ok := o.(*container.Scroll); ok {
			c.Scroll = s
		} else if o.Visible() && o != fyne.CanvasObject(c.List) {
			c.Head = o
		}
	}
	c.Body = above[n-3]
	return c
}

// GoTo brings a panel to the front by its title.
func (b *Bench) GoTo(title string) {
	b.t.Helper()
	b.Choose("Go to the " + title + " panel")
}

// Titles are the titles of the panels, in the order of their list.
func (p *Parts) Titles() (titles []string) {
	for _, o := range p.Column().List.Objects {
		titles = append(titles, o.(*widgets.Tool).Text())
	}
	return titles
}

// Front is the title of the panel in front.
func (p *Parts) Front() string {
	for _, o := range p.Column().List.Objects {
		if t := o.(*widgets.Tool); t.On() {
			return t.Text()
		}
	}
	return ""
}

// Says is what the panel in front says in sentences, the first of which says what to
// do next.
func (p *Parts) Says() []string {
	var out []string
	seen(p.Column().Scroll, func(o fyne.CanvasObject) {
		if s, ok := o.(*widgets.Sentence); ok {
			out = append(out, s.Text())
		}
	})
	return out
}

// Hint is what the panel in front says is to be done next.
func (p *Parts) Hint() string {
	if said := p.Says(); len(said) > 0 {
		return said[0]
	}
	return ""
}

// seen calls f with each object of a tree that can be seen.
func seen(o fyne.CanvasObject, f func(fyne.CanvasObject)) {
	if !o.Visible() {
		return
	}
	f(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			seen(c, f)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(o).Objects() {
			seen(c, f)
		}
	}
}

// Faults are the sentences of the panel in front in the colour of a stop.
func (p *Parts) Faults() []string {
	var out []string
	seen(p.Column().Scroll, func(o fyne.CanvasObject) {
		if s, ok := o.(*widgets.Sentence); ok && s.Tone() == widgets.Fault {
			out = append(out, s.Text())
		}
	})
	return out
}

// WholeSheet is the card that shows the whole sheet small, and the picture on it.
func (p *Parts) WholeSheet() (*widgets.Surface, *mapview.Whole) {
	p.b.t.Helper()
	whole, above := find(p.b, func(*mapview.Whole) bool { return true })
	return above[len(above)-1].(*widgets.Surface), whole
}

// LookWords are the figures beside the sliders for contrast and fade.
func (p *Parts) LookWords() []*widgets.Quiet {
	var out []*widgets.Quiet
	seen(p.LookCard(), func(o fyne.CanvasObject) {
		if q, ok := o.(*widgets.Quiet); ok {
			out = append(out, q)
		}
	})
	return out
}

// lowers are the parts of the panel in front but the dial, in their order.
func (p *Parts) lowers() (out []fyne.CanvasObject) {
	for _, o := range p.Column().Scroll.Content.(*fyne.Container).Objects {
		if o.Visible() && o != fyne.CanvasObject(p.b.Dial) {
			out = append(out, o)
		}
	}
	return out
}

// Lower is what the panel in front holds besides the dial.
func (p *Parts) Lower() fyne.CanvasObject { return p.lowers()[0] }

// Instead is what stands in the dial's place, nil for nothing.
func (p *Parts) Instead() fyne.CanvasObject {
	if parts := p.lowers(); len(parts) > 1 {
		return parts[1]
	}
	return nil
}

// Beside is what can stand between the sheet and the panels.
func (p *Parts) Beside() fyne.CanvasObject {
	parts := p.b.Content().(*fyne.Container).Objects
	return parts[slices.Index(parts, fyne.CanvasObject(p.b.Sheet()))+1]
}

// InView reports whether a point of the picture is seen.
func (m *Mouse) InView(col, row float64) bool {
	w, h := m.b.Sheet().View().Viewport()
	at := m.b.Sheet().View().ToScreen(view.PicPt{X: col, Y: row})
	return at.X >= 0 && at.Y >= 0 && at.X <= float64(w) && at.Y <= float64(h)
}
