package teachpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// chooser offers the jobs and the window for the group, in as many rows as their words
// need.
type chooser struct {
	body  *fyne.Container
	jobs  []job
	tools []*widgets.Tool
	group *widgets.Tool // opens the window for the group
}

func newChooser(jobs []job, n *Needs, choose func(Job)) *chooser {
	c := &chooser{body: container.New(&rows{}), jobs: jobs}
	for _, j := range jobs {
		t := widgets.NewTextTool("", j.is.title(), j.is.hint(), func() { choose(j.is) })
		t.OnHint = n.Foot.Hint
		c.tools = append(c.tools, t)
		c.body.Add(t)
	}
	c.group = widgets.NewTextTool(look.IconScreen, "Projector", "Open the window for the group, or close it  (Ctrl+Shift+B)", n.Project)
	c.group.OnHint = n.Foot.Hint
	c.body.Add(c.group)
	return c
}

// show marks the chosen job.
func (c *chooser) show(chosen Job) {
	for i, j := range c.jobs {
		c.tools[i].SetOn(j.is == chosen)
	}
}

// rows sets objects one after another, each as wide as it needs, and begins another row
// where one is full.
type rows struct{ width float32 } // the width it had last

// MinSize is as high as the rows at the last width.
func (l *rows) MinSize(objects []fyne.CanvasObject) fyne.Size {
	widest := float32(0)
	for _, o := range objects {
		widest = max(widest, o.MinSize().Width)
	}
	width := l.width
	if width == 0 {
		width = widgets.PanelWidth - 24
	}
	return fyne.NewSize(widest, l.place(objects, width, func(fyne.CanvasObject, float32, float32, fyne.Size) {}))
}

// Layout places the objects.
func (l *rows) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.width = size.Width
	l.place(objects, size.Width, func(o fyne.CanvasObject, x, y float32, s fyne.Size) {
		widgets.Put(o, x, y, s.Width, s.Height)
	})
}

// place calls put for each visible object and returns the height of all rows.
func (l *rows) place(objects []fyne.CanvasObject, width float32, put func(o fyne.CanvasObject, x, y float32, s fyne.Size)) float32 {
	x, y, high := float32(0), float32(0), float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		s := o.MinSize()
		if x > 0 && x+s.Width > width {
			x, y, high = 0, y+high, 0
		}
		put(o, x, y, s)
		x, high = x+s.Width, max(high, s.Height)
	}
	return y + high
}
