package teachpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
)

// Host is what the panel needs of the window.
type Host interface {
	ShowPanel() // brings the Teach panel to the front
	Changed()   // brings the menus up to date
}

// Needs is what the panel is made from.
type Needs struct {
	Session *session.Session
	Foot    *foot.Line
	Ask     *ask.Dialogs
	View    *sheetview.View
	Host    Host
	Outer   func() *container.Scroll // the scroll that the panel stands in; it may return nil
}

// Panel is the Teach panel below the dial. Make it with New.
type Panel struct {
	n      *Needs
	body   fyne.CanvasObject
	choice *chooser
	jobs   []job // those that there are, in the order of their constants
	chosen Job
	front  bool
}

// job is a section with its name.
type job struct {
	is Job
	section
}

// New returns the panel.
func New(needs Needs) *Panel {
	n := &needs
	p := &Panel{n: n}
	p.jobs = []job{
		{Show, newShow(n)},
	}
	p.choice = newChooser(p.jobs, n.Foot.Hint, p.Choose)
	var bodies []fyne.CanvasObject
	for _, j := range p.jobs {
		bodies = append(bodies, j.body())
	}
	head := container.New(&widgets.Pad{Right: 12, Bottom: 4}, p.choice.body)
	p.body = container.NewBorder(head, nil, nil, nil, container.NewStack(bodies...))
	n.View.AddLayer(p.draw)
	p.showChosen()
	return p
}

// Body is what the window shows below the dial.
func (p *Panel) Body() fyne.CanvasObject { return p.body }

// Tool is what the panel makes of the sheet while it is in front.
func (p *Panel) Tool() sheetview.Tool { return p.seen().tool() }

// Show tells the panel that it came to the front, or went.
func (p *Panel) Show(on bool) {
	if p.front == on {
		return
	}
	p.front = on
	p.seen().show(on)
	p.n.View.Redraw()
}

// Has reports whether there is a job.
func (p *Panel) Has(which Job) bool { return p.find(which) != nil }

// Chosen is the job that is seen.
func (p *Panel) Chosen() Job { return p.chosen }

// Choose goes to a job, and does nothing where there is none of that name.
func (p *Panel) Choose(which Job) {
	if !p.Has(which) {
		return
	}
	if was := p.seen(); which != p.chosen {
		if p.front {
			was.show(false)
		}
		p.chosen = which
		p.showChosen()
		if p.front {
			p.seen().show(true)
			p.n.View.SetTool(p.Tool())
		}
	}
	p.n.Host.ShowPanel()
	p.n.Host.Changed()
}

// Key takes a key pressed on the sheet while the panel is in front, and reports whether
// the job that is seen has a use for it.
func (p *Panel) Key(e *fyne.KeyEvent) bool { return p.front && p.seen().key(e) }

// showChosen shows the body of the chosen job in place of the others.
func (p *Panel) showChosen() {
	p.choice.show(p.chosen)
	for _, j := range p.jobs {
		if j.is == p.chosen {
			j.body().Show()
		} else {
			j.body().Hide()
		}
	}
}

// seen is the section that is chosen.
func (p *Panel) seen() section { return p.find(p.chosen) }

// find returns the section of a job, nil where there is none.
func (p *Panel) find(which Job) section {
	for _, j := range p.jobs {
		if j.is == which {
			return j.section
		}
	}
	return nil
}

// draw adds what the job that is seen draws.
func (p *Panel) draw(s *overlay.Scene) {
	if p.front {
		p.seen().draw(s)
	}
}
