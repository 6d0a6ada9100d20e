package escapepanel

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/thinglist"
	"legwright/app/ui/widgets"
)

// shapes is what the sections of hazards, havens, lines and areas have in common: what draws a
// new one, the fields of the selected one, and the list of all.
type shapes struct {
	p      *Panel
	draw   fyne.CanvasObject // what begins a new one
	end    fyne.CanvasObject // the acts of the drawer, in its place while it draws
	kind   plan.Kind
	whole  fyne.CanvasObject
	form   *fyne.Container
	fields *fyne.Container
	name   *widgets.EditField
	list   *thinglist.List
}

// newShapes lays a section out. draw stands above all, and while something is drawn the acts of
// the drawer stand in its place; fields come behind the name.
func newShapes(p *Panel, kind plan.Kind, empty string, draw fyne.CanvasObject, fields ...fyne.CanvasObject) *shapes {
	x := &shapes{p: p, kind: kind, draw: draw, end: newEnd(p), list: thinglist.New(p.n.Session, p.n.Foot, empty), fields: container.NewVBox(fields...)}
	x.name = x.field("name", p.n.Session.Rename)
	acts := container.NewHBox(
		button(p.n, look.IconSearch, "Find", "Show it on the sheet  (Ctrl+F)", func() { p.n.Host.Find(x.id()) }),
		button(p.n, look.IconDelete, "Delete", "Delete it  (Delete)", func() { sheetview.Remove(p.n.Session, p.n.Foot, x.id()) }))
	x.form = container.NewVBox(widgets.NewLabelled("name", p.n.wheeled(x.name)), x.fields, acts, container.NewStack())
	head := container.New(&widgets.Pad{Right: 12, Bottom: 4}, container.NewVBox(container.New(steady{}, draw, x.end), x.form))
	x.whole = container.NewBorder(head, nil, nil, nil, x.list.Body())
	return x
}

// newEnd makes the acts of the drawer.
func newEnd(p *Panel) fyne.CanvasObject {
	end := container.NewHBox(
		button(p.n, "", "Finish", "Finish the drawing  (Return)", func() { p.draw.finish() }),
		button(p.n, "", "Remove last", "Remove the last point  (Backspace)", func() { p.draw.takeBack() }),
		button(p.n, "", "Cancel", "Discard the drawing  (Esc)", func() { p.draw.cancel() }))
	end.Hide()
	return end
}

// showDrawing shows the acts of the drawer in place of what begins a drawing, or that again.
func (x *shapes) showDrawing(on bool) {
	visible(x.end, on)
	visible(x.draw, !on)
}

// steady lays objects over each other in the room that the largest needs, seen or not, so that
// nothing below moves when one takes the place of another.
type steady struct{}

// MinSize is that of the largest.
func (steady) MinSize(objects []fyne.CanvasObject) (size fyne.Size) {
	for _, o := range objects {
		size = size.Max(o.MinSize())
	}
	return size
}

// Layout gives all of them all the room.
func (steady) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Resize(size)
	}
}

func (x *shapes) body() fyne.CanvasObject { return x.whole }

// id is that of the selected thing.
func (x *shapes) id() plan.ID { return x.p.n.Session.Selection().ID }

// field is a field for one text of the selected thing.
func (x *shapes) field(what string, set func(id plan.ID, text string) error) *widgets.EditField {
	return widgets.NewEditField(what, func(text string) bool { return x.p.n.Foot.Try(set(x.id(), text), "Changed.") }, x.p.n.View.Focus)
}

// fillForm shows the fields while a thing of the section's kind is selected, with the
// chosen point among them.
func (x *shapes) fillForm() (plan.ID, bool) {
	sel := x.p.n.Session.Selection()
	on := sel.Kind == x.kind
	if visible(x.form, on); !on {
		x.name.ShowText("", "")
		return "", false
	}
	t, _ := x.p.n.Session.Plan().ThingByID(sel.ID)
	x.name.ShowText(string(sel.ID), t.Name)
	x.name.SetPlaceHolder(x.p.n.Session.Plan().TitleOf(sel.ID))
	points := x.form.Objects[len(x.form.Objects)-1].(*fyne.Container)
	points.Objects = []fyne.CanvasObject{x.p.vertex.body}
	return sel.ID, true
}

// setAll fills the list.
func (x *shapes) setAll(all []thinglist.Thing) {
	x.list.Set(all)
	x.whole.Refresh()
}

// choice is a list that drops down to choose one of a few words for the selected thing, or for
// the one that is drawn next.
type choice[T ~string] struct {
	of   []T
	list *widgets.Select
	id   plan.ID // "" while it is being filled
}

// newChoice returns one that shows the first word; set is called with what was chosen. It is nil
// where the choice is for no thing yet: nothing calls it while there is no ID.
func newChoice[T interface {
	~string
	String() string
}](n *Needs, of []T, set func(id plan.ID, what T) error) *choice[T] {
	c := &choice[T]{of: of}
	var words []string
	for _, x := range of {
		words = append(words, capital(x.String()))
	}
	c.list = widgets.NewSelect(words, func(string) {
		if i := c.list.SelectedIndex(); i >= 0 && c.id != "" {
			n.Foot.Try(set(c.id, of[i]), "Changed.")
		}
	}, n.View.Focus, n.View.Focus)
	c.list.SetSelectedIndex(0)
	return c
}

// show shows what holds for a thing.
func (c *choice[T]) show(id plan.ID, what T) {
	c.id = ""
	for i, x := range c.of {
		if x == what {
			c.list.SetSelectedIndex(i)
		}
	}
	c.id = id
}

// chosen is what holds.
func (c *choice[T]) chosen() T { return c.of[max(c.list.SelectedIndex(), 0)] }

// capital writes words as they stand at the beginning of a line.
func capital(words string) string {
	if words == "" {
		return words
	}
	return strings.ToUpper(words[:1]) + words[1:]
}
