package papers

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/lettering"
	"legwright/app/ui/ask"
	"legwright/app/ui/widgets"
	"legwright/mapio/card"
	"legwright/mapio/paper"
)

// choices are the controls that say which paper is wanted.
type choices struct {
	body    fyne.CanvasObject
	form    *widgets.Select
	size    *widgets.Select
	turned  *widgets.Chooser
	up      *widgets.Select // leg cards on a sheet of paper
	upRow   fyne.CanvasObject
	scale   *widgets.Select
	mapRows *fyne.Container
	noMap   *widgets.Check
	profile *widgets.Check // leave out
	people  fyne.CanvasObject
	off     []escapeBox
}

// escapeBox is the box that leaves an escape out.
type escapeBox struct {
	name string // "E03-1"
	box  *widgets.Check
}

// perSheet are how many leg cards there can be on a sheet of paper.
var perSheet = []int{1, 4, 8}

// scales are offered beside the sheet's own: those of usual walkers' maps (common practice, no
// source).
var scales = []int{10_000, 15_000, 20_000, 24_000, 25_000, 30_000, 40_000, 50_000, 63_360, 100_000}

// longestEscape is how many letters of an escape stand in its box.
const longestEscape = 26

// offered is an escape that can be left out.
type offered struct{ name, words string }

func newChoices(d *ask.Dialogs, off []offered, askPeople, changed func()) *choices {
	c := &choices{}
	tell := func(string) { c.arrange(); changed() }
	tick := func(bool) { c.arrange(); changed() }
	c.form, c.size = d.Select(formTitles(), nil), d.Select(sizeNames(), nil)
	c.up, c.scale = d.Select(upWords(), nil), d.Select(scaleWords(), nil)
	c.turned = widgets.NewChooser([]string{"Portrait", "Landscape"}, nil)
	c.noMap, c.profile = d.Check("the map", nil), d.Check("the profile", nil)
	c.upRow = widgets.NewLabelled("Cards per page", c.up)
	c.people = widgets.NewTextTool("", "Name the party…", "Name the party and whom to ring: printed only on the base sheet", askPeople)
	c.mapRows = container.NewVBox(widgets.NewLabelled("Map scale", c.scale))
	leave := container.NewVBox(widgets.NewHeading("Leave out"), c.noMap, c.profile)
	for _, o := range off {
		box := d.Check(lettering.Shown(widgets.CutMiddle(o.words, longestEscape)), nil)
		c.off = append(c.off, escapeBox{o.name, box})
		leave.Add(box)
	}
	c.up.SetSelectedIndex(1)
	c.scale.SetSelectedIndex(0)
	c.body = container.NewVScroll(container.New(&widgets.Pad{Left: 2, Top: 2, Right: 12, Bottom: 2}, container.NewVBox(
		widgets.NewLabelled("Paper", c.form), widgets.NewLabelled("Size, mm", c.size), c.turned, c.people, c.upRow, c.mapRows, leave)))
	for _, s := range []*widgets.Select{c.form, c.size, c.up, c.scale} {
		s.OnChanged = tell
	}
	for _, b := range append([]escapeBox{{box: c.noMap}, {box: c.profile}}, c.off...) {
		b.box.OnChanged = tick
	}
	c.turned.OnChosen = func(int) { changed() }
	return c
}

// set chooses a form and a paper; a name that is not known leaves the first one chosen.
func (c *choices) set(form, size string, landscape bool) {
	f, s := 0, 0
	for i, x := range card.Forms() {
		if string(x) == form {
			f = i
		}
	}
	for i, x := range paper.Sizes() {
		if x.Name == size {
			s = i
		}
	}
	c.form.SetSelectedIndex(f)
	c.size.SetSelectedIndex(s)
	c.turned.SetChosen(map[bool]int{true: 1}[landscape])
	c.arrange()
}

// arrange shows what the form knows.
func (c *choices) arrange() {
	o := c.order()
	mapped := o.Form.HasMap(o.Size)
	show(c.upRow, cut(o))
	show(c.people, o.Form == card.BaseForm)
	show(c.mapRows, mapped && !o.NoMap)
	show(c.noMap, mapped)
	show(c.profile, o.Form == card.HillForm && !card.Small(o.Size))
}

// cut reports whether leg cards are cut from a larger paper.
func cut(o card.Order) bool { return o.Form == card.LegsForm && !card.Small(o.Size) }

func show(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// order is what is chosen.
func (c *choices) order() card.Order {
	o := card.Order{
		Form: card.Forms()[max(c.form.SelectedIndex(), 0)], Size: paper.Sizes()[max(c.size.SelectedIndex(), 0)],
		NoMap: c.noMap.Checked, NoProfile: c.profile.Checked,
	}
	if c.turned.Chosen() == 1 {
		o.Size = o.Size.Landscape()
	}
	if cut(o) {
		o.Up = perSheet[max(c.up.SelectedIndex(), 0)]
	}
	if i := c.scale.SelectedIndex(); i > 0 && o.HasMap() {
		o.Scale = scales[i-1]
	}
	return o
}

// omit are the names of the escapes that are left out.
func (c *choices) omit() (names []string) {
	for _, o := range c.off {
		if o.box.Checked {
			names = append(names, o.name)
		}
	}
	return names
}

// leaveOut leaves escapes out.
func (c *choices) leaveOut(names []string) {
	all := " " + strings.Join(names, " ") + " "
	for _, o := range c.off {
		if strings.Contains(all, " "+o.name+" ") {
			o.box.SetChecked(true)
		}
	}
}

func formTitles() (list []string) {
	for _, f := range card.Forms() {
		list = append(list, f.Title())
	}
	return list
}

func sizeNames() (list []string) {
	for _, s := range paper.Sizes() {
		list = append(list, fmt.Sprintf("%s, %g × %g", s.Name, s.Width, s.Height))
	}
	return list
}

func upWords() (list []string) {
	for _, n := range perSheet {
		list = append(list, fmt.Sprint(n))
	}
	return list
}

func scaleWords() []string {
	list := []string{"as on the sheet"}
	for _, s := range scales {
		list = append(list, fmt.Sprintf("1:%d,%03d", s/1000, s%1000))
	}
	return list
}
