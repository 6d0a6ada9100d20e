package ui

import (
	"path/filepath"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/session"
	"legwright/app/ui/files"
	"legwright/app/ui/look"
	"legwright/app/ui/opening"
	"legwright/app/ui/widgets"
)

// DemoArgument is the argument that opens the demo, as in the headless commands.
const DemoArgument = files.DemoArgument

// early is what the picture that will be shown first is called on the command line.
func early(what files.Beginning) []string {
	if what.Demo {
		return []string{DemoArgument}
	}
	return what.Files
}

// Begin opens what the start opens, and first offers what a crash left behind.
func (b *Bench) Begin(what files.Beginning) {
	first := func() {
		b.files.Opener.Begin(what, b.frame.start.tellGone)
		if what.Demo && !b.program.set.welcomed() {
			b.frame.welcome.show()
		}
	}
	restored := func() { b.files.Opener.AskBegin(what) }
	if !b.files.Recovery.Offer(restored, first) {
		first()
	}
	b.frame.start.waits = false
	b.frame.start.refresh()
}

// startCard lies over an empty sheet and offers the ways to begin.
type startCard struct {
	around around
	s      *session.Session
	desk   *opening.Desk
	files  *files.Room
	set    *files.Settings
	body   *widgets.Surface
	words  *widget.Label
	recent *startList
	demo   *widgets.Tool
	waits  bool   // for what the start opens
	gone   string // the plan that was open last and is not there any more
}

// mostOffered is how many recent files the card offers. The menu has more.
const mostOffered = 5

// nameOnCard is how many letters of a file's name the card has room for. The hint
// has the whole path.
const nameOnCard = 50

// startList are the recent files on the card.
type startList struct {
	head *widgets.Quiet
	tool [mostOffered]*widgets.Tool
	path [mostOffered]string
}

func newStartCard(b *Bench) *startCard {
	c := &startCard{around: windowAround{b}, s: b.s, desk: b.desk, files: b.files, set: b.files.Settings, words: widgets.NewWrapped(""), recent: &startList{head: widgets.NewQuiet("Recent")}}
	open := widgets.NewTextTool(look.IconSheet, "Open…", "Open a picture of a map, a plan or a GPX file  (Ctrl+O)", b.files.Opener.Ask)
	c.demo = widgets.NewTextTool(look.IconRoute, "Open the demo", "Open the demo plan on invented ground", b.files.Opener.Demo)
	list := container.NewVBox(widgets.NewHeading("Begin"), c.words, container.NewHBox(open, c.demo), c.recent.head)
	tools := []*widgets.Tool{open, c.demo}
	for i := range c.recent.tool {
		t := widgets.NewEntry("", "", "", func() { b.files.Opener.Open(c.recent.path[i]) })
		c.recent.tool[i] = t
		tools = append(tools, t)
		list.Add(t)
	}
	for _, t := range tools {
		t.OnHint = b.foot.Hint
	}
	c.body = widgets.NewStrip(container.New(&widgets.Pad{Left: 14, Top: 8, Right: 14, Bottom: 12}, list))
	c.body.Hide()
	return c
}

// tellGone says that the plan that was open last is not there any more.
func (c *startCard) tellGone(path string) {
	c.gone = path
	c.refresh()
}

// refresh shows the card while there is nothing on the bench.
func (c *startCard) refresh() {
	_, sheet := c.s.Sheet()
	_, opens := c.desk.Job()
	on := !c.waits && !sheet && !opens && !c.files.Opener.Reading()
	for range c.s.Plan().Things {
		on = false
		break
	}
	if !on {
		c.gone = ""
	}
	if on {
		c.fill()
	}
	if on != c.body.Visible() {
		visible(c.body, on)
		c.around.arrange()
	}
}

func (c *startCard) fill() {
	words := "Drop a picture of a map, a plan or a GPX file on this window, or open one."
	if c.gone != "" {
		words = "The plan you had open last is no longer there: " + c.gone + ".\n" + words
	}
	if c.words.Text != words {
		c.words.SetText(words)
	}
	list := c.set.Recent()
	visible(c.recent.head, len(list) > 0)
	for i, t := range c.recent.tool {
		visible(t, i < len(list))
		if i < len(list) && list[i] != c.recent.path[i] {
			c.recent.path[i] = list[i]
			t.SetText(widgets.CutMiddle(filepath.Base(list[i]), nameOnCard))
			t.SetHint("Open " + list[i])
		}
	}
}
