package teachpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/teach"
	"legwright/app/ui/ask"
	"legwright/app/ui/dial"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
)

// Host is what the panel needs of the window.
type Host interface {
	ShowPanel()               // brings the Teach panel to the front
	Changed()                 // brings the menus up to date
	Find(id plan.ID)          // brings a thing of the plan into sight
	Reveal(fyne.CanvasObject) // scrolls until the dial, or a part of the panel, is seen
}

// Needs is what the panel is made from.
type Needs struct {
	Session *session.Session
	Lesson  *teach.Lesson
	Foot    *foot.Line
	Ask     *ask.Dialogs
	View    *sheetview.View
	Dial    *dial.Dial
	Host    Host
	Project func()                   // opens the window for the group, or closes it
	Outer   func() *container.Scroll // the scroll that the panel stands in; it may return nil

	wheel func(*fyne.ScrollEvent) // over a field scrolls the job that is seen
	urged string                  // what the foot line says to do, until it is done
}

// Panel is the Teach panel below the dial. Make it with New.
type Panel struct {
	n      *Needs
	head   fyne.CanvasObject
	body   fyne.CanvasObject
	choice *chooser
	bar    *bar
	stage  *stage
	acts   *Acts
	jobs   []job // those that there are, in the order of their constants
	chosen Job
}

// job is a section with its name.
type job struct {
	is Job
	section
}

// New returns the panel.
func New(needs Needs) *Panel {
	n := &needs
	p := &Panel{n: n, stage: newStage(n)}
	p.acts = &Acts{p}
	n.wheel = p.scrolled
	p.bar = newBar(n, p.stage, p.Rune)
	p.jobs = []job{
		{Show, newShow(n, p.stage)},
		{Guess, newGuess(n, p.stage)},
		{Identify, newIdentify(n, p.stage)},
		{TwoPeople, newTwo(n, p.stage)},
		{Compass, newCompass(n, p.stage, p.Rune)},
	}
	p.choice = newChooser(p.jobs, n, p.Choose)
	var bodies []fyne.CanvasObject
	for _, j := range p.jobs {
		bodies = append(bodies, j.body())
	}
	p.head = container.New(&widgets.Pad{Right: 12, Bottom: 4}, p.choice.body)
	bar := container.New(&widgets.Pad{Right: 12, Bottom: 4}, container.NewVBox(p.bar.body))
	p.body = container.NewBorder(bar, nil, nil, nil, container.NewStack(bodies...))
	p.stage.top = p.body
	p.stage.redraw = n.View.AddLayer(p.draw)
	n.Session.OnChange(p.planChanged)
	n.Lesson.OnChange(p.lessonChanged)
	p.showChosen()
	return p
}

// Acts are what the menu does.
func (p *Panel) Acts() *Acts { return p.acts }

// Head are the jobs to choose from. The window shows them above everything, where they do
// not move when another job is chosen.
func (p *Panel) Head() fyne.CanvasObject { return p.head }

// Body is what the window shows below the dial.
func (p *Panel) Body() fyne.CanvasObject { return p.body }

// Beside is what stands beside the sheet while it is visible: the compass that is stepped
// through.
func (p *Panel) Beside() fyne.CanvasObject { return p.compass().beside }

// Words are the sentences about the compass. They stand in the dial's place while they
// are visible.
func (p *Panel) Words() fyne.CanvasObject { return p.compass().said.body }

// Bring brings the line of the lesson into sight, should the sheet have become smaller.
func (p *Panel) Bring() {
	if line, ok := p.n.Lesson.Line(); ok && p.stage.front {
		p.stage.find(line)
		p.stage.bringLed()
	}
}

// scrolled scrolls the job that is seen, or what the panel stands in.
func (p *Panel) scrolled(e *fyne.ScrollEvent) {
	if area, ok := p.seen().body().(fyne.Scrollable); ok {
		area.Scrolled(e)
	}
}

func (p *Panel) compass() *compass { return p.find(Compass).(*compass) }

// Tool is what the panel makes of the sheet while it is in front.
func (p *Panel) Tool() sheetview.Tool { return p.toolOf(p.seen()) }

// Show tells the panel that it came to the front, or went.
func (p *Panel) Show(on bool) {
	if p.stage.front == on {
		return
	}
	p.stage.show(on)
	p.bar.fill()
	p.seen().show(on)
	p.n.View.Redraw()
}

// Conceal hides every figure that the panel shows, or shows them again.
func (p *Panel) Conceal(on bool) {
	if p.stage.concealed == on {
		return
	}
	p.stage.concealed = on
	p.refill()
}

// Projected tells the panel whether the window for the group is open.
func (p *Panel) Projected(on bool) { p.choice.group.SetOn(on) }

// PictureChanged says that the sheet shows another picture, or none: what the panel asks
// for depends on it.
func (p *Panel) PictureChanged() { p.refill() }

// Has reports whether there is a job.
func (p *Panel) Has(which Job) bool { return p.find(which) != nil }

// Chosen is the job that is seen.
func (p *Panel) Chosen() Job { return p.chosen }

// Turns reports whether the job that is seen has the dial turned all the time.
func (p *Panel) Turns() bool { return p.chosen == Identify || p.chosen == TwoPeople }

// Choose goes to a job, and does nothing where there is none of that name.
func (p *Panel) Choose(which Job) {
	if !p.Has(which) {
		return
	}
	was, other := p.seen(), which != p.chosen
	if other {
		if p.stage.front {
			was.show(false)
		}
		p.chosen = which
		p.showChosen()
		if p.stage.front {
			p.seen().show(true)
			p.changeTool(was)
		}
		p.n.Foot.Say("") // what was said of the other job is over
	}
	p.n.Host.ShowPanel()
	p.n.Host.Changed()
	if outer := p.n.Outer(); other && outer != nil {
		outer.ScrollToTop() // in a low window the last job may be scrolled beyond all of this one
	}
}

// showChosen shows the body of the chosen job in place of the others, and the choice of
// lines above it if the job is about lines.
func (p *Panel) showChosen() {
	p.choice.show(p.chosen)
	visible(p.bar.body, p.makesLines(p.seen().tool()))
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

// planChanged follows a change of the session.
func (p *Panel) planChanged(c session.Change) {
	if c.Passing() {
		return
	}
	p.stage.planChanged(c)
	p.refill()
}

// lessonChanged follows a change of the lesson.
func (p *Panel) lessonChanged() {
	p.n.obeyed()
	p.stage.lead()
	p.stage.redraw()
	p.refill()
}

// refill brings what is seen up to date.
func (p *Panel) refill() {
	if !p.stage.front {
		return
	}
	p.bar.fill()
	if s, ok := p.seen().(interface{ fill() }); ok {
		s.fill()
	}
}

// draw adds what the job that is seen draws. Under the watermark of a training GMA the
// figures along the plan's lines are those of the lesson too, as on the dial.
func (p *Panel) draw(s *overlay.Scene) {
	if !p.stage.front {
		return
	}
	p.seen().draw(s)
	if s.Lesson.Watermark != "" {
		n := p.n.Session
		s.Relabel(n.Rows(), n.Reader().Sights(), n.Plan().Party.Compass, p.stage.trained)
	}
}
